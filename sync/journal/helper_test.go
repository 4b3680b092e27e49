package journal

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"jointwalk/sync/journal/badfile"
	"jointwalk/sync/lightjson"
)

// uid makes a UUIDv7-shaped id that is told apart by n.
func uid(n int) string {
	s := strconv.FormatInt(int64(n), 16)
	return "01890000-0000-7000-8000-" + strings.Repeat("0", 12-len(s)) + s
}

var (
	logA = uid(0xa)
	logB = uid(0xb)
)

// draft makes a draft whose body tells n.
func draft(n int) Draft {
	return Draft{ID: uid(1000 + n), Time: "2026-03-04T05:06:07.089Z", Zone: "Europe/Paris", By: "person-1",
		About: About{Site: "site-1", Fixture: "fixture-1", Of: "joint-1"}, Kind: "look",
		Body: map[string]any{"n": n, "note": "a <b> & \u00b5 \t tab"}}
}

func drafts(from, to int) []Draft {
	var all []Draft
	for n := from; n < to; n++ {
		all = append(all, draft(n))
	}
	return all
}

// written makes n lines of one log.
func written(t testing.TB, log string, n int) []Line {
	t.Helper()
	l := must(OpenLog(&Memory{}, log))
	return must(l.Append(drafts(0, n)))
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func lines(t testing.TB, l *Log) []string {
	t.Helper()
	var all []string
	if err := l.Each(func(line Line) bool { all = append(all, string(line)); return true }); err != nil {
		t.Fatal(err)
	}
	return all
}

func texts(lines []Line) []string {
	var all []string
	for _, l := range lines {
		all = append(all, string(l))
	}
	return all
}

func same(a, b []string) bool {
	if len(a) != len(b) {
		return false
	}
	for i := range a {
		if a[i] != b[i] {
			return false
		}
	}
	return true
}

// pool opens a pool over files; names in fresh were made at this start.
func pool(t testing.TB, files []*badfile.File, id string, fresh ...int) (*Pool, error) {
	t.Helper()
	var slots []Slot
	for i, f := range files {
		s := Slot{Name: "pool-" + strconv.Itoa(i), File: f}
		for _, n := range fresh {
			s.Fresh = s.Fresh || n == i
		}
		slots = append(slots, s)
	}
	return OpenPool(slots, id)
}

// newPool is a first start with n files.
func newPool(t testing.TB, n int) (*Pool, []*badfile.File) {
	t.Helper()
	var files []*badfile.File
	var fresh []int
	for i := range n {
		files = append(files, badfile.New(nil))
		fresh = append(fresh, i)
	}
	return must(pool(t, files, uid(1), fresh...)), files
}

// restart opens the files as a crash leaves them that keeps keep bytes of what was not flushed.
func restart(t testing.TB, files []*badfile.File, keep int, id string) (*Pool, []*badfile.File) {
	t.Helper()
	var after []*badfile.File
	for _, f := range files {
		after = append(after, f.Crash(keep))
	}
	p, err := pool(t, after, id)
	if err != nil {
		t.Fatalf("the pool did not open after a crash: %v", err)
	}
	return p, after
}

// fixed edits one field of a good line by way of its raw JSON.
func fixed(t testing.TB, line Line, field string, value string) Line {
	t.Helper()
	var raw map[string]json.RawMessage
	if err := json.Unmarshal(line, &raw); err != nil {
		t.Fatal(err)
	}
	if value == "" {
		delete(raw, field)
	} else {
		raw[field] = json.RawMessage(value)
	}
	return must(lightjson.Marshal(raw))
}

func pairs(t testing.TB, log string, from, to int) []Pair {
	t.Helper()
	var all []Pair
	for i, line := range written(t, log, to)[from:] {
		all = append(all, Pair{Line: line, Receipt: Receipt{N: uint64(from + i + 1), At: "2026-03-04T05:06:08.000Z", Offset: int64(-i), From: "device-1"}})
	}
	return all
}

func held(t testing.TB, f *Feed) []string {
	t.Helper()
	var all []string
	err := f.Each(func(p Pair) bool {
		all = append(all, string(p.Line)+string(AppendReceipt(nil, p.Receipt)))
		return true
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func whole(pairs []Pair) []string {
	var all []string
	for _, p := range pairs {
		all = append(all, string(p.Line)+string(AppendReceipt(nil, p.Receipt)))
	}
	return all
}
