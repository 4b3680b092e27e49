package storetest

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"testing"

	"jointwalk/server/store"
)

// Each line of the trail names the SHA-256 of the line before it, in exactly these bytes: noted hashes hold for ever.
func rowsChain(t *testing.T, open OpenRows) {
	rows, again := open(t)
	prev := ""
	for i, what := range []string{"first", `with "quotes" and <signs>`, "ñ"} {
		audit := store.Audit{N: 9, At: "at", By: "by", What: what, About: "id", Prev: "forged", Hash: "forged"}
		refused := rows.Change(audit, func(store.RowWriter) error { return errStop })
		kept := rows.Keep(func(w store.RowWriter) error { return w.Put("people", "p", []byte("x")) })
		changed := rows.Change(audit, func(store.RowWriter) error { return nil })
		if refused != errStop || kept != nil || changed != nil {
			t.Fatal(refused, kept, changed)
		}
		if again != nil {
			rows = again()
		}
		said := []string{`first`, `with \"quotes\" and \u003csigns\u003e`, `ñ`}[i]
		line := fmt.Sprintf(`{"n":%d,"at":"at","by":"by","what":"%s","about":"id","prev":"%s"}`, i+1, said, prev)
		hash := fmt.Sprintf("%x", sha256.Sum256([]byte(line)))
		got := trail(t, rows)
		if len(got) != i+1 || got[i].What != what || got[i].Prev != prev || got[i].Hash != hash {
			t.Fatalf("%+v, want %s with %s", got, line, hash)
		}
		if head, err := rows.Head(); err != nil || head != (store.Head{N: uint64(i + 1), Hash: hash}) {
			t.Errorf("%+v %v", head, err)
		}
		prev = hash
	}
}

// A trail of more lines than are read at once is walked to its end, and so is an empty one.
func rowsLongTrail(t *testing.T, open OpenRows) {
	rows, _ := open(t)
	for _, lines := range []int{0, 1001} {
		for range lines {
			if err := rows.Change(store.Audit{What: "w"}, func(store.RowWriter) error { return nil }); err != nil {
				t.Fatal(err)
			}
		}
		seen, wrong := 0, []error{}
		at, err := store.WalkTrail(rows, func(store.Audit) { seen++ }, func(w string) { wrong = append(wrong, errors.New(w)) })
		if head, err2 := rows.Head(); err != nil || err2 != nil || at != head || head.N != uint64(lines) || seen != lines || len(wrong) != 0 {
			t.Errorf("%d lines: %d seen, %+v of %+v, %v, %v %v", lines, seen, at, head, wrong, err, err2)
		}
	}
}
