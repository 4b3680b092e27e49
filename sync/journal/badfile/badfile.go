// Package badfile is a file that misbehaves on demand, for tests of what is kept in files: it tears, lies
// about counts, loses silently, refuses, and dies between any two calls.
package badfile

import (
	"bytes"
	"errors"
	"io"
	"slices"
)

// Flaw is one way in which a call goes wrong.
type Flaw int

// The flaws. Those of a write take effect at WriteAt, those of a flush at Sync.
const (
	None       Flaw = iota
	ShortCount      // writes half and says half, without an error
	Refused         // writes nothing and says 0, without an error
	LyingCount      // writes half and says all
	LargeCount      // writes half and says more than all
	SmallCount      // writes all and says half
	WriteError      // writes half and returns an error
	Flipped         // writes all, one byte of it wrong
	SilentLoss      // Sync drops what was written and says nothing
	SyncError       // Sync returns an error, the bytes stay unflushed
	CutError        // Truncate does nothing and returns an error
	SizeError       // Size returns an error
	ReadError       // ReadAt returns an error
)

// Flaws are all flaws, for tests that go through them.
var Flaws = []Flaw{ShortCount, Refused, LyingCount, LargeCount, SmallCount, WriteError, Flipped, SilentLoss, SyncError, CutError, SizeError, ReadError}

// ErrBroken is what a flawed call returns, ErrDead every call after the power went.
var (
	ErrBroken = errors.New("badfile: broken")
	ErrDead   = errors.New("badfile: no power")
)

// Power feeds several files. When Left calls that change something were made, the next one
// happens in the moment of the crash, and all later calls fail. Nil means that power never goes.
type Power struct {
	Left int
	Used int
}

// spend uses up one call; dying is true for the call that the crash interrupts.
func (p *Power) spend() (dying, dead bool) {
	if p == nil {
		return false, false
	}
	p.Used++
	p.Left--
	return p.Left == -1, p.Left < -1
}

// File is a file with what was flushed and what was not. The zero File is empty and works well.
type File struct {
	Power   *Power
	flushed []byte
	now     []byte
	pending []change
	flaws   []Flaw // each takes effect at the next call that it concerns
	lasting bool
}

// change is a write, or a cut when data is nil.
type change struct {
	offset int64
	data   []byte
}

// New is a file that holds data, flushed.
func New(data []byte) *File { return &File{flushed: bytes.Clone(data), now: bytes.Clone(data)} }

// Break makes the next call that a flaw concerns go wrong, once for each flaw; none of them heals the file.
func (f *File) Break(flaws ...Flaw) { f.flaws, f.lasting = slices.Clone(flaws), false }

// BreakFor makes every call that a flaw concerns go wrong, until Break().
func (f *File) BreakFor(flaws ...Flaw) { f.flaws, f.lasting = slices.Clone(flaws), true }

func (f *File) hit(flaws ...Flaw) Flaw {
	for i, flaw := range f.flaws {
		if !slices.Contains(flaws, flaw) {
			continue
		}
		if !f.lasting {
			f.flaws = slices.Delete(f.flaws, i, i+1)
		}
		return flaw
	}
	return None
}

// Bytes is what the file holds now, flushed or not.
func (f *File) Bytes() []byte { return bytes.Clone(f.now) }

// Pending is the number of bytes and cuts that were not flushed: the range of Crash's keep.
func (f *File) Pending() int {
	n := 0
	for _, c := range f.pending {
		n += max(len(c.data), 1)
	}
	return n
}

// Crash is the file that a restart finds: what was flushed and the first keep bytes of the rest.
func (f *File) Crash(keep int) *File {
	after := New(f.flushed)
	for _, c := range f.pending {
		if keep <= 0 {
			break
		}
		if c.data == nil {
			after.apply(c)
			keep--
			continue
		}
		n := min(keep, len(c.data))
		after.apply(change{c.offset, c.data[:n]})
		keep -= n
	}
	after.flushed, after.pending = bytes.Clone(after.now), nil
	return after
}

func (f *File) apply(c change) {
	f.pending = append(f.pending, c)
	f.now = c.on(f.now)
}

// on gives data with the change made.
func (c change) on(data []byte) []byte {
	if grow := c.offset + int64(len(c.data)) - int64(len(data)); grow > 0 {
		data = append(data, make([]byte, grow)...)
	}
	if c.data == nil {
		return data[:c.offset]
	}
	copy(data[c.offset:], c.data)
	return data
}

// WriteAt implements io.WriterAt, with the flaws of a write.
func (f *File) WriteAt(p []byte, off int64) (int, error) {
	dying, dead := f.Power.spend()
	if dead {
		return 0, ErrDead
	}
	data := bytes.Clone(p)
	if dying {
		f.apply(change{off, data})
		return 0, ErrDead
	}
	half := len(p) / 2
	switch f.hit(ShortCount, Refused, LyingCount, LargeCount, SmallCount, WriteError, Flipped) {
	case ShortCount:
		f.apply(change{off, data[:half]})
		return half, nil
	case Refused:
		return 0, nil
	case LyingCount:
		f.apply(change{off, data[:half]})
		return len(p), nil
	case LargeCount:
		f.apply(change{off, data[:half]})
		return len(p) + 1000, nil
	case SmallCount:
		f.apply(change{off, data})
		return half, nil
	case WriteError:
		f.apply(change{off, data[:half]})
		return half, ErrBroken
	case Flipped:
		data[half] ^= 0x20
	}
	f.apply(change{off, data})
	return len(p), nil
}

// ReadAt implements io.ReaderAt.
func (f *File) ReadAt(p []byte, off int64) (int, error) {
	if f.hit(ReadError) != None {
		return 0, ErrBroken
	}
	return bytes.NewReader(f.now).ReadAt(p, off)
}

// Truncate cuts or extends the file; it is not flushed by itself.
func (f *File) Truncate(size int64) error {
	dying, dead := f.Power.spend()
	if dead {
		return ErrDead
	}
	if f.hit(CutError) != None {
		return ErrBroken
	}
	f.apply(change{offset: size})
	if dying {
		return ErrDead
	}
	return nil
}

// Sync flushes.
func (f *File) Sync() error {
	dying, dead := f.Power.spend()
	if dying || dead {
		return ErrDead
	}
	switch f.hit(SilentLoss, SyncError) {
	case SilentLoss:
		f.now, f.pending = bytes.Clone(f.flushed), nil
		return nil
	case SyncError:
		return ErrBroken
	}
	for _, c := range f.pending {
		f.flushed = c.on(f.flushed)
	}
	f.pending = nil
	return nil
}

// Size is the number of bytes that the file holds now.
func (f *File) Size() (int64, error) {
	if f.hit(SizeError) != None {
		return 0, ErrBroken
	}
	return int64(len(f.now)), nil
}

var _ interface {
	io.ReaderAt
	io.WriterAt
} = (*File)(nil)
