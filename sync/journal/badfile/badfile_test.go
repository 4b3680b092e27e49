package badfile

import (
	"errors"
	"testing"
)

func TestCrashKeepsWhatWasFlushedAndAPrefixOfTheRest(t *testing.T) {
	f := New([]byte("kept"))
	f.WriteAt([]byte("more"), 4)
	for keep := 0; keep <= f.Pending(); keep++ {
		if got, want := string(f.Crash(keep).Bytes()), "keptmore"[:4+keep]; got != want {
			t.Errorf("keep %d: %q, want %q", keep, got, want)
		}
	}
	f.Sync()
	if got := string(f.Crash(0).Bytes()); got != "keptmore" {
		t.Errorf("after Sync a crash left %q", got)
	}
	f.Truncate(2)
	if a, b := string(f.Crash(0).Bytes()), string(f.Crash(1).Bytes()); a != "keptmore" || b != "ke" {
		t.Errorf("an unflushed cut: %q and %q", a, b)
	}
}

func TestFlawsOfAWrite(t *testing.T) {
	for flaw, want := range map[Flaw]struct {
		n    int
		err  error
		left string
	}{
		ShortCount: {2, nil, "ab"}, Refused: {0, nil, ""}, LyingCount: {4, nil, "ab"},
		LargeCount: {1004, nil, "ab"}, SmallCount: {2, nil, "abcd"}, WriteError: {2, ErrBroken, "ab"}, Flipped: {4, nil, "abCd"},
	} {
		f := New(nil)
		f.Break(flaw)
		n, err := f.WriteAt([]byte("abcd"), 0)
		if n != want.n || !errors.Is(err, want.err) || string(f.Bytes()) != want.left {
			t.Errorf("flaw %d: n=%d err=%v left=%q", flaw, n, err, f.Bytes())
		}
		if n, err := f.WriteAt([]byte("abcd"), 0); n != 4 || err != nil {
			t.Errorf("flaw %d lasted: n=%d err=%v", flaw, n, err)
		}
	}
}

func TestSilentLossAndErrors(t *testing.T) {
	f := New([]byte("a"))
	f.WriteAt([]byte("b"), 1)
	f.Break(SilentLoss)
	if err := f.Sync(); err != nil || string(f.Bytes()) != "a" {
		t.Errorf("silent loss: %v, %q", err, f.Bytes())
	}
	f.BreakFor(CutError)
	for range 2 {
		if f.Truncate(0) == nil {
			t.Error("a lasting flaw went away")
		}
	}
	f.Break(SyncError)
	if f.Sync() == nil {
		t.Error("Sync did not fail")
	}
	f.Break(SizeError)
	if _, err := f.Size(); err == nil {
		t.Error("Size did not fail")
	}
	f.Break(ReadError)
	if _, err := f.ReadAt(make([]byte, 1), 0); err != ErrBroken {
		t.Error("ReadAt did not fail")
	}
}

func TestPowerGoesOnce(t *testing.T) {
	p := &Power{Left: 2}
	f := New(nil)
	f.Power = p
	f.WriteAt([]byte("ab"), 0)
	f.Sync()
	if _, err := f.WriteAt([]byte("cd"), 2); err != ErrDead {
		t.Fatal("the power did not go")
	}
	if err := f.Truncate(0); err != ErrDead {
		t.Fatal("a call after the crash worked")
	}
	if got := string(f.Crash(1).Bytes()); got != "abc" {
		t.Errorf("the write in the moment of the crash left %q", got)
	}
}
