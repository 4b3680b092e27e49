package storetest

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"jointwalk/server/store"
)

// Two rows that are always changed together are never seen apart.
func rowsOneState(t *testing.T, open OpenRows) {
	rows, _ := open(t)
	both := func(value string) error {
		return rows.Change(store.Audit{}, func(w store.RowWriter) error {
			return errors.Join(w.Put("left", "x", []byte(value)), w.Put("right", "x", []byte(value)))
		})
	}
	if err := both("start"); err != nil {
		t.Fatal(err)
	}
	var writing sync.WaitGroup
	writing.Go(func() {
		for i := range 200 {
			if err := both(fmt.Sprint(i)); err != nil {
				t.Error(err)
			}
		}
	})
	for range 200 {
		err := rows.View(func(r store.RowReader) error {
			left, err := r.Get("left", "x")
			right, err2 := r.Get("right", "x")
			if !bytes.Equal(left, right) {
				t.Errorf("%s beside %s", left, right)
			}
			return errors.Join(err, err2)
		})
		if err != nil {
			t.Error(err)
		}
	}
	writing.Wait()
}

// What is written and what is read belong to the caller, even after the transaction.
func rowsAreCopies(t *testing.T, open OpenRows) {
	rows, _ := open(t)
	mine := []byte("one")
	err := rows.Change(store.Audit{}, func(w store.RowWriter) error {
		err := w.Put("people", "p", mine)
		mine[0] = 'X'
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	var got, listed []byte
	err = rows.View(func(r store.RowReader) error {
		if got, err = r.Get("people", "p"); err != nil {
			return err
		}
		return r.Each("people", func(_ string, row []byte) error { listed = row; return nil })
	})
	if err != nil || string(got) != "one" || string(listed) != "one" {
		t.Fatalf("%q %q %v", got, listed, err)
	}
	got[0], listed[1] = 'Y', 'Y'
	for i := range 50 {
		put(t, rows, "people", fmt.Sprint(i), strings.Repeat("z", 500))
	}
	if string(got) != "Yne" || string(listed) != "oYe" || get(t, rows, "people", "p") != "one" {
		t.Errorf("%q %q %q", got, listed, get(t, rows, "people", "p"))
	}
}

func rowsBadKeys(t *testing.T, open OpenRows) {
	rows, _ := open(t)
	long := strings.Repeat("k", store.MaxKey)
	for _, key := range [][2]string{{"", "p"}, {"people", ""}, {long + "k", "p"}, {"people", long + "k"}} {
		for what, do := range map[string]func(store.RowWriter) error{
			"put":  func(w store.RowWriter) error { return w.Put(key[0], key[1], []byte("x")) },
			"drop": func(w store.RowWriter) error { return w.Drop(key[0], key[1]) },
		} {
			if err := rows.Change(store.Audit{}, do); store.CodeOf(err) != store.CodeBadKey {
				t.Errorf("%s of %.10q %.10q: %v", what, key[0], key[1], err)
			}
		}
	}
	put(t, rows, long, long, "fits")
	if get(t, rows, long, long) != "fits" || len(trail(t, rows)) != 1 {
		t.Errorf("%q, %d audit lines", get(t, rows, long, long), len(trail(t, rows)))
	}
}

func rowsTrail(t *testing.T, open OpenRows) {
	rows, _ := open(t)
	for i := range 5 {
		err := rows.Change(store.Audit{N: 77, At: "at", By: "by", What: "what", About: fmt.Sprint(i)}, func(store.RowWriter) error { return nil })
		if err != nil {
			t.Fatal(err)
		}
	}
	for i, a := range trail(t, rows) {
		if a.Prev, a.Hash = "", ""; a != (store.Audit{N: uint64(i + 1), At: "at", By: "by", What: "what", About: fmt.Sprint(i)}) {
			t.Errorf("%+v", a)
		}
	}
	for _, c := range []struct {
		after uint64
		most  int
		want  []uint64
	}{{0, 2, []uint64{1, 2}}, {2, 2, []uint64{3, 4}}, {4, 2, []uint64{5}}, {5, 2, nil}, {1 << 63, 2, nil}, {^uint64(0), 2, nil}, {0, 0, nil}} {
		some, err := rows.Audits(c.after, c.most)
		var got []uint64
		for _, a := range some {
			got = append(got, a.N)
		}
		if err != nil || !slices.Equal(got, c.want) {
			t.Errorf("after %d, most %d: %v %v, want %v", c.after, c.most, got, err, c.want)
		}
	}
}

// Many who count in one row count right, and the trail has each of them.
func rowsCrowd(t *testing.T, open OpenRows) {
	rows, _ := open(t)
	put(t, rows, "count", "x", "")
	var all sync.WaitGroup
	for range 8 {
		all.Go(func() {
			for range 10 {
				err := rows.Change(store.Audit{What: "counted"}, func(w store.RowWriter) error {
					row, err := w.Get("count", "x")
					return errors.Join(err, w.Put("count", "x", append(row, '+')))
				})
				if err != nil {
					t.Error(err)
				}
			}
		})
	}
	all.Wait()
	if n := len(get(t, rows, "count", "x")); n != 80 {
		t.Errorf("counted %d of 80", n)
	}
	for i, a := range trail(t, rows) {
		if a.N != uint64(i+1) {
			t.Fatalf("audit line %d has n %d", i+1, a.N)
		}
	}
	if n := len(trail(t, rows)); n != 81 {
		t.Errorf("%d audit lines of 81", n)
	}
}

func rowsAgain(t *testing.T, open OpenRows) {
	rows, again := open(t)
	if again == nil {
		return // nothing outlives the process
	}
	for i := range 20 {
		put(t, rows, "people", fmt.Sprintf("%02d", i), "row")
	}
	people, audits := table(t, rows, "people"), trail(t, rows)
	rows = again()
	if table(t, rows, "people") != people || !slices.Equal(trail(t, rows), audits) {
		t.Errorf("%s, %v", table(t, rows, "people"), trail(t, rows))
	}
	put(t, rows, "people", "20", "row")
	if got := trail(t, rows); got[20].N != 21 {
		t.Errorf("%+v", got[20])
	}
}
