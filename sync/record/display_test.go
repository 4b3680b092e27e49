package record

import (
	"testing"
	"time"

	"jointwalk/sync/journal"
	"pgregory.net/rapid"
)

func TestTimesAreReadAsTheStandardLibraryReadsThem(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		want := rapid.Int64Range(-62135596800000, 253402300799999).Draw(rt, "ms")
		text := time.UnixMilli(want).UTC().Format(journal.TimeLayout)
		if got := millis(text); got != want {
			rt.Errorf("%s: %d, want %d", text, got, want)
		}
	})
	if millis("yesterday") != 0 || millis("") != 0 {
		t.Error("what is no time is 0")
	}
}

// A phone whose clock is an hour ahead stands, once the server has said so, where
// it belongs; the state itself never follows clocks.
func TestTheReceiptCorrectsTheOrderOfDisplay(t *testing.T) {
	s := newStory(t)
	s.look("l1", "r1", "j1", None)
	s.look("l2", "r1", "j2", None)
	ahead := &s.events[len(s.events)-2]
	ahead.Time = "2026-03-01T11:04:30.000Z"
	b := bookOf(s.events)
	before := b.Digest()
	l1, l2 := b.Fixture(fixtureID).LookByID("l1").Made, b.Fixture(fixtureID).LookByID("l2").Made
	if l1.Before(&l2) || !l2.Before(&l1) || l1.Offset() != 0 {
		t.Error("without receipts the device's time counts")
	}
	if b.AddReceived(*ahead, journal.Receipt{N: 1, At: "2026-03-01T12:00:00.000Z", Offset: 3_600_000, From: "d"}) {
		t.Error("an event that is held is no news")
	}
	if !l1.Before(&l2) || l2.Before(&l1) || l1.Offset() != 3_600_000 {
		t.Error("the receipt corrects the time")
	}
	b.AddReceived(*ahead, journal.Receipt{N: 1, At: "2026-03-01T13:00:00.000Z", Offset: 5, From: "d"})
	if l1.Offset() != 3_600_000 {
		t.Error("of two receipts the earlier one counts")
	}
	b.AddReceived(*ahead, journal.Receipt{N: 1, At: "2026-03-01T11:00:00.000Z", Offset: 7, From: "d"})
	if l1.Offset() != 7 || b.Digest() != before {
		t.Error("the earlier receipt counts, and the digest leaves receipts out")
	}
}

func TestEqualTimesStandInTheOrderOfReplay(t *testing.T) {
	s := newStory(t)
	s.look("l1", "r1", "j1", None)
	s.look("l2", "r1", "j2", None)
	for i := range s.events {
		s.events[i].Time = "2026-03-01T10:00:00.000Z"
	}
	f := bookOf(s.events).Fixture(fixtureID)
	if l1, l2 := f.LookByID("l1").Made, f.LookByID("l2").Made; !l1.Before(&l2) || l2.Before(&l1) || l1.Before(&l1) {
		t.Error("the tick decides between equal times")
	}
}

func TestAnEventThatCameWithItsReceiptIsNew(t *testing.T) {
	s := newStory(t)
	b := NewBook()
	for i, e := range s.events {
		if !b.AddReceived(e, journal.Receipt{N: uint64(i + 1), At: e.Time, Offset: -250}) {
			t.Error("the first time it is new")
		}
		if b.Add(e) {
			t.Error("without its receipt it is no news")
		}
	}
	if got := b.Fixture(fixtureID).Made.Offset(); got != -250 {
		t.Errorf("offset %d ms", got)
	}
	if b.AddReceived(journal.Event{Log: "x", Seq: 1}, journal.Receipt{}) {
		t.Error("an event about no fixture is not kept")
	}
}
