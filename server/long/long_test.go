package main

import (
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// program is the server, built for these tests.
var program string

func TestMain(m *testing.M) {
	folder, err := os.MkdirTemp("", "jointwalk-built-")
	if err != nil {
		panic(err)
	}
	program = filepath.Join(folder, "jointwalk")
	if said, err := exec.Command("go", "build", "-o", program, "jointwalk/server").CombinedOutput(); err != nil {
		panic(fmt.Sprintf("%v\n%s", err, said))
	}
	code := m.Run()
	_ = os.RemoveAll(folder)
	os.Exit(code)
}

// instead is a program that does something first and is then the server; $data is the data folder.
func instead(t *testing.T, first string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "server")
	script := fmt.Sprintf("#!/bin/sh\ndata=$2\nstarts=$(($(cat $data/starts 2>/dev/null || echo 0) + 1))\necho $starts > $data/starts\n%s\nexec %s \"$@\"\n", first, program)
	if err := os.WriteFile(path, []byte(script), 0o700); err != nil {
		t.Fatal(err)
	}
	return path
}

func short(program string) plan {
	return plan{program: program, kills: 5, clients: 3, seed: 7, limit: 20 * time.Second}
}

func TestTheServerKeepsItsWord(t *testing.T) {
	f, err := run(short(program), func(line string) { t.Log(line) })
	if err != nil {
		t.Fatal(err)
	}
	if f.Kills != 5 || f.StartKills != 1 || f.Checks != 7 || f.Acknowledged == 0 || f.Missing+f.Doubled != 0 || f.BackMost <= 0 || f.Bytes == 0 {
		t.Errorf("%+v", f)
	}
}

// A run must fail on a server that breaks its word.
func TestABadServerIsFound(t *testing.T) {
	for name, bad := range map[string]struct {
		first string
		says  []string // one of them
	}{
		"forgets what it acknowledged": {`[ $starts = 2 ] && cp $data/jointwalk.db $data/old
[ $starts = 4 ] && cp $data/old $data/jointwalk.db`, []string{"unknown-log", "the server lacks something"}}, // whether or not the logs were known by then
		"ends by itself":                     {`[ $starts = 3 ] && exit 1`, []string{errEnded.Error()}},
		"leaves a store that cannot be read": {`[ $starts = 6 ] && dd if=/dev/zero of=$data/jointwalk.db bs=4096 count=4 conv=notrunc && exec sleep 60`, []string{"store left by a kill"}},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := run(short(instead(t, bad.first)), func(line string) { t.Log(line) })
			if err == nil || !slices.ContainsFunc(bad.says, func(says string) bool { return strings.Contains(err.Error(), says) }) {
				t.Errorf("%v, want %q", err, bad.says)
			}
		})
	}
}

func TestALateServerIsFound(t *testing.T) {
	p := short(instead(t, `[ $starts = 2 ] && sleep 1`))
	p.limit = 700 * time.Millisecond
	if _, err := run(p, func(string) {}); !errors.Is(err, errLate) {
		t.Errorf("%v, want late", err)
	}
}

func TestCheckFindsDamage(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a.db")
	db, err := bbolt.Open(path, 0o600, nil)
	if err != nil {
		t.Fatal(err)
	}
	for n := range 40 { // one transaction each: pages are freed and used again
		err = errors.Join(err, db.Update(func(tx *bbolt.Tx) error {
			b, err := tx.CreateBucketIfNotExists([]byte("a"))
			return errors.Join(err, b.Put([]byte{byte(n)}, make([]byte, 1000)))
		}))
	}
	if err := errors.Join(err, db.Close(), check(path)); err != nil {
		t.Fatal(err)
	}
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	wrong := 0
	for page := 2 * os.Getpagesize(); page < len(raw); page += os.Getpagesize() {
		damaged := append([]byte{}, raw...)
		copy(damaged[page:], make([]byte, 16)) // the page's header
		if err := os.WriteFile(path, damaged, 0o600); err != nil {
			t.Fatal(err)
		}
		if safely(path) != nil {
			wrong++
		}
	}
	if wrong == 0 {
		t.Error("no page's loss was found")
	}
}

// safely takes bbolt's panic on a damaged page for what it is.
func safely(path string) (err error) {
	defer func() {
		if said := recover(); said != nil {
			err = fmt.Errorf("%v", said)
		}
	}()
	return check(path)
}

func pairs(lines ...string) (all []journal.Pair) {
	for _, line := range lines {
		all = append(all, journal.Pair{Line: journal.Line(line)})
	}
	return all
}

func TestCompare(t *testing.T) {
	told := func() []*story {
		return []*story{
			{lines: []journal.Line{journal.Line("a1"), journal.Line("a2"), journal.Line("a3"), journal.Line("a4")}, acked: 2, sent: 3},
			{lines: []journal.Line{journal.Line("b1")}, acked: 1, sent: 1},
		}
	}
	for name, c := range map[string]struct {
		feed []journal.Pair
		want tally
		says string
	}{
		"all there":                         {pairs("a1", "b1", "a2"), tally{acknowledged: 3}, ""},
		"kept, and the answer lost":         {pairs("a1", "a2", "a3", "b1"), tally{acknowledged: 3, unanswered: 1}, ""},
		"acknowledged and gone":             {pairs("a1", "b1"), tally{acknowledged: 3, missing: 1}, "1 acknowledged events are missing"},
		"twice":                             {pairs("a1", "a2", "b1", "b1"), tally{acknowledged: 3, doubled: 1}, "1 events are there more than once"},
		"twice though never acknowledged":   {pairs("a1", "a2", "a3", "a3", "b1"), tally{acknowledged: 3, unanswered: 1, doubled: 1}, "more than once"},
		"other bytes":                       {pairs("a1", "a2 ", "b1"), tally{acknowledged: 3, missing: 1}, "not as any phone sent"},
		"what no phone sent":                {pairs("a1", "a2", "b1", "a4"), tally{acknowledged: 3}, "not as any phone sent"},
		"nothing at all, and much was told": {nil, tally{acknowledged: 3, missing: 3}, "3 acknowledged"},
	} {
		got, err := compare(told(), c.feed)
		if got != c.want {
			t.Errorf("%s: %+v, want %+v", name, got, c.want)
		}
		if (err == nil) != (c.says == "") || err != nil && !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v, want %q", name, err, c.says)
		}
	}
}

func TestHeard(t *testing.T) {
	told := func(is string, seq, upto uint64) exchange.Answer {
		return exchange.Answer{Answers: []exchange.Verdict{{Log: "l", Seq: seq, Is: is}}, Upto: map[string]uint64{"l": upto}}
	}
	for name, c := range map[string]struct {
		answer exchange.Answer
		good   bool
	}{
		"kept":              {told(exchange.Applied, 3, 3), true},
		"kept before":       {told(exchange.Duplicate, 3, 9), true},
		"set aside":         {told(exchange.Aside, 3, 3), false},
		"another's answer":  {told(exchange.Applied, 4, 4), false},
		"one lost long ago": {told(exchange.Applied, 3, 1), false},
	} {
		p, s := &phone{}, &story{log: "l", acked: 2, sent: 3}
		if err := p.heard(s, c.answer, 3); (err == nil) != c.good {
			t.Errorf("%s: %v", name, err)
		}
		if moved := s.acked == 3; moved != c.good {
			t.Errorf("%s: acknowledged up to %d", name, s.acked)
		}
	}
}

func TestMeasure(t *testing.T) {
	var f figures
	f.Acknowledged = 300
	times := make([]time.Duration, 100)
	for i := range times {
		times[len(times)-1-i] = time.Duration(i+1) * time.Millisecond
	}
	f.measure(times, 1500*time.Millisecond)
	if f.BackMedian != 50 || f.Back95 != 95 || f.BackMost != 100 || f.LoadSeconds != 1.5 || f.EventsPerLoad != 200 {
		t.Errorf("%+v", f)
	}
	if got := share(nil, 0.5); got != 0 {
		t.Errorf("of none: %v", got)
	}
}

func TestArguments(t *testing.T) {
	into := t.TempDir()
	var said strings.Builder
	if code := start([]string{"-program", program, "-kills", "1", "-clients", "2", "-seed", "3", "-into", into}, &said); code != 0 {
		t.Fatalf("%d: %s", code, &said)
	}
	raw, err := os.ReadFile(filepath.Join(into, "server.json"))
	if err != nil {
		t.Fatal(err)
	}
	var f figures
	if err := json.Unmarshal(raw, &f); err != nil || f.Kills != 1 || f.Clients != 2 || f.Seed != 3 || f.Date == "" {
		t.Errorf("%v, %s", err, raw)
	}
	for _, args := range [][]string{{"-kills", "0"}, {"-clients", "0"}, {"more"}, {"-nothing"}} {
		if code := start(args, &said); code != 2 {
			t.Errorf("%v: %d, want 2", args, code)
		}
	}
	if code := start([]string{"-program", "/nowhere", "-into", into}, &said); code != 1 {
		t.Errorf("no program: %d, want 1", code)
	}
}
