package bolt

import (
	"bytes"
	"crypto/rand"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
)

// refuses wants Open to say no with a code and to leave the file as it is.
func refuses(t *testing.T, path, code string) {
	t.Helper()
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	s, err := Open(path, rand.Reader)
	if store.CodeOf(err) != code {
		t.Errorf("%v, want %s", err, code)
	}
	if err == nil {
		t.Error(s.Close())
	}
	after, err := os.ReadFile(path)
	if err != nil || !bytes.Equal(before, after) {
		t.Errorf("the file was changed, %v", err)
	}
}

func write(t testing.TB, path string, data []byte) string {
	t.Helper()
	if err := os.WriteFile(path, data, 0o600); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestWhatIsNoStore(t *testing.T) {
	for name, content := range map[string]string{
		"empty": "", "short": "x", "text": strings.Repeat("no store at all ", 3000), "zeroes": strings.Repeat("\x00", 1<<16),
	} {
		t.Run(name, func(t *testing.T) {
			refuses(t, write(t, filepath.Join(t.TempDir(), "store.db"), []byte(content)), store.CodeDamaged)
		})
	}
}

// edited is a store into which somebody wrote past this package.
func edited(t *testing.T, edit func(*bbolt.Tx) error) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "store.db")
	s, err := Open(path, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(s.file.db.Update(edit), s.Close()); err != nil {
		t.Fatal(err)
	}
	return path
}

func TestAStoreOfAnother(t *testing.T) {
	refuses(t, edited(t, func(tx *bbolt.Tx) error { return tx.DeleteBucket(bucketMeta) }), store.CodeDamaged)
	refuses(t, edited(t, func(tx *bbolt.Tx) error { return tx.DeleteBucket(bucketLogs) }), store.CodeDamaged)
	refuses(t, edited(t, func(tx *bbolt.Tx) error { return tx.Bucket(bucketMeta).Delete(keyIncarnation) }), store.CodeDamaged)
	refuses(t, edited(t, func(tx *bbolt.Tx) error { return tx.Bucket(bucketMeta).Put(keyVersion, []byte("99")) }), store.CodeNewer)
}

// A file of format 1, from before fixtures could move, gets what it lacks when it is opened.
func TestAFileFromBeforeMoves(t *testing.T) {
	path := edited(t, func(tx *bbolt.Tx) error { return errors.Join(tx.DeleteBucket(bucketMoved), putVersion(tx, 1)) })
	s := opened(t, path)
	for seq, to := range []string{"", "there", ""} {
		one := item("log", 2*uint64(seq)+2)
		one.To = to
		if v, err := s.Add([]exchange.Incoming{one}); err != nil || v[0].Is != exchange.Applied {
			t.Fatalf("%v %v", v, err)
		}
	}
	if there, _, err := s.Site("there", 0, 10); err != nil || len(there) != 3 {
		t.Errorf("%d, %v", len(there), err)
	}
}

func TestAStoreThatIsOpenAlready(t *testing.T) {
	path := filepath.Join(t.TempDir(), "store.db")
	s, err := Open(path, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	if other, err := Open(path, rand.Reader); store.CodeOf(err) != store.CodeLocked {
		t.Errorf("%v, %v", other, err)
	}
	if err := s.Close(); err != nil {
		t.Error(err)
	}
	opened(t, path)
}

func TestAFolderThatCannotBeWritten(t *testing.T) {
	path := filepath.Join(t.TempDir(), "store.db")
	for cause, code := range map[error]string{
		syscall.EACCES: store.CodeDenied, syscall.EROFS: store.CodeDenied, syscall.ENOSPC: store.CodeFull, syscall.EFBIG: store.CodeFull,
		syscall.EIO: store.CodeBroken,
	} {
		refusing := func(string, int, os.FileMode) (*os.File, error) {
			return nil, &fs.PathError{Op: "open", Path: path, Err: cause}
		}
		if _, err := open(path, rand.Reader, bbolt.Options{OpenFile: refusing}); store.CodeOf(err) != code || !errors.Is(err, cause) {
			t.Errorf("%v, want %s", err, code)
		}
	}
	if _, err := Open(filepath.Join(t.TempDir(), "none", "store.db"), rand.Reader); store.CodeOf(err) != store.CodeBroken {
		t.Errorf("no folder: %v", err)
	}
}

// A start that fails half way leaves nothing that a later one trips over.
func TestNoRandomnessNoStore(t *testing.T) {
	path := filepath.Join(t.TempDir(), "store.db")
	if _, err := Open(path, strings.NewReader("too short")); store.CodeOf(err) != store.CodeBroken {
		t.Errorf("%v", err)
	}
	one, other := opened(t, path), opened(t, filepath.Join(t.TempDir(), "store.db"))
	if len(one.Incarnation()) != 32 || one.Incarnation() == other.Incarnation() {
		t.Errorf("%q and %q", one.Incarnation(), other.Incarnation())
	}
}

func TestAfterClosing(t *testing.T) {
	s, _ := fresh(t)
	for range 2 {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}
	_, _, site := s.Site("s", 0, 1)
	_, add := s.Add(nil)
	_, audits := s.Audits(0, 1)
	view := s.View(func(store.RowReader) error { return nil })
	change := s.Change(store.Audit{}, func(store.RowWriter) error { return nil })
	for i, err := range []error{site, add, audits, view, change} {
		if store.CodeOf(err) != store.CodeClosed {
			t.Errorf("%d: %v", i, err)
		}
	}
}
