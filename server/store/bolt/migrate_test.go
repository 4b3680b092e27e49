package bolt

import (
	"bytes"
	"context"
	"crypto/rand"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
)

var (
	added     = []byte("added")
	keyCount  = []byte("count")
	errUndone = errors.New("cannot be done")
)

// steps are two migrations: the first makes a bucket, the second writes into it what the store held.
func steps() []migration {
	return []migration{
		{2, "a bucket more", func(tx *bbolt.Tx) error {
			_, err := tx.CreateBucket(added)
			return err
		}},
		{3, "sites counted", func(tx *bbolt.Tx) error {
			n := uint64(0)
			err := tx.Bucket(bucketHeads).ForEach(func([]byte, []byte) error { n++; return nil })
			return errors.Join(err, tx.Bucket(added).Put(keyCount, number(n)))
		}},
	}
}

// under opens a store with these migrations.
func under(path string, known []migration) (*Store, error) {
	f, err := openFile(path, rand.Reader, bbolt.Options{NoSync: true}, known)
	if err != nil {
		return nil, err
	}
	return &Store{newEvents(f), &rows{f}, f}, nil
}

// first is a store of format 1 with two events.
func first(t *testing.T) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "store.db")
	s, err := under(path, nil)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := s.Add([]exchange.Incoming{item("log", 2), item("log", 4)}); err != nil {
		t.Fatal(err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	return path
}

// stands wants a store of a format that still tells its two events, and gives whether it has the bucket and the count.
func stands(t *testing.T, path string, known []migration, version string) (bucket bool, count []byte) {
	t.Helper()
	s, err := under(path, known)
	if err != nil {
		t.Fatal(err)
	}
	feed, _, err := s.Site("site", 0, 10)
	if err != nil || len(feed) != 2 {
		t.Errorf("%d events, %v", len(feed), err)
	}
	err = s.file.db.View(func(tx *bbolt.Tx) error {
		if got := string(tx.Bucket(bucketMeta).Get(keyVersion)); got != version {
			t.Errorf("format %s, want %s", got, version)
		}
		if b := tx.Bucket(added); b != nil {
			bucket, count = true, bytes.Clone(b.Get(keyCount))
		}
		return nil
	})
	if err := errors.Join(err, s.Close()); err != nil {
		t.Fatal(err)
	}
	return bucket, count
}

// An older store is brought forward step by step, once; as it was before stays beside it and opens under the old program.
func TestMigration(t *testing.T) {
	path := first(t)
	for range 2 {
		if bucket, count := stands(t, path, steps(), "3"); !bucket || !bytes.Equal(count, number(1)) {
			t.Errorf("%v %v", bucket, count)
		}
	}
	before := filepath.Join(filepath.Dir(path), "store-before-2")
	if bucket, _ := stands(t, before, nil, "1"); bucket {
		t.Error("the copy was brought forward")
	}
	if found, err := filepath.Glob(filepath.Join(filepath.Dir(path), "store-before-*")); err != nil || len(found) != 1 {
		t.Errorf("%v %v", found, err)
	}
	if _, err := under(path, nil); store.CodeOf(err) != store.CodeNewer {
		t.Errorf("the program of format 1: %v", err)
	}
}

// A store of the middle goes on from there.
func TestMigrationFromTheMiddle(t *testing.T) {
	path := first(t)
	stands(t, path, steps()[:1], "2")
	if _, count := stands(t, path, steps(), "3"); !bytes.Equal(count, number(1)) {
		t.Errorf("%v", count)
	}
	if bucket, count := stands(t, filepath.Join(filepath.Dir(path), "store-before-3"), steps()[:1], "2"); !bucket || count != nil {
		t.Errorf("%v %v", bucket, count)
	}
}

// A new store needs no migration.
func TestNewStoreIsOfTheNewestFormat(t *testing.T) {
	path := filepath.Join(t.TempDir(), "store.db")
	known := []migration{{2, "never run on a new one", func(*bbolt.Tx) error { return errUndone }}}
	for range 2 {
		s, err := under(path, known)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Close(); err != nil {
			t.Error(err)
		}
	}
}

// A step that fails leaves the store of the format before it, and the next start tries again.
func TestMigrationThatFails(t *testing.T) {
	for name, fail := range map[string]func(*bbolt.Tx) error{
		"with an error": func(tx *bbolt.Tx) error { return errors.Join(tx.Bucket(added).Put(keyCount, number(7)), errUndone) },
		"over damage": func(tx *bbolt.Tx) error {
			if err := tx.Bucket(added).Put(keyCount, number(7)); err != nil {
				return err
			}
			panic("a page that is none")
		},
	} {
		path, known := first(t), steps()
		known[1].run = fail
		if s, err := under(path, known); err == nil {
			t.Errorf("%s: opened: %v", name, s.Close())
		}
		if bucket, count := stands(t, path, steps()[:1], "2"); !bucket || count != nil {
			t.Errorf("%s: %v %v", name, bucket, count)
		}
		if _, count := stands(t, path, steps(), "3"); !bytes.Equal(count, number(1)) {
			t.Errorf("%s: %v", name, count)
		}
	}
}

// The file as a crash would leave it, within each step and between them, opens as the format before or after.
func TestCrashDuringMigration(t *testing.T) {
	path := first(t)
	var left [][]byte
	crash := func(then func(*bbolt.Tx) error) func(*bbolt.Tx) error {
		return func(tx *bbolt.Tx) error {
			err := then(tx)
			data, read := os.ReadFile(path)
			left = append(left, data)
			return errors.Join(err, read)
		}
	}
	known := steps()
	for i := range known {
		known[i].run = crash(known[i].run)
	}
	stands(t, path, known, "3")
	for i, version := range []string{"1", "2"} {
		folder := t.TempDir()
		stands(t, write(t, filepath.Join(folder, "old"), left[i]), steps()[:i], version)
		if _, count := stands(t, write(t, filepath.Join(folder, "new"), left[i]), steps(), "3"); !bytes.Equal(count, number(1)) {
			t.Errorf("crash %d: %v", i, count)
		}
	}
}

// Where no copy can be put, nothing is migrated.
func TestNoCopyNoMigration(t *testing.T) {
	path := first(t)
	blocking := filepath.Join(filepath.Dir(path), "store-before-2.new")
	if err := os.Mkdir(blocking, 0o700); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(blocking, "file"), nil)
	if _, err := under(path, steps()); err == nil {
		t.Error("migrated without a copy")
	}
	if bucket, _ := stands(t, path, nil, "1"); bucket {
		t.Error("migrated")
	}
}

// The steps are numbered from 2 without a hole, and each says why.
func TestMigrationsAreNumbered(t *testing.T) {
	for _, list := range [][]migration{migrations, steps()} {
		for i, m := range list {
			if m.to != i+2 || m.reason == "" || m.run == nil {
				t.Errorf("step %d: %+v", i, m)
			}
		}
	}
}

// A copy taken while others write is a whole store of one moment: as many events as its head says.
func TestCopyWhileWriting(t *testing.T) {
	s, _ := fresh(t)
	stop, ended := make(chan bool), make(chan bool)
	go func() {
		defer close(ended)
		for n := uint64(2); ; n += 2 {
			select {
			case <-stop:
				return
			default:
			}
			if _, err := s.Add([]exchange.Incoming{item("log", n)}); err != nil {
				t.Error(err)
				return
			}
		}
	}()
	for range 20 {
		var copied bytes.Buffer
		if err := s.Copy(context.Background(), &copied); err != nil {
			t.Fatal(err)
		}
		c := opened(t, write(t, filepath.Join(t.TempDir(), "copy.db"), copied.Bytes()))
		last, err := c.Last("site")
		feed, more, err2 := c.Site("site", 0, 1<<20)
		if err != nil || err2 != nil || more || uint64(len(feed)) != last || c.Incarnation() != s.Incarnation() {
			t.Errorf("%d of %d, %v %v", len(feed), last, err, err2)
		}
	}
	close(stop)
	<-ended
}

// failing takes so many writes, and then no more.
type failing struct{ left int }

func (f *failing) Write(p []byte) (int, error) {
	if f.left--; f.left < 0 {
		return 0, errUndone
	}
	return len(p), nil
}

// A copy that is broken off gives the reason as it is, and the store goes on.
func TestCopyThatBreaksOff(t *testing.T) {
	s := opened(t, write(t, filepath.Join(t.TempDir(), "store.db"), filled(t)))
	for left := range 3 {
		if err := s.Copy(context.Background(), &failing{left}); err != errUndone {
			t.Errorf("after %d: %v", left, err)
		}
	}
	ended, end := context.WithCancel(context.Background())
	end()
	if err := s.Copy(ended, &failing{99}); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	if v, err := s.Add([]exchange.Incoming{item("other", 2)}); err != nil || v[0].Is != exchange.Applied {
		t.Errorf("%v %v", v, err)
	}
}

// waiting takes nothing until it is released.
type waiting struct{ began, release chan bool }

func (w waiting) Write(p []byte) (int, error) {
	select {
	case w.began <- true:
	default:
	}
	<-w.release
	return len(p), nil
}

// A copy that takes long does not hold up writing, even when the file grows far beyond what it was.
func TestGrowingWhileCopied(t *testing.T) {
	path := filepath.Join(t.TempDir(), "store.db")
	if err := opened(t, path).Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.Truncate(path, 16<<20); err != nil { // as large as a store of some years
		t.Fatal(err)
	}
	s := opened(t, path)
	w, copied, grown := waiting{make(chan bool, 1), make(chan bool)}, make(chan error, 1), make(chan error, 1)
	go func() { copied <- s.Copy(context.Background(), w) }()
	<-w.began
	go func() {
		var err error
		for n := uint64(0); n < 10 && err == nil; n++ {
			var many []exchange.Incoming
			for i := range uint64(130) {
				large := item("log", 2*(130*n+i)+2)
				large.Line = append(large.Line, bytes.Repeat([]byte(" "), 15_000)...)
				many = append(many, large)
			}
			_, err = s.Add(many)
		}
		grown <- err
	}()
	select {
	case err := <-grown:
		if size, err2 := s.file.size(); err != nil || err2 != nil || size < 17<<20 {
			t.Errorf("%d bytes, %v %v", size, err, err2)
		}
	case <-time.After(time.Minute):
		t.Error("writing waits for the copy")
	}
	close(w.release)
	if err := <-copied; err != nil {
		t.Error(err)
	}
}
