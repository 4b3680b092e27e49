package bolt

import (
	"crypto/rand"
	"errors"
	"fmt"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
)

var errBad = errors.New("bad")

// writer is a gather that notes what came into which transaction.
type writer struct {
	gather
	groups  [][]string
	release chan struct{} // each transaction waits for one
}

func newWriter(t *testing.T) *writer {
	w := &writer{release: make(chan struct{}, 100)}
	w.init(w.note)
	t.Cleanup(w.close)
	return w
}

// note fails a group with "bad" in it, and panics over "worse".
func (w *writer) note(group []*push) error {
	<-w.release
	var names []string
	for _, p := range group {
		names = append(names, p.items[0].Hash)
		p.verdicts = []exchange.Verdict{{Log: p.items[0].Hash}}
	}
	w.groups = append(w.groups, names)
	for _, name := range names {
		if name == "bad" {
			return errBad
		}
		if name == "worse" {
			panic(name)
		}
	}
	return nil
}

func (w *writer) add(name string) (string, error) {
	v, err := w.Add([]exchange.Incoming{{Hash: name}})
	if err != nil {
		return "", err
	}
	return v[0].Log, nil
}

// Those who wait while one is written go into the next transaction together, and each gets its own answer.
func TestWaitingPushesGoTogether(t *testing.T) {
	w := newWriter(t)
	var all sync.WaitGroup
	for i := range 9 {
		all.Go(func() {
			if got, err := w.add(fmt.Sprint(i)); err != nil || got != fmt.Sprint(i) {
				t.Errorf("%d got %q, %v", i, got, err)
			}
		})
		if i == 0 {
			time.Sleep(50 * time.Millisecond) // the first is on its way
		}
	}
	time.Sleep(100 * time.Millisecond) // the others wait
	w.release <- struct{}{}
	for range 8 {
		w.release <- struct{}{}
	}
	all.Wait()
	if len(w.groups) > 4 || len(w.groups[0]) != 1 {
		t.Errorf("nine pushes in %d transactions: %v", len(w.groups), w.groups)
	}
}

// One that cannot be written fails alone, and a writer that panicked goes on.
func TestOneBadPushFailsAlone(t *testing.T) {
	for bad, code := range map[string]string{"bad": "", "worse": store.CodeBroken} {
		w := newWriter(t)
		for range 20 {
			w.release <- struct{}{}
		}
		var all sync.WaitGroup
		for _, name := range []string{"a", bad, "b", "c"} {
			all.Go(func() {
				if _, err := w.add(name); (err != nil) != (name == bad) || store.CodeOf(err) != "" && store.CodeOf(err) != code {
					t.Errorf("%s: %v", name, err)
				}
			})
		}
		all.Wait()
		if got, err := w.add("later"); err != nil || got != "later" {
			t.Errorf("%q %v", got, err)
		}
	}
	group := []*push{{items: []exchange.Incoming{{Hash: "a"}}}, {items: []exchange.Incoming{{Hash: "bad"}}}, {items: []exchange.Incoming{{Hash: "c"}}}}
	w := newWriter(t)
	for range 4 {
		w.release <- struct{}{}
	}
	if w.write(group); group[0].err != nil || group[1].err != errBad || group[2].err != nil {
		t.Errorf("%v %v %v", group[0].err, group[1].err, group[2].err)
	}
}

// Closing waits for what is on its way; what comes later is refused.
func TestClosingWaitsForPushes(t *testing.T) {
	w := newWriter(t)
	added, closed := make(chan error, 1), make(chan struct{})
	go func() {
		_, err := w.add("a")
		added <- err
	}()
	time.Sleep(50 * time.Millisecond)
	go func() {
		w.close()
		close(closed)
	}()
	select {
	case <-closed:
		t.Error("closed before the push was written")
	case <-time.After(50 * time.Millisecond):
	}
	w.release <- struct{}{}
	if err := <-added; err != nil {
		t.Error(err)
	}
	<-closed
	if _, err := w.add("b"); store.CodeOf(err) != store.CodeClosed {
		t.Errorf("%v", err)
	}
}

// A full disk refuses with its code, keeps nothing of what it refused, and takes more when there is room.
func TestFullDisk(t *testing.T) {
	path := filepath.Join(t.TempDir(), "store.db")
	s, err := open(path, rand.Reader, bbolt.Options{NoSync: true, MaxSize: 256 << 10})
	if err != nil {
		t.Fatal(err)
	}
	kept := uint64(0)
	for err == nil && kept < 10_000 {
		if _, err = s.Add([]exchange.Incoming{item("log", 2*kept+2)}); err == nil {
			kept++
		}
	}
	if store.CodeOf(err) != store.CodeFull || kept == 0 {
		t.Fatalf("after %d: %v", kept, err)
	}
	if last, err := s.Last("site"); err != nil || last != kept {
		t.Errorf("last %d of %d, %v", last, kept, err)
	}
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	s = opened(t, path)
	if v, err := s.Add([]exchange.Incoming{item("log", 2*kept+2)}); err != nil || v[0].Is != exchange.Applied {
		t.Errorf("%v %v", v, err)
	}
	if got, _, err := s.Site("site", kept-1, 10); err != nil || len(got) != 2 || got[1].Receipt.N != kept+1 {
		t.Errorf("%d, %v", len(got), err)
	}
}
