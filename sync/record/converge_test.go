package record

import (
	"encoding/json"
	"testing"

	"jointwalk/sync/journal"
	"pgregory.net/rapid"
)

// The law that everything stands on: books that were given the same events, in
// any order, more than once, with questions and receipts in between, hold the
// same state. The events are those of phones that fork, move the fixture, take
// things back and edit the same fields.
func TestBooksConverge(t *testing.T) {
	seen := map[string]int{}
	rapid.Check(t, func(rt *rapid.T) {
		w := newWorld(rt, rapid.IntRange(1, 4).Draw(rt, "devices"))
		for range rapid.IntRange(0, 40).Draw(rt, "acts") {
			w.act()
			if len(w.devices) < 6 && rapid.IntRange(0, 15).Draw(rt, "fork") == 0 {
				w.fork()
			}
		}
		want := NewBook()
		for _, e := range w.events {
			want.Add(e)
		}
		digest := want.Digest()
		if got := askedAfterEach(w.events).Digest(); got != digest {
			rt.Fatal("following event by event differs from replaying them all")
		}
		for range rapid.IntRange(1, 4).Draw(rt, "books") {
			b := disordered(rt, w.events)
			if got := b.Digest(); got != digest {
				rt.Fatalf("%d events, digests %s and %s:\n%s\n%s", len(w.events), got, digest, state(t, b), state(t, want))
			}
			if held := len(b.pages[fixtureID].events); held != len(w.events) {
				rt.Fatalf("%d of %d events are held", held, len(w.events))
			}
		}
		count(seen, w, want.Fixture(fixtureID))
	})
	for _, rare := range []string{"conflict", "settled", "moved", "forked", "withdrawn", "many sides"} {
		if seen[rare] == 0 {
			t.Errorf("no world with %s: %v", rare, seen)
		}
	}
}

// askedAfterEach is a book that was given events in the order of replay and asked
// after every one, so that it never replays more than it must.
func askedAfterEach(events []journal.Event) *Book {
	b := NewBook()
	for _, e := range inReplayOrder(events) {
		b.Add(e)
		b.Fixture(fixtureID)
	}
	return b
}

// disordered is a book that was given events in a random order, some twice.
func disordered(rt *rapid.T, events []journal.Event) *Book {
	b := NewBook()
	for _, i := range rapid.Permutation(indexes(len(events))).Draw(rt, "order") {
		received := journal.Receipt{N: uint64(i + 1), At: events[i].Time, Offset: int64(i), From: "device-1"}
		how := rapid.IntRange(0, 3).Draw(rt, "how")
		switch how {
		case 0:
			b.AddReceived(events[i], received)
		case 1:
			later(rt, b, events[i], journal.AppendReceipt(nil, received))
		case 2:
			later(rt, b, events[i], nil)
		}
		if how == 3 || rapid.Bool().Draw(rt, "again") {
			b.Add(events[i])
		}
		if rapid.IntRange(0, 9).Draw(rt, "ask") == 0 {
			b.Fixture(fixtureID)
		}
	}
	return b
}

// later gives an event as the line that a start finds.
func later(rt *rapid.T, b *Book, e journal.Event, receipt []byte) {
	line, err := json.Marshal(e)
	if err == nil {
		err = b.Later(line, receipt)
	}
	if err != nil {
		rt.Fatal(err)
	}
}

func count(seen map[string]int, w *world, f *FixtureState) {
	for _, c := range f.Conflicts {
		seen["conflict"]++
		if c.Settled != nil {
			seen["settled"]++
		}
		if len(c.Sides) > 2 {
			seen["many sides"]++
		}
	}
	places := map[identity]bool{}
	for _, e := range w.events {
		switch Kind(e.Kind) {
		case FixtureMoved:
			seen["moved"]++
		case Withdrawn:
			seen["withdrawn"]++
		}
		if places[identity{e.Log, e.Seq}] {
			seen["forked"]++
		}
		places[identity{e.Log, e.Seq}] = true
	}
}

func state(t *testing.T, b *Book) string {
	t.Helper()
	return digest(t, b.Fixture(fixtureID))
}

// Both sides of a fork are kept, even where they differ in nothing but bytes.
func TestBothSidesOfAForkAreKept(t *testing.T) {
	s := newStory(t)
	s.look("l1", "r1", "j1", Leaks)
	first := s.events[len(s.events)-1]
	changes := map[string]func(*journal.Event){
		"another id":     func(e *journal.Event) { e.ID, e.About.Of = "event-twin", "l2" },
		"another body":   func(e *journal.Event) { e.Body = []byte(`{"round":"r1","joint":"j2","result":"gross"}`) },
		"another author": func(e *journal.Event) { e.By = "person-b" },
		"another time":   func(e *journal.Event) { e.Time = "2026-03-01T11:00:00.000Z" },
		"another tick":   func(e *journal.Event) { e.Tick++ },
		"another form":   func(e *journal.Event) { e.V = Version + 1 },
	}
	for name, change := range changes {
		t.Run(name, func(t *testing.T) {
			twin := first
			change(&twin)
			var digests []string
			for _, order := range [][]journal.Event{{first, twin}, {twin, first}} {
				b := NewBook()
				for _, e := range append(s.events[:len(s.events)-1:len(s.events)-1], order...) {
					b.Add(e)
				}
				if b.Add(first) || b.Add(twin) {
					t.Error("a side that is held is no news")
				}
				if n := len(b.pages[fixtureID].events); n != len(s.events)+1 {
					t.Errorf("%d events are held, want %d", n, len(s.events)+1)
				}
				digests = append(digests, b.Digest())
			}
			if digests[0] != digests[1] {
				t.Error("which side came first decides the state")
			}
		})
	}
}
