package journal

import (
	"bytes"
	"errors"
	"io"
)

// tape is a File that is only appended to, each write checked. After a failed write the file is
// cut back to where it was; if that fails too, it is tried again before the next write.
type tape struct {
	file  File
	end   int64
	dirty bool        // something may stand beyond end
	last  int64       // the last thing written begins here
	sum   uint32      // checksum of what stands from last to end
	kept  []byte      // all of it as it was read at the start, until whole gives it away
	room  func() bool // makes room on a full device, false when it cannot; may be nil
}

// lastAtOpen is how much of a file's end is remembered when it is opened.
const lastAtOpen = 4 << 10

// append writes buf at the end, flushes, and reads it back. On error the tape is as before. Where the device is
// full and room can be made, it is tried again.
func (t *tape) append(buf []byte) error {
	err := t.attempt(buf)
	for CodeOf(err) == CodeStorageFull && t.room != nil && t.room() {
		err = t.attempt(buf)
	}
	return err
}

func (t *tape) attempt(buf []byte) error {
	t.kept = nil
	if err := t.settle(); err != nil {
		return err
	}
	if err := t.write(buf); err != nil {
		t.dirty = true
		_ = t.restore() // a failure leaves dirty set: tried again before the next write
		return err
	}
	t.last, t.sum = t.end, checksum(buf)
	t.end += int64(len(buf))
	return nil
}

// remember notes what stands at the end of data, the file's bytes when it was opened, for check. What was
// written since is remembered already.
func (t *tape) remember(data []byte) {
	if t.last > 0 || t.sum != 0 || int64(len(data)) < t.end {
		return
	}
	t.last = max(t.end-lastAtOpen, 0)
	t.sum = checksum(data[t.last:t.end])
}

// check says whether the file still answers, is as long as it was left, and ends in what was last written.
func (t *tape) check() error {
	if err := t.settle(); err != nil {
		return &Fault{Code: CodeReadFailed, Cause: err}
	}
	size, err := t.file.Size()
	if err != nil {
		return &Fault{Code: CodeReadFailed, Cause: err}
	}
	if size != t.end {
		return fault(CodeReadFailed, "the file has another size than it was left with")
	}
	back, err := t.read(t.last, t.end-t.last)
	if err != nil {
		return &Fault{Code: CodeReadFailed, Cause: err}
	}
	if checksum(back) != t.sum {
		return fault(CodeReadFailed, "the file does not end in what was last written")
	}
	return nil
}

func (t *tape) write(buf []byte) error {
	n, err := t.file.WriteAt(buf, t.end)
	if err != nil {
		return wrap(err, CodeWriteFailed)
	}
	if n != len(buf) {
		return fault(CodeStorageFull, "not all bytes were written")
	}
	if err := t.file.Sync(); err != nil {
		return wrap(err, CodeWriteFailed)
	}
	size, err := t.file.Size()
	if err != nil {
		return wrap(err, CodeWriteFailed)
	}
	if size < t.end+int64(len(buf)) {
		return fault(CodeStorageFull, "the file is shorter than what was written")
	}
	return t.verify(buf, size)
}

// blank overwrites n bytes from offset with zeros, flushes, and reads them back. On error some of them may be left.
func (t *tape) blank(offset, n int64) error {
	_, err := t.file.WriteAt(make([]byte, n), offset)
	if err == nil {
		err = t.file.Sync()
	}
	back, bad := t.read(offset, n)
	if err != nil || bad != nil || !isBlank(back) {
		return &Fault{Code: CodeWriteFailed, Cause: err}
	}
	if t.sum != 0 && offset+n > t.last { // check compares with what stands there now
		back, err = t.read(t.last, t.end-t.last)
		t.sum = checksum(back)
	}
	return err
}

// isBlank says whether bytes are all zeros.
func isBlank(data []byte) bool {
	for _, b := range data {
		if b != 0 {
			return false
		}
	}
	return true
}

func (t *tape) verify(buf []byte, size int64) error {
	if size != t.end+int64(len(buf)) {
		return fault(CodeWriteFailed, "the file is longer than what was written")
	}
	back := make([]byte, len(buf))
	if n, err := t.file.ReadAt(back, t.end); n != len(back) {
		return &Fault{Code: CodeWriteFailed, Cause: err}
	}
	if !bytes.Equal(back, buf) {
		return fault(CodeWriteFailed, "other bytes came back than were written")
	}
	return nil
}

// settle takes away what a failed write may have left behind the end.
func (t *tape) settle() error {
	if t.dirty {
		return t.restore()
	}
	return nil
}

// restore cuts the file to end and flushes.
func (t *tape) restore() error {
	if err := t.file.Truncate(t.end); err != nil {
		return wrap(err, CodeWriteFailed)
	}
	if err := t.file.Sync(); err != nil {
		return wrap(err, CodeWriteFailed)
	}
	if size, err := t.file.Size(); err != nil || size != t.end {
		return &Fault{Code: CodeWriteFailed, Cause: err}
	}
	t.dirty = false
	return nil
}

// cut makes size the end of the tape.
//
//go:noinline
func (t *tape) cut(size int64) error {
	t.end, t.dirty = size, true
	if t.last >= size {
		t.last, t.sum = size, 0
	}
	return t.restore()
}

// all reads the whole file and puts the end behind it.
func (t *tape) all() ([]byte, error) {
	size, err := t.file.Size()
	if err != nil {
		return nil, wrap(err, CodeReadFailed)
	}
	t.end = size
	return t.read(0, size)
}

// whole gives all bytes: those that were read at the start the first time, so that a replay reads nothing twice.
func (t *tape) whole() ([]byte, error) {
	kept := t.kept
	t.kept = nil
	if int64(len(kept)) == t.end {
		return kept, nil
	}
	return t.read(0, t.end)
}

// read gives n bytes from offset.
func (t *tape) read(offset, n int64) ([]byte, error) {
	buf := make([]byte, n)
	if n == 0 {
		return buf, nil
	}
	got, err := t.file.ReadAt(buf, offset)
	if int64(got) != n {
		if err == nil || errors.Is(err, io.EOF) {
			err = io.ErrUnexpectedEOF
		}
		return nil, wrap(err, CodeReadFailed)
	}
	return buf, nil
}

// wrap gives err a code unless it brings its own.
//
//go:noinline
func wrap(err error, code string) error {
	var f *Fault
	if errors.As(err, &f) {
		return err
	}
	return &Fault{Code: code, Cause: err}
}
