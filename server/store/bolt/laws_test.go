package bolt

import (
	"crypto/rand"
	"path/filepath"
	"testing"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
	"jointwalk/server/store/storetest"
)

// opened is a store that ends with its test. It does not flush: no law here cuts the power, and a disk is slow.
func opened(t testing.TB, path string) *Store {
	t.Helper()
	s, err := open(path, rand.Reader, bbolt.Options{NoSync: true})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	})
	return s
}

// fresh is a new store, and what closes and opens it again.
func fresh(t testing.TB) (*Store, func() *Store) {
	t.Helper()
	path := filepath.Join(t.TempDir(), "store.db")
	s := opened(t, path)
	return s, func() *Store {
		if err := s.Close(); err != nil {
			t.Error(err)
		}
		s = opened(t, path)
		return s
	}
}

func TestRows(t *testing.T) {
	storetest.Rows(t, func(t testing.TB) (store.Rows, func() store.Rows) {
		s, again := fresh(t)
		return s, func() store.Rows { return again() }
	})
}

// openEvents opens a store that is checked when its test is over: whatever a law did, the file must be whole.
func openEvents(t testing.TB) (storetest.Kept, func() storetest.Kept) {
	path := ""
	t.TempDir()        // the first asked for is the last to go
	t.Cleanup(func() { // after the store is closed
		if report, err := Check(path); err != nil || !report.Whole() {
			t.Errorf("%v, %v", report, err)
		}
	})
	s, again := fresh(t)
	path = s.file.db.Path()
	return s, func() storetest.Kept { return again() }
}

func TestEvents(t *testing.T) { storetest.Events(t, openEvents) }

func TestWatch(t *testing.T) { storetest.Watch(t, openEvents) }
