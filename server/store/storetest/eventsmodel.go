package storetest

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// eventsWorld is a store beside the simplest thing that behaves alike.
type eventsWorld struct {
	t      *testing.T
	events Kept
	again  func() Kept
	pool   []exchange.Incoming // what phones may push: two histories each of two logs, and what is no event

	feeds, fixtures map[string][]string // name → words in order
	held            map[string]exchange.Incoming
	seen            map[string]bool
	asides          []string
}

func newEventsWorld(t *testing.T, open OpenEvents) *eventsWorld {
	w := &eventsWorld{t: t, feeds: map[string][]string{}, fixtures: map[string][]string{}, held: map[string]exchange.Incoming{}, seen: map[string]bool{}}
	w.events, w.again = open(t)
	for _, log := range []string{logA, logB} {
		for _, word := range []string{"one", "other"} {
			w.pool = append(w.pool, chained(t, log, word, about("s", "f"), about("t", "f"), about("s", ""), about("s", "g"), about("ss", "f"))...)
		}
	}
	w.pool = append(w.pool, unparsable("bad"), unparsable("worse"))
	return w
}

func identity(log string, seq uint64) string { return fmt.Sprint(log, seq) }

// push hands in a batch and holds its verdicts to the model's.
func (w *eventsWorld) push(rt *rapid.T) {
	var batch []exchange.Incoming
	var want []string
	for range rapid.IntRange(1, 6).Draw(rt, "size") {
		item := rapid.SampledFrom(w.pool).Draw(rt, "item")
		if item.Aside == "" && rapid.IntRange(0, 5).Draw(rt, "refused") == 0 {
			item.Aside = "not-allowed"
		}
		batch, want = append(batch, item), append(want, w.expect(item))
	}
	if got := add(w.t, w.events, batch...); !slices.Equal(got, want) {
		rt.Fatalf("got %v, want %v", got, want)
	}
}

// expect takes an item into the model.
func (w *eventsWorld) expect(item exchange.Incoming) string {
	e := item.Event
	here, known := w.held[identity(e.Log, e.Seq)]
	before, first := w.held[identity(e.Log, e.Seq-1)]
	after, second := w.held[identity(e.Log, e.Seq+1)]
	code := ""
	switch {
	case known && here.Hash == item.Hash:
		return exchange.Duplicate
	case item.Aside != "":
		code = item.Aside
	case known:
		code = journal.CodeForked
	case first && before.Hash != e.Prev, second && after.Event.Prev != item.Hash:
		code = "chain"
	}
	if e.Log != "" {
		w.seen[identity(e.Log, e.Seq)] = true
	}
	if code != "" {
		if !slices.ContainsFunc(w.asides, func(a string) bool { return a[:64] == item.Hash }) {
			w.asides = append(w.asides, item.Hash+code)
		}
		return code
	}
	w.held[identity(e.Log, e.Seq)] = item
	w.feeds[e.About.Site] = append(w.feeds[e.About.Site], item.Hash)
	if e.About.Fixture != "" {
		w.fixtures[e.About.Fixture] = append(w.fixtures[e.About.Fixture], item.Hash)
	}
	return exchange.Applied
}

func (w *eventsWorld) restart(*rapid.T) {
	if w.again != nil {
		w.events = w.again()
	}
}

// check: the feeds, the fixtures, the frontiers and the asides are the model's.
func (w *eventsWorld) check(rt *rapid.T) {
	for _, name := range []string{"s", "ss", "t", "f", "g", "none"} {
		var inFeed, atFixture []string
		for _, s := range feed(w.t, w.events, name) {
			inFeed = append(inFeed, journal.Hash(s.Line))
		}
		for _, s := range fixtureOf(w.t, w.events, name) {
			atFixture = append(atFixture, journal.Hash(s.Line))
		}
		if !slices.Equal(inFeed, w.feeds[name]) || !slices.Equal(atFixture, w.fixtures[name]) {
			rt.Fatalf("%s: %d and %d, want %d and %d", name, len(inFeed), len(atFixture), len(w.feeds[name]), len(w.fixtures[name]))
		}
	}
	for _, log := range []string{logA, logB} {
		want := uint64(0)
		for w.seen[identity(log, want+1)] {
			want++
		}
		if got, err := w.events.Upto(log); err != nil || got != want {
			rt.Fatalf("upto %d %v, want %d", got, err, want)
		}
	}
	var set []string
	for _, a := range asides(w.t, w.events) {
		set = append(set, a.Hash+a.Code)
	}
	if !slices.Equal(set, w.asides) {
		rt.Fatalf("asides %v, want %v", set, w.asides)
	}
}

func eventsModel(t *testing.T, open OpenEvents) {
	rapid.Check(t, func(rt *rapid.T) {
		w := newEventsWorld(t, open)
		defer func() {
			if err := w.events.Close(); err != nil {
				t.Error(err)
			}
		}()
		rt.Repeat(map[string]func(*rapid.T){"push": w.push, "restart": w.restart, "": w.check})
	})
}
