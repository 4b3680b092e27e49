package main

import (
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
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
		panic(err.Error() + "\n" + string(said))
	}
	code := m.Run()
	_ = os.RemoveAll(folder)
	os.Exit(code)
}

// Everything is measured, in small.
func TestAllIsMeasured(t *testing.T) {
	var said strings.Builder
	if code := start([]string{"-program", program, "-phones", "3", "-events", "20", "-first", "700", "-sizes", "600", "-runs", "1"}, &said); code != 0 {
		t.Fatalf("%d\n%s", code, &said)
	}
	for _, want := range []string{"3 phones × 20 events, gzip", "3 phones × 20 events, plain", "700 events in 2 requests", "3 phones pull a slice at once, filtered true",
		"empty turn, one site: 1 request", "batches of 200", "batches of 10", "600 events, 20 fixtures", "home after one more event"} {
		if !strings.Contains(said.String(), want) {
			t.Errorf("%q is not among\n%s", want, &said)
		}
	}
}

// A server that does not take events in must not be measured as a fast one.
func TestAWrongAnswerEndsIt(t *testing.T) {
	p := plan{program: program, phones: 2, events: 5, runs: 1}
	err := with(p, 2, 0, func(w *world, s *server) error {
		all, err := arrivals(p, w, s, true)
		if err != nil {
			return err
		}
		all[1].body = all[0].body // another's events: duplicates or not, not all can be new
		rush(all)
		if verdicts(all) == nil {
			t.Error("events that were there already count as taken in")
		}
		all[0].token = "nobody"
		rush(all[:1])
		if err := verdicts(all[:1]); err == nil || !strings.Contains(err.Error(), "no-session") {
			t.Errorf("a refused push: %v", err)
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// The phone's files hold what they say, for the journal that phones run.
func TestAPoolIsAPhones(t *testing.T) {
	folder := t.TempDir()
	if code := start([]string{"-pool", folder, "-pooled", "3001"}, &strings.Builder{}); code != 0 {
		t.Fatal(code)
	}
	var slots []journal.Slot
	for n := range journal.PoolSize {
		raw, err := os.ReadFile(filepath.Join(folder, poolName(n)))
		if err != nil {
			t.Fatal(err)
		}
		file := &journal.Memory{}
		if _, err := file.WriteAt(raw, 0); err != nil {
			t.Fatal(err)
		}
		slots = append(slots, journal.Slot{Name: poolName(n), File: file})
	}
	pool, err := journal.OpenPool(slots, "018f0000-0000-7000-8000-0000000000d1")
	if err != nil {
		t.Fatal(err)
	}
	feed, err := pool.Site(plant)
	if err != nil {
		t.Fatal(err)
	}
	own := pool.Log().Count(nil)
	if report := pool.Report(); own < 1500 || own > 1500+30 || feed.Len() != 1501 || report.Bad != 0 || len(report.Lost) != 0 {
		t.Errorf("%d own, %d pulled, %+v", own, feed.Len(), report)
	}
	if code := start([]string{"-pool", filepath.Join(folder, "none")}, &strings.Builder{}); code != 1 {
		t.Errorf("a folder that is not there: %d", code)
	}
}

func TestAServerThatDoesNotStart(t *testing.T) {
	if code := start([]string{"-program", filepath.Join(t.TempDir(), "none"), "-only", "empty"}, &strings.Builder{}); code != 1 {
		t.Errorf("%d", code)
	}
}

func TestFlags(t *testing.T) {
	var said strings.Builder
	for _, bad := range [][]string{{"-phones", "0"}, {"-events", "201"}, {"-sizes", "many"}, {"-sizes", "0"}, {"-runs", "0"}, {"-first", "0"}, {"-none"}} {
		if code := start(bad, &said); code != 2 {
			t.Errorf("%v: %d", bad, code)
		}
	}
	if code := start([]string{"-h"}, &said); code != 0 {
		t.Errorf("help: %d", code)
	}
	p, err := readPlan([]string{"-sizes", "5,7"}, true, &said)
	if err != nil || !slices.Equal(p.sizes, []int{5, 7, 1_000_000}) || p.phones != 300 || p.events != 200 {
		t.Errorf("%+v %v", p, err)
	}
}

// What the author writes is what a phone writes: whole lines, checked bodies, mostly looks at which nothing was seen.
func TestTheAuthor(t *testing.T) {
	w := &world{site: "018f0000-0000-7000-8000-00000000000a", installation: "018f0000-0000-7000-8000-000000000001", tick: 40}
	a, err := newAuthor(w, "018f0000-0000-7000-8000-0000000000aa", 7)
	if err != nil {
		t.Fatal(err)
	}
	f, err := a.register(0)
	if err != nil {
		t.Fatal(err)
	}
	a.fixtures = []fixture{f}
	lines, err := a.some(600)
	if err != nil || len(lines) != 600 {
		t.Fatalf("%d %v", len(lines), err)
	}
	kinds := map[string]int{}
	book := record.NewBook()
	for i, line := range lines {
		e, err := journal.Parse(line)
		if err != nil {
			t.Fatal(err)
		}
		if err := record.CheckBody(e.Kind, e.V, e.Body); err != nil {
			t.Errorf("%s: %v", line, err)
		}
		if e.Seq != uint64(i+1) || e.Tick <= 40 {
			t.Errorf("seq %d, tick %d", e.Seq, e.Tick)
		}
		kinds[e.Kind]++
		book.Add(e)
	}
	if looks := kinds[string(record.LookMade)]; looks < 400 || looks+kinds[string(record.FindingMended)]+kinds[string(record.RoundStarted)] > 600 {
		t.Errorf("%v", kinds)
	}
	if state := book.Fixture(f.id); len(state.Joints) != jointsEach || len(state.Rounds) < 30 || len(state.Looks) != kinds[string(record.LookMade)] {
		t.Errorf("%d joints, %d rounds, %d looks", len(state.Joints), len(state.Rounds), len(state.Looks))
	}
}

func TestShare(t *testing.T) {
	var all []time.Duration
	for n := range 200 {
		all = append(all, time.Duration(200-n)*time.Millisecond)
	}
	if share(all, 0.5) != 100*time.Millisecond || share(all, 0.99) != 198*time.Millisecond || share(all, 1) != 200*time.Millisecond || share(nil, 0.5) != 0 {
		t.Errorf("%v %v", share(all, 0.5), share(all, 0.99))
	}
	if ms(1500*time.Microsecond) != "1.5 ms" {
		t.Error(ms(1500 * time.Microsecond))
	}
	if rounded(1.23456e-7) != 1.235e-7 {
		t.Error(rounded(1.23456e-7))
	}
}

func TestEndOf(t *testing.T) {
	if cursor, more, err := endOf([]byte("a\nb\n{\"cursor\":\"c.2\",\"more\":true}\n")); cursor != "c.2" || !more || err != nil {
		t.Errorf("%q %t %v", cursor, more, err)
	}
	for _, bad := range []string{"", "a\n", "{\"more\":true}\n"} {
		if _, _, err := endOf([]byte(bad)); err == nil {
			t.Errorf("%q has an end", bad)
		}
	}
}

func TestAllApplied(t *testing.T) {
	good := exchange.Answer{Answers: []exchange.Verdict{{Is: exchange.Applied}}}
	var aside exchange.Answer
	if err := json.Unmarshal([]byte(`{"answers":[{"seq":1,"is":"aside","code":"forked"}]}`), &aside); err != nil {
		t.Fatal(err)
	}
	if allApplied(good, 1) != nil || allApplied(good, 2) == nil || allApplied(aside, 1) == nil {
		t.Error("a wrong answer passes")
	}
}
