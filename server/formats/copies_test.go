package formats

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"testing"
	"time"

	"jointwalk/server/store"
	"jointwalk/server/store/bolt"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// openPhone opens a frozen phone's files, in memory.
func openPhone(t *testing.T, f *frozen) *journal.Pool {
	t.Helper()
	files, err := os.ReadDir(filepath.Join(f.folder, "phone"))
	if err != nil {
		t.Fatal(err)
	}
	var slots []journal.Slot
	for _, file := range files {
		slot := journal.Slot{Name: file.Name(), File: &journal.Memory{}}
		if _, err := slot.File.WriteAt(read(t, f.folder, "phone", file.Name()), 0); err != nil {
			t.Fatal(err)
		}
		slots = append(slots, slot)
	}
	pool, err := journal.OpenPool(slots, "0197a1b0-0000-7000-8000-00000000ffff")
	if err != nil {
		t.Fatal(err)
	}
	if r := pool.Report(); r.Bad != 0 || len(r.Lost) != 0 || r.First {
		t.Errorf("report %+v", r)
	}
	return pool
}

// A frozen phone gives its own lines and those it pulled back byte for byte, its
// picture and its draft, answers as it did, and goes on writing.
func TestFrozenPhonesOpen(t *testing.T) {
	remembered := 0
	eachFrozen(t, func(t *testing.T, f *frozen) {
		pool := openPhone(t, f)
		book := record.NewBook()
		want, own := f.of(pool.Log().ID()), 0
		err := pool.Log().Each(func(line journal.Line) bool {
			if own >= len(want) || !bytes.Equal(line, want[own]) {
				t.Errorf("own line %d differs", own)
			}
			own++
			return addTo(t, book, line, journal.Receipt{})
		})
		if err != nil || own == 0 || own != len(want) || pool.Log().Seq() != uint64(own) {
			t.Errorf("%d of %d own lines, %v", own, len(want), err)
		}
		for _, site := range pool.Sites() {
			f.pulled(t, pool, site, book)
		}
		f.answers(t, book)
		for _, p := range pool.Pictures().List() {
			if content, err := pool.Pictures().Read(p.Hash); err != nil || journal.Hash(content) != p.Hash {
				t.Errorf("picture %s: %v", p.Hash, err)
			}
		}
		if len(pool.Pictures().List()) != 1 {
			t.Error("the picture is gone")
		}
		if draft, held := pool.State().Get("draft:note"); !held || string(draft) != `{"text":"half a sen"}` {
			t.Errorf("draft %s", draft)
		}
		if _, met := pool.State().Get("met"); met {
			f.remembers(t, pool)
			remembered++
		}
		f.goesOn(t, pool)
	})
	if remembered == 0 {
		t.Error("no frozen phone knows a server")
	}
}

// remembers: a phone that sent all before it was frozen knows that it did, to whom, and who it is.
func (f *frozen) remembers(t *testing.T, pool *journal.Pool) {
	t.Helper()
	phone, err := exchange.OpenPhone(pool, exchange.PhoneEnv{Now: time.Now, Jitter: func() float64 { return 0 }})
	if err != nil {
		t.Fatal(err)
	}
	if s := phone.Standing(); s.Unsent != 0 || s.Asides != 0 || s.Revoked || s.Log != pool.Log().ID() {
		t.Errorf("standing %+v", s)
	}
	phone.Begin(true)
	var said exchange.Greeting
	if r, some := phone.Next(); !some || r.Path != exchange.PathMeet || json.Unmarshal(r.Body, &said) != nil {
		t.Fatalf("begins with %s", r.Path)
	}
	if said.Incarnation == "" || said.Me == "" || !bytes.Contains(phone.Me(), []byte(`"name":"A technician"`)) {
		t.Errorf("greets with %+v", said)
	}
}

// of gives the lines of a log in order.
func (f *frozen) of(log string) (lines []journal.Line) {
	for _, line := range f.lines {
		if bytes.Contains(line, []byte(`"log":"`+log+`"`)) {
			lines = append(lines, line)
		}
	}
	return lines
}

func addTo(t *testing.T, book *record.Book, line journal.Line, r journal.Receipt) bool {
	t.Helper()
	e, err := journal.Parse(line)
	if err != nil {
		t.Fatal(err)
	}
	if r.N == 0 {
		book.Add(e)
	} else {
		book.AddReceived(e, r)
	}
	return true
}

// pulled holds a feed of a phone against the journal.
func (f *frozen) pulled(t *testing.T, pool *journal.Pool, site string, book *record.Book) {
	t.Helper()
	feed, err := pool.Site(site)
	if err != nil {
		t.Fatal(err)
	}
	i := 0
	err = feed.Each(func(p journal.Pair) bool {
		if !bytes.Equal(p.Line, f.lines[i]) || p.Receipt != f.receipts[i] {
			t.Errorf("pair %d differs", i)
		}
		i++
		return addTo(t, book, p.Line, p.Receipt)
	})
	if err != nil || i != len(f.lines) {
		t.Errorf("%d of %d pairs, %v", i, len(f.lines), err)
	}
}

// goesOn writes one more event behind the frozen ones.
func (f *frozen) goesOn(t *testing.T, pool *journal.Pool) {
	t.Helper()
	var last journal.Line
	_ = pool.Log().Each(func(line journal.Line) bool { last = bytes.Clone(line); return true })
	before, _ := journal.Parse(last)
	lines, err := pool.Log().Append([]journal.Draft{{
		ID: "0197a1b0-0000-7000-8000-00000000fffe", Time: "2030-01-01T00:00:00.000Z", Zone: "UTC", By: before.By,
		About: before.About, Kind: "x-later-kind", Body: struct{}{},
	}})
	if err != nil {
		t.Fatal(err)
	}
	e, err := journal.Parse(lines[0])
	if err != nil || e.Log != before.Log || e.Seq != before.Seq+1 || e.Prev != journal.Hash(last) || e.Tick <= before.Tick {
		t.Errorf("after %+v came %+v, %v", before, e, err)
	}
}

func openStore(t *testing.T, f *frozen) *bolt.Store {
	t.Helper()
	path := filepath.Join(t.TempDir(), "store.db")
	if err := os.WriteFile(path, read(t, f.folder, "store.db"), 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := bolt.Open(path, bytes.NewReader(nil))
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

// A frozen store gives every line back byte for byte with its receipt, what it
// set aside and its rows, knows its lines again, and answers as it did.
func TestFrozenStoresOpen(t *testing.T) {
	eachFrozen(t, func(t *testing.T, f *frozen) {
		s := openStore(t, f)
		book, held := record.NewBook(), map[string]bool{}
		for _, site := range f.expected.Sites {
			pairs, more, err := s.Site(site.ID, 0, 1000)
			if err != nil || more || len(pairs) == 0 {
				t.Fatalf("%s: %d pairs, more %v, %v", site.ID, len(pairs), more, err)
			}
			for i, p := range pairs {
				if p.Receipt.N != uint64(i+1) {
					t.Errorf("pair %d of %s has n %d", i, site.ID, p.Receipt.N)
				}
				held[string(p.Line)] = true
				addTo(t, book, p.Line, p.Receipt)
			}
		}
		f.answers(t, book)
		f.again(t, s, held)
		f.besides(t, s)
	})
}

// again pushes every frozen line once more: all are known.
func (f *frozen) again(t *testing.T, s *bolt.Store, held map[string]bool) {
	t.Helper()
	var items []exchange.Incoming
	for i, line := range f.lines {
		e, err := journal.Parse(line)
		if err != nil || !held[string(line)] {
			t.Errorf("line %d is not held as it was: %v", i, err)
		}
		items = append(items, exchange.Incoming{Line: line, Event: e, Hash: journal.Hash(line), Receipt: f.receipts[i], To: record.MovesTo(e)})
	}
	verdicts, err := s.Add(items)
	if err != nil {
		t.Fatal(err)
	}
	for i, v := range verdicts {
		if v.Is != exchange.Duplicate {
			t.Errorf("line %d: %+v", i, v)
		}
	}
}

// besides holds what was set aside, the rows and the trail.
func (f *frozen) besides(t *testing.T, s *bolt.Store) {
	t.Helper()
	asides, err := s.Asides(0, 10)
	if err != nil || len(asides) != 2 || asides[0].Code != journal.CodeForked || asides[1].Code != journal.CodeBadLine {
		t.Errorf("set aside %+v, %v", asides, err)
	}
	err = s.View(func(rows store.RowReader) error {
		row, err := rows.Get("sites", f.expected.Sites[0].ID)
		if err == nil && string(row) != `{"name":"Plant one"}` {
			err = errors.New(string(row))
		}
		return err
	})
	if err != nil {
		t.Errorf("row: %v", err)
	}
	var what []string
	head, err := store.WalkTrail(s, func(a store.Audit) { what = append(what, a.What) }, func(wrong string) { t.Error(wrong) })
	if err != nil || head.N != 1 || head.Hash == "" || len(what) != 1 || what[0] != "site-added" {
		t.Errorf("trail %+v, %q, %v", head, what, err)
	}
	if s.Incarnation() == "" {
		t.Error("no incarnation")
	}
}
