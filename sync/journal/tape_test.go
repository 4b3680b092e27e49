package journal

import (
	"testing"

	"jointwalk/sync/journal/badfile"
)

// A write that goes wrong in any way leaves the file as it was, and the next one works.
func TestTapeUndoesEveryFlaw(t *testing.T) {
	for _, flaw := range badfile.Flaws {
		if flaw == badfile.CutError {
			continue // concerns no call of a write that succeeds
		}
		f := badfile.New([]byte("before"))
		tp := &tape{file: f, end: 6}
		f.Break(flaw)
		err := tp.append([]byte("lost"))
		if CodeOf(err) == "" || tp.end != 6 || tp.dirty || string(f.Crash(0).Bytes()) != "before" || string(f.Bytes()) != "before" {
			t.Errorf("flaw %d: %v, end %d, %q", flaw, err, tp.end, f.Bytes())
		}
		if err := tp.append([]byte("kept")); err != nil || string(f.Crash(0).Bytes()) != "beforekept" {
			t.Errorf("flaw %d: the next write: %v, %q", flaw, err, f.Bytes())
		}
	}
}

func TestTapeSaysStorageFull(t *testing.T) {
	for _, flaw := range []badfile.Flaw{badfile.ShortCount, badfile.Refused, badfile.LyingCount, badfile.LargeCount, badfile.SmallCount, badfile.SilentLoss} {
		f := badfile.New(nil)
		f.Break(flaw)
		if err := (&tape{file: f}).append([]byte("line")); CodeOf(err) != CodeStorageFull {
			t.Errorf("flaw %d: %v", flaw, err)
		}
	}
}

func TestTapeKeepsTheFilesOwnCode(t *testing.T) {
	tp := &tape{file: coded{badfile.New(nil)}}
	if err := tp.append([]byte("x")); CodeOf(err) != "handle-lost" {
		t.Error(err)
	}
}

type coded struct{ *badfile.File }

func (coded) Sync() error { return &Fault{Code: "handle-lost"} }

// When the cut after a failed write fails too, nothing is written before it has worked.
func TestTapeCutsBeforeItWritesAgain(t *testing.T) {
	f := badfile.New([]byte("before"))
	tp := &tape{file: f, end: 6}
	f.Break(badfile.WriteError, badfile.CutError)
	if tp.append([]byte("a long line that is lost")) == nil || !tp.dirty {
		t.Fatal("the write or the cut did not fail")
	}
	f.Break(badfile.CutError)
	if tp.append([]byte("x")) == nil || !tp.dirty {
		t.Fatal("wrote though the rest of the lost line still stood there")
	}
	if err := tp.append([]byte("x")); err != nil || string(f.Crash(0).Bytes()) != "beforex" {
		t.Errorf("%v %q", err, f.Bytes())
	}
}

func TestTapeSeesAnotherWriter(t *testing.T) {
	f := badfile.New([]byte("before, and more of another tab"))
	tp := &tape{file: f, end: 6}
	if err := tp.append([]byte("x")); CodeOf(err) != CodeWriteFailed {
		t.Error(err)
	}
}

func TestTapeReadsShortFilesAsAnError(t *testing.T) {
	tp := &tape{file: badfile.New([]byte("abc"))}
	if _, err := tp.read(1, 3); CodeOf(err) != CodeReadFailed {
		t.Error(err)
	}
	f := badfile.New([]byte("abc"))
	f.Break(badfile.SizeError)
	if _, err := (&tape{file: f}).all(); CodeOf(err) != CodeReadFailed {
		t.Error(err)
	}
}

func TestMemoryFile(t *testing.T) {
	var m Memory
	tp := &tape{file: &m}
	if tp.append([]byte("abc")) != nil || tp.append([]byte("def")) != nil {
		t.Fatal("append")
	}
	if got := string(must(tp.read(2, 3))); got != "cde" {
		t.Error(got)
	}
	if tp.cut(1) != nil || string(must(tp.all())) != "a" {
		t.Error("cut")
	}
	if _, err := m.WriteAt([]byte("z"), -1); err == nil {
		t.Error("negative offset")
	}
	if m.Truncate(-1) == nil {
		t.Error("negative size")
	}
	if n, err := m.ReadAt(make([]byte, 2), 0); n != 1 || err == nil {
		t.Error("a short read without an error")
	}
	if m.Truncate(3); must(m.Size()) != 3 {
		t.Error("Truncate does not extend")
	}
}
