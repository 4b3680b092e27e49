package storetest

import (
	"bytes"
	"slices"
	"strings"
	"testing"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// Kept is what keeps events and tells of them.
type Kept interface {
	store.Events
	store.Watch
	Close() error
}

// OpenEvents gives a store without events, and what opens it again as after a restart; nil for one that does
// not outlive the process.
type OpenEvents func(testing.TB) (events Kept, again func() Kept)

// Events holds the laws of store.Events.
func Events(t *testing.T, open OpenEvents) {
	for name, law := range map[string]func(*testing.T, OpenEvents){
		"an empty store":                  eventsNone,
		"events are read back":            eventsReadBack,
		"slices of a feed":                eventsSlices,
		"sites do not mix":                eventsSites,
		"all about a fixture":             eventsFixture,
		"events are copies":               eventsAreCopies,
		"the same again is a duplicate":   eventsDuplicate,
		"another hash is a fork":          eventsFork,
		"a hole keeps nothing out":        eventsHole,
		"what does not chain":             eventsChain,
		"asides are kept once":            eventsAsides,
		"asides move the frontier":        eventsAsideUpto,
		"an aside may be allowed later":   eventsAllowedLater,
		"long and strange lines":          eventsStrange,
		"dense while many write and read": eventsCrowd,
		"all is there afterwards":         eventsAgain,
		"against a model":                 eventsModel,
	} {
		t.Run(name, func(t *testing.T) { law(t, open) })
	}
	t.Run("moves", func(t *testing.T) { moves(t, open) })
	t.Run("settlements", func(t *testing.T) { settlements(t, open) })
}

const (
	logA = "01890000-0000-7000-8000-00000000000a"
	logB = "01890000-0000-7000-8000-00000000000b"
)

var receipt = exchange.Receipt{At: "2026-03-04T12:00:00.000Z", Offset: -90, From: "device-1"}

// about is where an event belongs.
func about(site, fixture string) journal.About { return journal.About{Site: site, Fixture: fixture} }

// chained is a log's first events, one for each about. word makes one history of a log differ from another.
func chained(t testing.TB, log, word string, abouts ...journal.About) []exchange.Incoming {
	t.Helper()
	l, err := journal.OpenLog(&journal.Memory{}, log)
	if err != nil {
		t.Fatal(err)
	}
	var drafts []journal.Draft
	for _, a := range abouts {
		drafts = append(drafts, journal.Draft{ID: log, Time: "2026-03-04T05:06:07.089Z", Zone: "UTC", By: "person-1", About: a,
			Kind: "look", Body: map[string]string{"word": word}})
	}
	lines, err := l.Append(drafts)
	if err != nil {
		t.Fatal(err)
	}
	items := make([]exchange.Incoming, len(lines))
	for i, line := range lines {
		event, err := journal.Parse(line)
		if err != nil {
			t.Fatal(err)
		}
		items[i] = exchange.Incoming{Line: line, Event: event, Hash: journal.Hash(line), Receipt: receipt}
	}
	return items
}

// written is a log's first n events at one site.
func written(t testing.TB, log, word, site string, n int) []exchange.Incoming {
	t.Helper()
	return chained(t, log, word, slices.Repeat([]journal.About{about(site, "")}, n)...)
}

// unparsable is a line that is no event.
func unparsable(line string) exchange.Incoming {
	return exchange.Incoming{Line: journal.Line(line), Hash: journal.Hash(journal.Line(line)), Receipt: receipt, Aside: journal.CodeBadLine}
}

func aside(item exchange.Incoming, code string) exchange.Incoming {
	item.Aside = code
	return item
}

// add adds in one call and gives "applied", "duplicate" or the aside's code for each.
func add(t testing.TB, events store.Events, items ...exchange.Incoming) []string {
	t.Helper()
	verdicts, err := events.Add(items)
	if err != nil || len(verdicts) != len(items) {
		t.Fatalf("%d verdicts for %d items, %v", len(verdicts), len(items), err)
	}
	is := make([]string, len(items))
	for i, v := range verdicts {
		if v.Log != items[i].Event.Log || v.Seq != items[i].Event.Seq {
			t.Fatalf("verdict %d is on %s %d", i, v.Log, v.Seq)
		}
		if (v.Is == exchange.Aside) != (v.Code != "") {
			t.Fatalf("%+v", v)
		}
		if is[i] = v.Is; v.Is == exchange.Aside {
			is[i] = v.Code
		}
	}
	return is
}

// adds adds and wants these words.
func adds(t testing.TB, events store.Events, words string, items ...exchange.Incoming) {
	t.Helper()
	if got := strings.Join(add(t, events, items...), " "); got != words {
		t.Errorf("got %q, want %q", got, words)
	}
}

// feed reads a whole feed, and holds it to be dense.
func feed(t testing.TB, events store.Events, site string) []store.Stored {
	t.Helper()
	all, more, err := events.Site(site, 0, 1<<20)
	if err != nil || more {
		t.Fatalf("more %v, %v", more, err)
	}
	for i, s := range all {
		if s.Receipt.N != uint64(i+1) {
			t.Fatalf("n %d in place %d", s.Receipt.N, i+1)
		}
	}
	if last, err := events.Last(site); err != nil || last != uint64(len(all)) {
		t.Fatalf("last %d of %d, %v", last, len(all), err)
	}
	return all
}

// lines wants exactly these lines, byte for byte and with their receipts.
func lines(t testing.TB, what string, got []store.Stored, want ...exchange.Incoming) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: %d events, want %d", what, len(got), len(want))
	}
	for i, s := range got {
		r := want[i].Receipt
		r.N = s.Receipt.N
		if !bytes.Equal(s.Line, want[i].Line) || s.Receipt != r || r.N == 0 {
			t.Errorf("%s, %d: %+v\n%s\nwant %+v\n%s", what, i, s.Receipt, s.Line, r, want[i].Line)
		}
	}
}

func upto(t testing.TB, events store.Events, log string, want uint64) {
	t.Helper()
	if got, err := events.Upto(log); err != nil || got != want {
		t.Errorf("upto %d, %v, want %d", got, err, want)
	}
}

func asides(t testing.TB, events store.Events) []store.Aside {
	t.Helper()
	all, err := events.Asides(0, 1<<20)
	if err != nil {
		t.Fatal(err)
	}
	for i, a := range all {
		if a.N != uint64(i+1) {
			t.Fatalf("aside %d has n %d", i+1, a.N)
		}
	}
	return all
}

func fixtureOf(t testing.TB, events store.Events, fixture string) []store.Stored {
	t.Helper()
	all, err := events.Fixture(fixture)
	if err != nil {
		t.Fatal(err)
	}
	return all
}
