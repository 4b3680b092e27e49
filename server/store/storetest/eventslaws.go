package storetest

import (
	"bytes"
	"fmt"
	"strings"
	"sync"
	"testing"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

func eventsNone(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	adds(t, events, "")
	if len(feed(t, events, "s")) != 0 || len(fixtureOf(t, events, "f")) != 0 || len(asides(t, events)) != 0 || events.Incarnation() == "" {
		t.Error("there is something in what should be empty, or it has no name")
	}
	upto(t, events, logA, 0)
}

func eventsReadBack(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	items := written(t, logA, "x", "s", 5)
	items[1].Receipt = exchange.Receipt{N: 99, At: "2026-03-04T12:00:01.000Z", From: "device-2"}
	adds(t, events, "applied applied", items[:2]...)
	adds(t, events, "applied applied applied", items[2:]...)
	lines(t, "feed", feed(t, events, "s"), items...)
	upto(t, events, logA, 5)
}

func eventsSlices(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	items := written(t, logA, "x", "s", 7)
	add(t, events, items...)
	add(t, events, written(t, logB, "x", "t", 3)...) // a neighbour by name
	for _, c := range []struct {
		after uint64
		most  int
		more  bool
		n     int
	}{{0, 3, true, 3}, {3, 3, true, 3}, {4, 3, false, 3}, {6, 3, false, 1}, {7, 3, false, 0}, {8, 3, false, 0}, {1 << 63, 3, false, 0}, {^uint64(0), 3, false, 0}} {
		got, more, err := events.Site("s", c.after, c.most)
		if err != nil || more != c.more || len(got) != c.n {
			t.Errorf("%+v: %d, more %v, %v", c, len(got), more, err)
			continue
		}
		lines(t, fmt.Sprint(c), got, items[min(c.after, 7):][:c.n]...)
	}
}

// Names that begin alike, and sites that grow in turn.
func eventsSites(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	items := chained(t, logA, "x", about("s", "f"), about("ss", "f"), about("s", "ff"), about("s-s", ""), about("ss", ""))
	add(t, events, items...)
	lines(t, "s", feed(t, events, "s"), items[0], items[2])
	lines(t, "ss", feed(t, events, "ss"), items[1], items[4])
	lines(t, "s-s", feed(t, events, "s-s"), items[3])
	lines(t, "none", feed(t, events, "sss"))
	upto(t, events, logA, 5)
	upto(t, events, logA[:35], 0)
}

func eventsFixture(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	a := chained(t, logA, "x", about("s", "f"), about("s", "ff"), about("r", "f"), about("s", ""))
	b := chained(t, logB, "x", about("a", "f"))
	add(t, events, a[0], a[1])
	add(t, events, b...)
	add(t, events, a[2], a[3], a[0])
	lines(t, "f", fixtureOf(t, events, "f"), a[0], b[0], a[2])
	lines(t, "ff", fixtureOf(t, events, "ff"), a[1])
	lines(t, "no fixture", fixtureOf(t, events, ""))
	lines(t, "unknown", fixtureOf(t, events, "g"))
}

// What is handed in and what is handed out belong to the caller.
func eventsAreCopies(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	items, bad := chained(t, logA, "x", about("s", "f"), about("s", "f")), unparsable("bad")
	mine := []exchange.Incoming{items[0], items[1], bad}
	for i := range mine {
		mine[i].Line = bytes.Clone(mine[i].Line)
	}
	add(t, events, mine...)
	for round := range 2 {
		handed := append(feed(t, events, "s"), fixtureOf(t, events, "f")...)
		lines(t, fmt.Sprint(round), handed, items[0], items[1], items[0], items[1])
		set := asides(t, events)
		if string(set[0].Line) != "bad" {
			t.Errorf("%d: %s", round, set[0].Line)
		}
		set[0].Line[0], mine[0].Line[0], mine[2].Line[0] = 'X', 'X', 'X'
		for _, h := range handed {
			h.Line[0] = 'X'
		}
	}
}

func eventsDuplicate(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	items := written(t, logA, "x", "s", 2)
	adds(t, events, "applied duplicate applied duplicate", items[0], items[0], items[1], items[0])
	adds(t, events, "duplicate duplicate", items...)
	again := items[0]
	again.Receipt.From = "device-2"
	adds(t, events, "duplicate duplicate", again, aside(items[1], "not-allowed"))
	lines(t, "feed", feed(t, events, "s"), items...)
	if len(asides(t, events)) != 0 {
		t.Error("a duplicate was set aside")
	}
}

func eventsFork(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	one, other := written(t, logA, "one", "s", 3), written(t, logA, "other", "s", 3)
	adds(t, events, "applied applied forked", one[0], one[1], other[0])
	adds(t, events, "forked forked", other[0], other[1])
	adds(t, events, "chain applied", other[2], one[2])
	lines(t, "feed", feed(t, events, "s"), one...)
	got := asides(t, events)
	if len(got) != 3 || got[0].Code != "forked" || got[0].Hash != other[0].Hash || got[1].Hash != other[1].Hash || got[2].Code != store.CodeChain {
		t.Errorf("%+v", got)
	}
}

// One that never comes, or comes late, holds up no other.
func eventsHole(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	items := written(t, logA, "x", "s", 6)
	adds(t, events, "applied applied applied", items[0], items[3], items[5])
	upto(t, events, logA, 1)
	adds(t, events, "applied", items[2])
	upto(t, events, logA, 1)
	adds(t, events, "applied", items[1])
	upto(t, events, logA, 4)
	lines(t, "feed", feed(t, events, "s"), items[0], items[3], items[5], items[2], items[1])
	if len(asides(t, events)) != 0 {
		t.Error("set aside for want of a neighbour")
	}
}

func eventsChain(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	one, other := written(t, logA, "one", "s", 4), written(t, logA, "other", "s", 4)
	adds(t, events, "applied chain applied", one[0], other[1], one[1]) // behind its neighbour
	adds(t, events, "applied chain", one[3], other[2])                 // between two
	adds(t, events, "applied", one[2])
	lines(t, "feed", feed(t, events, "s"), one[0], one[1], one[3], one[2])
	late := written(t, logB, "late", "s", 2)
	adds(t, events, "applied chain", late[1], written(t, logB, "early", "s", 1)[0]) // before its neighbour
	upto(t, events, logB, 2)
}

func eventsAsides(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	item, bad := written(t, logA, "x", "s", 1)[0], unparsable("\xff\x00 no event")
	adds(t, events, "bad-line not-allowed bad-line", bad, aside(item, "not-allowed"), bad)
	adds(t, events, "no-longer bad-line", aside(item, "no-longer"), bad)
	got := asides(t, events)
	if len(got) != 2 {
		t.Fatalf("%+v", got)
	}
	for i, want := range []store.Aside{store.AsideOf(1, bad, "bad-line"), store.AsideOf(2, item, "not-allowed")} {
		if fmt.Sprint(got[i]) != fmt.Sprint(want) {
			t.Errorf("%+v, want %+v", got[i], want)
		}
	}
	for _, c := range []struct {
		after uint64
		most  int
		n     int
	}{{0, 1, 1}, {1, 1, 1}, {1, 5, 1}, {2, 5, 0}, {^uint64(0), 5, 0}, {0, 0, 0}} {
		if some, err := events.Asides(c.after, c.most); err != nil || len(some) != c.n || c.n > 0 && some[0].N != c.after+1 {
			t.Errorf("%+v: %+v %v", c, some, err)
		}
	}
	if len(feed(t, events, "s")) != 0 {
		t.Error("what was set aside is in the feed")
	}
	nobody := exchange.Incoming{Line: journal.Line("x"), Hash: journal.Hash(journal.Line("x")), Receipt: receipt}
	adds(t, events, journal.CodeBadLine, nobody) // neither parsed nor marked
}

func eventsAsideUpto(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	items := written(t, logA, "x", "s", 4)
	adds(t, events, "applied applied", items[0], items[3])
	adds(t, events, "not-allowed", aside(items[2], "not-allowed"))
	upto(t, events, logA, 1)
	adds(t, events, "not-allowed bad-line", aside(items[1], "not-allowed"), unparsable("x"))
	upto(t, events, logA, 4)
	upto(t, events, "", 0)
}

// Set aside for want of a right that its sender got later.
func eventsAllowedLater(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	items := written(t, logA, "x", "s", 2)
	adds(t, events, "not-allowed applied", aside(items[0], "not-allowed"), items[1])
	adds(t, events, "applied", items[0])
	adds(t, events, "duplicate duplicate", items[0], aside(items[0], "not-allowed"))
	lines(t, "feed", feed(t, events, "s"), items[1], items[0])
	upto(t, events, logA, 2)
}

func eventsStrange(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	items := chained(t, logA, "<&>\u2028 \\ \" é \x7f", about("s", ""))
	items = append(items, chained(t, logB, strings.Repeat("y", 15_000), about("s", ""))...)
	items[0].Line = append(append(journal.Line{}, '{', '\t', ' '), items[0].Line[1:]...) // space within is JSON too
	items[0].Hash = journal.Hash(items[0].Line)
	adds(t, events, "applied applied bad-line", items[0], items[1], unparsable(strings.Repeat("\n", 1<<18)))
	lines(t, "feed", feed(t, events, "s"), items...)
	if got := asides(t, events); len(got) != 1 || len(got[0].Line) != 1<<18 {
		t.Error("the long line that is no event")
	}
}

// Many phones push to one site while a desk reads: the reader never sees a hole, nothing is lost, nothing comes twice.
func eventsCrowd(t *testing.T, open OpenEvents) {
	const phones, each = 6, 20
	events, _ := open(t)
	var writing sync.WaitGroup
	for phone := range phones {
		items := written(t, logA[:35]+fmt.Sprint(phone), "x", "s", each)
		writing.Go(func() {
			for _, item := range items {
				adds(t, events, "applied duplicate", item, item)
			}
		})
	}
	done := make(chan struct{})
	go func() {
		writing.Wait()
		close(done)
	}()
	seen := 0
	for reading := true; reading; {
		select {
		case <-done:
			reading = false
		default:
		}
		some, _, err := events.Site("s", uint64(seen), 1<<20)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range some {
			if seen++; s.Receipt.N != uint64(seen) {
				t.Fatalf("saw n %d before %d", s.Receipt.N, seen)
			}
		}
	}
	distinct := map[string]bool{}
	for _, s := range feed(t, events, "s") {
		distinct[journal.Hash(s.Line)] = true
	}
	if seen != phones*each || len(distinct) != seen {
		t.Errorf("saw %d of %d, %d distinct", seen, phones*each, len(distinct))
	}
}

func eventsAgain(t *testing.T, open OpenEvents) {
	events, again := open(t)
	if again == nil {
		return // nothing outlives the process
	}
	items := chained(t, logA, "x", about("s", "f"), about("s", ""), about("t", "f"), about("s", "f"))
	add(t, events, items[0], items[1], aside(items[2], "not-allowed"), unparsable("bad"))
	name, set := events.Incarnation(), fmt.Sprint(asides(t, events))
	events = again()
	lines(t, "feed", feed(t, events, "s"), items[:2]...)
	lines(t, "fixture", fixtureOf(t, events, "f"), items[0])
	upto(t, events, logA, 3)
	if events.Incarnation() != name || fmt.Sprint(asides(t, events)) != set {
		t.Error("another incarnation, or other asides")
	}
	adds(t, events, "duplicate not-allowed applied bad-line bad-line", items[0], aside(items[2], "not-allowed"), items[3], unparsable("bad"), unparsable("worse"))
	lines(t, "feed", feed(t, events, "s"), items[0], items[1], items[3])
	if got := asides(t, events); len(got) != 3 {
		t.Errorf("%+v", got)
	}
}
