package storetest

import (
	"errors"
	"strings"
	"testing"

	"jointwalk/server/store"
)

// OpenRows gives rows without content, and what opens them again as after a restart; nil for rows that do
// not outlive the process.
type OpenRows func(testing.TB) (rows store.Rows, again func() store.Rows)

var errStop = errors.New("stop")

// Rows holds the laws of store.Rows.
func Rows(t *testing.T, open OpenRows) {
	for name, law := range map[string]func(*testing.T, OpenRows){
		"a row is read back":      rowsReadBack,
		"absent rows":             rowsAbsent,
		"in the order of ids":     rowsInOrder,
		"all or nothing":          rowsAllOrNothing,
		"a panic keeps nothing":   rowsPanic,
		"without an audit line":   rowsKeep,
		"a change reads itself":   rowsReadOwn,
		"a view is one state":     rowsOneState,
		"rows are copies":         rowsAreCopies,
		"bad keys":                rowsBadKeys,
		"the trail":               rowsTrail,
		"the trail is a chain":    rowsChain,
		"a long trail is walked":  rowsLongTrail,
		"no change is lost":       rowsCrowd,
		"all is there afterwards": rowsAgain,
		"against a model":         rowsModel,
	} {
		t.Run(name, func(t *testing.T) { law(t, open) })
	}
}

// put writes one row in one change.
func put(t testing.TB, rows store.Rows, table, id, row string) {
	t.Helper()
	err := rows.Change(store.Audit{What: "put"}, func(w store.RowWriter) error { return w.Put(table, id, []byte(row)) })
	if err != nil {
		t.Fatal(err)
	}
}

// get reads one row, "absent" when there is none.
func get(t testing.TB, rows store.Rows, table, id string) (row string) {
	t.Helper()
	err := rows.View(func(r store.RowReader) error {
		raw, err := r.Get(table, id)
		row = string(raw)
		return err
	})
	if errors.Is(err, store.ErrNoRow) {
		return "absent"
	}
	if err != nil {
		t.Fatal(err)
	}
	return row
}

// table reads a whole table as "id=row" words.
func table(t testing.TB, rows store.Rows, name string) string {
	t.Helper()
	var words []string
	err := rows.View(func(r store.RowReader) error {
		return r.Each(name, func(id string, row []byte) error {
			words = append(words, id+"="+string(row))
			return nil
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	return strings.Join(words, " ")
}

// trail reads all audit lines.
func trail(t testing.TB, rows store.Rows) []store.Audit {
	t.Helper()
	all, err := rows.Audits(0, 1<<20)
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func rowsReadBack(t *testing.T, open OpenRows) {
	rows, _ := open(t)
	put(t, rows, "people", "p", "one")
	put(t, rows, "people", "p", "two")
	put(t, rows, "sites", "p", "three")
	put(t, rows, "sites", "ü\x00\xff", "")
	for _, c := range [][3]string{{"people", "p", "two"}, {"sites", "p", "three"}, {"sites", "ü\x00\xff", ""}} {
		if got := get(t, rows, c[0], c[1]); got != c[2] {
			t.Errorf("%s %q: %q, want %q", c[0], c[1], got, c[2])
		}
	}
}

func rowsAbsent(t *testing.T, open OpenRows) {
	rows, _ := open(t)
	if get(t, rows, "people", "p") != "absent" || table(t, rows, "people") != "" || len(trail(t, rows)) != 0 {
		t.Error("there is something in what should be empty")
	}
	put(t, rows, "people", "p", "one")
	for _, c := range [][2]string{{"people", "q"}, {"people", "pp"}, {"people", "P"}, {"peopl", "ep"}, {"peoplep", ""}} {
		if got := get(t, rows, c[0], c[1]); got != "absent" {
			t.Errorf("%v: %q", c, got)
		}
	}
	err := rows.Change(store.Audit{}, func(w store.RowWriter) error { return w.Drop("people", "q") })
	if !errors.Is(err, store.ErrNoRow) {
		t.Errorf("dropping what is not there: %v", err)
	}
	err = rows.Change(store.Audit{}, func(w store.RowWriter) error { return w.Drop("nowhere", "q") })
	if !errors.Is(err, store.ErrNoRow) {
		t.Errorf("dropping from no table: %v", err)
	}
}

func rowsInOrder(t *testing.T, open OpenRows) {
	rows, _ := open(t)
	for _, id := range []string{"b", "a", "é", "B", "ab", "10", "9"} {
		put(t, rows, "people", id, "1")
	}
	put(t, rows, "peoplex", "a", "2")
	if got := table(t, rows, "people"); got != "10=1 9=1 B=1 a=1 ab=1 b=1 é=1" {
		t.Error(got)
	}
	seen := 0
	err := rows.View(func(r store.RowReader) error {
		return r.Each("people", func(string, []byte) error { seen++; return errStop })
	})
	if err != errStop || seen != 1 {
		t.Errorf("%v after %d rows", err, seen)
	}
}

func rowsAllOrNothing(t *testing.T, open OpenRows) {
	rows, _ := open(t)
	put(t, rows, "people", "p", "one")
	err := rows.Change(store.Audit{What: "spoilt"}, func(w store.RowWriter) error {
		return errors.Join(w.Put("people", "p", []byte("two")), w.Put("sites", "s", []byte("x")), w.Drop("people", "p"), errStop)
	})
	if !errors.Is(err, errStop) {
		t.Errorf("%v", err)
	}
	if table(t, rows, "people") != "p=one" || table(t, rows, "sites") != "" || len(trail(t, rows)) != 1 {
		t.Errorf("%s, %s, %v", table(t, rows, "people"), table(t, rows, "sites"), trail(t, rows))
	}
	if err := rows.Change(store.Audit{}, func(store.RowWriter) error { return errStop }); err != errStop {
		t.Errorf("the error must come back as it is: %v", err)
	}
	if err := rows.View(func(store.RowReader) error { return errStop }); err != errStop {
		t.Errorf("the error must come back as it is: %v", err)
	}
}

func rowsKeep(t *testing.T, open OpenRows) {
	rows, _ := open(t)
	err := rows.Keep(func(w store.RowWriter) error { return w.Put("people", "p", []byte("one")) })
	if err != nil || get(t, rows, "people", "p") != "one" || len(trail(t, rows)) != 0 {
		t.Errorf("%v, %q, %v", err, get(t, rows, "people", "p"), trail(t, rows))
	}
	err = rows.Keep(func(w store.RowWriter) error { return errors.Join(w.Put("people", "p", []byte("two")), errStop) })
	if !errors.Is(err, errStop) || get(t, rows, "people", "p") != "one" {
		t.Errorf("%v, %q", err, get(t, rows, "people", "p"))
	}
}

// A panic in do passes through, keeps nothing and leaves the rows usable.
func rowsPanic(t *testing.T, open OpenRows) {
	rows, _ := open(t)
	func() {
		defer func() {
			if recover() != errStop {
				t.Error("the panic was swallowed")
			}
		}()
		_ = rows.Change(store.Audit{}, func(w store.RowWriter) error {
			if err := w.Put("people", "p", []byte("one")); err != nil {
				t.Error(err)
			}
			panic(errStop)
		})
	}()
	if got := get(t, rows, "people", "p"); got != "absent" || len(trail(t, rows)) != 0 {
		t.Errorf("%q and %v were kept", got, trail(t, rows))
	}
	put(t, rows, "people", "p", "two")
}

func rowsReadOwn(t *testing.T, open OpenRows) {
	rows, _ := open(t)
	put(t, rows, "people", "a", "1")
	err := rows.Change(store.Audit{}, func(w store.RowWriter) error {
		if err := errors.Join(w.Put("people", "b", []byte("2")), w.Drop("people", "a")); err != nil {
			return err
		}
		if _, err := w.Get("people", "a"); !errors.Is(err, store.ErrNoRow) {
			t.Errorf("dropped and there: %v", err)
		}
		if row, err := w.Get("people", "b"); err != nil || string(row) != "2" {
			t.Errorf("%q %v", row, err)
		}
		return w.Each("people", func(id string, _ []byte) error {
			if id != "b" {
				t.Errorf("%q is still listed", id)
			}
			return nil
		})
	})
	if err != nil || table(t, rows, "people") != "b=2" {
		t.Errorf("%v: %s", err, table(t, rows, "people"))
	}
}
