package storetest

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"jointwalk/server/store"
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
	places          map[string]string // fixture → the site it was moved to
	seen            map[string]bool
	asides          []*setAside
}

// setAside is what the model keeps of one. how is "" while it is open.
type setAside struct {
	item      exchange.Incoming
	code, how string
}

func newEventsWorld(t *testing.T, open OpenEvents) *eventsWorld {
	w := &eventsWorld{t: t, feeds: map[string][]string{}, fixtures: map[string][]string{}, places: map[string]string{},
		held: map[string]exchange.Incoming{}, seen: map[string]bool{}}
	w.events, w.again = open(t)
	for _, log := range []string{logA, logB} {
		for _, word := range []string{"one", "other"} {
			written := chained(t, log, word, about("s", "f"), about("t", "f"), about("s", ""), about("s", "g"), about("ss", "f"), about("s", "f"), about("t", "g"))
			written[1].To, written[3].To, written[4].To, written[5].To = "ss", "t", "s", "t"
			w.pool = append(w.pool, written...)
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
	apart := w.apart(item.Hash)
	code := ""
	switch {
	case known && here.Hash == item.Hash, apart != nil && apart.how == "accepted":
		return exchange.Duplicate
	case apart != nil && apart.how != "":
		return apart.code
	case item.Aside != "":
		code = item.Aside
	case known:
		code = journal.CodeForked
	case !w.fits(item):
		code = "chain"
	}
	if e.Log != "" {
		w.seen[identity(e.Log, e.Seq)] = true
	}
	switch {
	case code == "" && apart != nil:
		apart.how = "accepted"
	case code != "" && apart == nil:
		w.asides = append(w.asides, &setAside{item: item, code: code})
	}
	if code != "" {
		return code
	}
	w.enter(item, true)
	return exchange.Applied
}

func (w *eventsWorld) fits(item exchange.Incoming) bool {
	before, first := w.held[identity(item.Event.Log, item.Event.Seq-1)]
	after, second := w.held[identity(item.Event.Log, item.Event.Seq+1)]
	return !(first && before.Hash != item.Event.Prev || second && after.Event.Prev != item.Hash)
}

// enter puts an event wherever it belongs and is not yet.
func (w *eventsWorld) enter(item exchange.Incoming, stands bool) {
	e := item.Event
	if stands {
		w.held[identity(e.Log, e.Seq)] = item
	}
	if fixture := e.About.Fixture; fixture != "" {
		if item.To != "" {
			w.into(item.To, w.fixtures[fixture]...)
			w.into(item.To, item.Hash)
		}
		if place := w.places[fixture]; place != "" {
			w.into(place, item.Hash)
		}
		if item.To != "" {
			w.places[fixture] = item.To
		}
		w.fixtures[fixture] = append(w.fixtures[fixture], item.Hash)
	}
	w.into(e.About.Site, item.Hash)
}

func (w *eventsWorld) into(site string, hashes ...string) {
	for _, hash := range hashes {
		if !slices.Contains(w.feeds[site], hash) {
			w.feeds[site] = append(w.feeds[site], hash)
		}
	}
}

func (w *eventsWorld) apart(hash string) *setAside {
	for _, a := range w.asides {
		if a.item.Hash == hash {
			return a
		}
	}
	return nil
}

// settle accepts, dismisses or amends one set aside, or tries to with one that is not there.
func (w *eventsWorld) settle(rt *rapid.T) {
	item, how := rapid.SampledFrom(w.pool).Draw(rt, "settled"), rapid.SampledFrom([]string{store.Accepted, store.Dismissed, store.Amended}).Draw(rt, "how")
	a, code := w.apart(item.Hash), ""
	switch {
	case a == nil:
		code = "unknown-aside"
	case a.how != "":
	case how == store.Accepted && item.Event.Log == "":
		code = journal.CodeBadLine
	default:
		a.how = how
	}
	if code == "" && a.how == store.Accepted && !w.inFeed(item) {
		_, taken := w.held[identity(item.Event.Log, item.Event.Seq)]
		w.enter(a.item, !taken && w.fits(a.item))
	}
	var err error
	if how == store.Accepted {
		err = w.events.Accept(item.Hash, by("sue"))
	} else {
		err = w.events.Settle(item.Hash, out(how))
	}
	if store.CodeOf(err) != code {
		rt.Fatalf("%s: %v, want %q", how, err, code)
	}
}

func (w *eventsWorld) inFeed(item exchange.Incoming) bool {
	return slices.Contains(w.feeds[item.Event.About.Site], item.Hash)
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
	var set, want []string
	for _, a := range asides(w.t, w.events) {
		how := ""
		if a.Settled != nil {
			how = a.Settled.How
		}
		set = append(set, a.Hash+a.Code+how)
	}
	for _, a := range w.asides {
		want = append(want, a.item.Hash+a.code+a.how)
	}
	if !slices.Equal(set, want) {
		rt.Fatalf("asides %v, want %v", set, want)
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
		rt.Repeat(map[string]func(*rapid.T){"push": w.push, "settle": w.settle, "restart": w.restart, "": w.check})
	})
}
