package storetest

import (
	"errors"
	"maps"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"jointwalk/server/store"
)

// rowsWorld is rows beside the simplest thing that behaves alike.
type rowsWorld struct {
	t     *testing.T
	rows  store.Rows
	again func() store.Rows
	want  map[[2]string]string // table and id → row
	trail []string             // what was audited
}

var (
	someTable = rapid.SampledFrom([]string{"a", "b", "ab"})
	someID    = rapid.SampledFrom([]string{"1", "2", "10", "x", "\x00", "\xff\xff"})
	someRow   = rapid.StringN(0, 20, 40)
)

// change is some writes in one transaction, which may be spoilt at its end.
func (w *rowsWorld) change(rt *rapid.T) {
	draft, spoilt, what := maps.Clone(w.want), rapid.IntRange(0, 3).Draw(rt, "spoilt") == 0, someRow.Draw(rt, "what")
	audited := rapid.Bool().Draw(rt, "audited")
	change := w.rows.Keep
	if audited {
		change = func(do func(store.RowWriter) error) error { return w.rows.Change(store.Audit{What: what}, do) }
	}
	err := change(func(rows store.RowWriter) error {
		for range rapid.IntRange(0, 4).Draw(rt, "writes") {
			w.write(rt, rows, draft)
		}
		if spoilt {
			return errStop
		}
		return nil
	})
	if spoilt != (err == errStop) || !spoilt && err != nil {
		rt.Fatalf("spoilt %v: %v", spoilt, err)
	}
	if !spoilt {
		w.want = draft
	}
	if !spoilt && audited {
		w.trail = append(w.trail, what)
	}
}

func (w *rowsWorld) write(rt *rapid.T, rows store.RowWriter, draft map[[2]string]string) {
	key := [2]string{someTable.Draw(rt, "table"), someID.Draw(rt, "id")}
	_, held := draft[key]
	if rapid.Bool().Draw(rt, "drop") {
		if err := rows.Drop(key[0], key[1]); held != (err == nil) || !held && !errors.Is(err, store.ErrNoRow) {
			rt.Fatalf("drop %q: %v, held %v", key, err, held)
		}
		delete(draft, key)
		return
	}
	draft[key] = someRow.Draw(rt, "row")
	if err := rows.Put(key[0], key[1], []byte(draft[key])); err != nil {
		rt.Fatalf("put %q: %v", key, err)
	}
}

func (w *rowsWorld) restart(*rapid.T) {
	if w.again != nil {
		w.rows = w.again()
	}
}

// check: every table lists what the model holds, in order, and the trail is what was done.
func (w *rowsWorld) check(rt *rapid.T) {
	got := map[[2]string]string{}
	err := w.rows.View(func(r store.RowReader) error {
		for _, table := range []string{"a", "b", "ab"} {
			last := ""
			err := r.Each(table, func(id string, row []byte) error {
				if got[[2]string{table, id}] = string(row); id < last {
					rt.Fatalf("%q comes after %q", id, last)
				}
				last = id
				return nil
			})
			if err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil || !maps.Equal(got, w.want) {
		rt.Fatalf("%v: %q, want %q", err, got, w.want)
	}
	audits, err := w.rows.Audits(0, 1<<20)
	var done []string
	for i, a := range audits {
		if done = append(done, a.What); a.N != uint64(i+1) {
			rt.Fatalf("audit line %d has n %d", i+1, a.N)
		}
	}
	if err != nil || !slices.Equal(done, w.trail) {
		rt.Fatalf("%v: trail %q, want %q", err, done, w.trail)
	}
}

func rowsModel(t *testing.T, open OpenRows) {
	rapid.Check(t, func(rt *rapid.T) {
		rows, again := open(t)
		w := &rowsWorld{t: t, rows: rows, again: again, want: map[[2]string]string{}}
		rt.Repeat(map[string]func(*rapid.T){"change": w.change, "restart": w.restart, "": w.check})
	})
}
