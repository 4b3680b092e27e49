package bolt

import (
	"bytes"
	"crypto/rand"
	"errors"
	"fmt"
	mathrand "math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// item is one event of a log, unlike others in its text. It chains to nothing.
func item(log string, seq uint64) exchange.Incoming {
	line := journal.Line(fmt.Sprintf(`{"of":"%s","seq":%d,"word":"%s"}`, log, seq, strings.Repeat("x", 200)))
	return exchange.Incoming{Line: line, Hash: journal.Hash(line), Receipt: exchange.Receipt{At: "at", From: "from"},
		Event: journal.Event{Log: log, Seq: seq, About: journal.About{Site: "site", Fixture: "fixture"}}}
}

// filled is the bytes of a store with events, asides, rows and audit lines on many pages.
func filled(t testing.TB) []byte {
	t.Helper()
	path := filepath.Join(t.TempDir(), "store.db")
	s := opened(t, path)
	for n := uint64(1); n <= 60; n++ {
		bad := exchange.Incoming{Line: journal.Line(fmt.Sprint(n)), Hash: fmt.Sprint(n), Aside: "bad-line"}
		if _, err := s.Add([]exchange.Incoming{item("log", n*2), bad}); err != nil { // with holes, so that nothing has to chain
			t.Fatal(err)
		}
		err := s.Change(store.Audit{What: "w"}, func(w store.RowWriter) error {
			return w.Put("people", fmt.Sprint(n), []byte(strings.Repeat("r", 100)))
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	used := int64(0) // bbolt makes the file longer than it needs
	err := s.file.db.View(func(tx *bbolt.Tx) error { used = tx.Size(); return nil })
	if err := errors.Join(err, s.Close()); err != nil {
		t.Fatal(err)
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return data[:used]
}

// told is what a store says about its events, and the errors that came. One thing bbolt hides: when a page of the
// index lost its keys, a fixture reads as one without events. Feeds never do: there told wants the truth.
func told(s *Store) (string, []error) {
	feed, more, err1 := s.Site("site", 0, 1000)
	last, err2 := s.Last("site")
	fixture, err3 := s.Fixture("fixture")
	if err3 == nil && len(fixture) == 0 {
		fixture = feed
	}
	digest := journal.Hash(journal.Line(fmt.Sprint(feed, fixture)))
	return fmt.Sprint(len(feed), more, last, len(fixture), " ", digest), []error{err1, err2, err3}
}

// trouble gives the errors of everything else that a store does, writing included.
func trouble(s *Store) []error {
	_, err1 := s.Asides(0, 1000)
	_, err2 := s.Audits(0, 1000)
	_, err3 := s.Upto("log")
	err4 := s.View(func(r store.RowReader) error {
		_, err := r.Get("people", "7")
		return errors.Join(err, r.Each("people", func(string, []byte) error { return nil }))
	})
	_, err5 := s.Add([]exchange.Incoming{item("other", 2)})
	err6 := s.Change(store.Audit{}, func(w store.RowWriter) error { return w.Put("people", "new", nil) })
	return []error{err1, err2, err3, err4, err5, err6}
}

// codes wants every error to be of damage (or, of a row whose key is spoilt, to say that it is not there).
func codes(t *testing.T, what string, errs []error) (some bool) {
	t.Helper()
	for i, err := range errs {
		if some = some || err != nil; err != nil && store.CodeOf(err) != store.CodeDamaged && !errors.Is(err, store.ErrNoRow) {
			t.Errorf("%s, %d: %v", what, i, err)
		}
	}
	return some
}

// spoil changes some bytes: anywhere, at the beginning of a page, or a whole page.
func spoil(random *mathrand.Rand, data []byte) {
	at, length := random.IntN(len(data)), 1+random.IntN(64)
	switch random.IntN(3) {
	case 1:
		at = at/4096*4096 + random.IntN(48)
	case 2:
		at, length = at/4096*4096, 4096
	}
	for i := at; i < min(at+length, len(data)); i++ {
		data[i] ^= byte(1 + random.IntN(255))
	}
}

// Wherever bytes are spoilt, the store says so or tells the truth about its events; it never panics and never hangs.
func TestSpoiltBytes(t *testing.T) {
	random := mathrand.New(mathrand.NewPCG(20260304, 1))
	data, folder := filled(t), t.TempDir()
	s := opened(t, write(t, filepath.Join(folder, "whole.db"), data))
	truth, errs := told(s)
	if codes(t, "whole", errs) || s.Close() != nil {
		t.Fatal(errs)
	}
	const rounds = 200
	refused, noticed := 0, 0
	for round := range rounds {
		bad, what := bytes.Clone(data), fmt.Sprint("round ", round)
		spoil(random, bad)
		s, err := open(write(t, filepath.Join(folder, fmt.Sprint(round)), bad), rand.Reader, bbolt.Options{NoSync: true})
		if err != nil {
			refused++
			codes(t, what, []error{err})
			continue
		}
		got, errs := told(s)
		if seen := codes(t, what, errs); seen {
			noticed++
		} else if got != truth {
			t.Errorf("%s: other events are told as if they were right: %s, not %s", what, got, truth)
		}
		codes(t, what, append(trouble(s), s.Close()))
	}
	t.Logf("of %d: %d refused at the start, %d noticed while reading events", rounds, refused, noticed)
	if refused == 0 || noticed == 0 {
		t.Error("the damage reached nothing")
	}
}

// A file that lost its end is refused, wherever it was cut.
func TestCutFiles(t *testing.T) {
	data, folder := filled(t), t.TempDir()
	for cut := 0; cut < len(data); cut += 4096 + 1000 {
		refuses(t, write(t, filepath.Join(folder, fmt.Sprint(cut)), data[:cut]), store.CodeDamaged)
	}
}

// A file that is cut or overwritten beneath an open store neither ends the process nor is written to again.
func TestDamageWhileOpen(t *testing.T) {
	for name, spoil := range map[string]func(path string, size int64) error{
		"cut": func(path string, _ int64) error { return os.Truncate(path, 4096*2) },
		"overwritten": func(path string, size int64) error {
			f, err := os.OpenFile(path, os.O_WRONLY, 0)
			if err != nil {
				return err
			}
			_, err = f.WriteAt(bytes.Repeat([]byte{0xff}, int(size)-4096*2), 4096*2)
			return errors.Join(err, f.Close())
		},
	} {
		t.Run(name, func(t *testing.T) {
			data := filled(t)
			path := write(t, filepath.Join(t.TempDir(), "store.db"), data)
			s, err := open(path, rand.Reader, bbolt.Options{NoSync: true})
			if err != nil {
				t.Fatal(err)
			}
			if err := spoil(path, int64(len(data))); err != nil {
				t.Fatal(err)
			}
			_, errs := told(s)
			for i, err := range append(errs, trouble(s)...) {
				if store.CodeOf(err) != store.CodeDamaged {
					t.Errorf("%d: %v", i, err)
				}
			}
			write(t, path, data) // whole again, but the store has seen damage while writing
			if _, err := s.Add([]exchange.Incoming{item("other", 2)}); store.CodeOf(err) != store.CodeDamaged {
				t.Errorf("written after damage: %v", err)
			}
			if _, errs := told(s); codes(t, "whole again", errs) {
				t.Errorf("reading goes on: %v", errs)
			}
			codes(t, "closing", []error{s.Close()})
		})
	}
}

// A record that was moved to another place is not read as what belongs there.
func TestRecordsBelongToTheirPlace(t *testing.T) {
	s, _ := fresh(t)
	if _, err := s.Add([]exchange.Incoming{item("log", 2), item("log", 4)}); err != nil {
		t.Fatal(err)
	}
	err := s.file.db.Update(func(tx *bbolt.Tx) error {
		feed := tx.Bucket(bucketEvents)
		return feed.Put(numbered("site", 1), bytes.Clone(feed.Get(numbered("site", 2))))
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, _, err := s.Site("site", 0, 10); store.CodeOf(err) != store.CodeDamaged {
		t.Errorf("%v", err)
	}
}

// A feed that lost an event, its middle, its end or its head, is not told as if it were whole.
func TestLostKeysOfAFeed(t *testing.T) {
	for name, lose := range map[string]func(*bbolt.Tx) error{
		"middle":  func(tx *bbolt.Tx) error { return tx.Bucket(bucketEvents).Delete(numbered("site", 2)) },
		"end":     func(tx *bbolt.Tx) error { return tx.Bucket(bucketEvents).Delete(numbered("site", 3)) },
		"head":    func(tx *bbolt.Tx) error { return tx.Bucket(bucketHeads).Delete([]byte("site")) },
		"old":     func(tx *bbolt.Tx) error { return putNumber(tx.Bucket(bucketHeads), []byte("site"), 2) },
		"no head": func(tx *bbolt.Tx) error { return tx.Bucket(bucketHeads).Put([]byte("site"), []byte("x")) },
	} {
		s, _ := fresh(t)
		if _, err := s.Add([]exchange.Incoming{item("log", 2), item("log", 4), item("log", 6)}); err != nil {
			t.Fatal(err)
		}
		if err := s.file.db.Update(lose); err != nil {
			t.Fatal(err)
		}
		if got, _, err := s.Site("site", 0, 10); store.CodeOf(err) != store.CodeDamaged || got != nil {
			t.Errorf("%s: %d events, %v", name, len(got), err)
		}
	}
}

// A write that failed keeps the whole change back, whatever the caller makes of its error.
func TestASwallowedWriteError(t *testing.T) {
	s, _ := fresh(t)
	err := s.file.db.Update(func(tx *bbolt.Tx) error { return tx.Bucket(bucketRows).Put([]byte("spoilt"), []byte("no table")) })
	if err != nil {
		t.Fatal(err)
	}
	err = s.Change(store.Audit{What: "w"}, func(w store.RowWriter) error {
		if err := w.Put("people", "p", nil); err != nil {
			t.Error(err)
		}
		if err := w.Put("spoilt", "p", nil); store.CodeOf(err) != store.CodeBroken {
			t.Errorf("%v", err)
		}
		return nil
	})
	if store.CodeOf(err) != store.CodeBroken {
		t.Errorf("%v", err)
	}
	err = s.View(func(r store.RowReader) error {
		_, err := r.Get("people", "p")
		return err
	})
	if audits, _ := s.Audits(0, 1); err != store.ErrNoRow || len(audits) != 0 {
		t.Errorf("%v, %v", err, audits)
	}
}
