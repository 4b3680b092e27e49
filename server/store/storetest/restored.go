package storetest

import (
	"slices"
	"testing"

	"jointwalk/sync/exchange"
)

// fedBefore is an item that was in a feed before the server was restored.
func fedBefore(item exchange.Incoming) exchange.Incoming {
	item.Fed = true
	return item
}

// What was in a feed before a restore goes in again, whatever took its place meanwhile, and once.
func settleFed(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	one, other := written(t, logA, "one", "s", 4), written(t, logA, "other", "s", 3)
	adds(t, events, "applied applied forked", one[0], one[1], other[0])
	for _, verdict := range []string{"applied applied applied", "duplicate duplicate duplicate"} {
		adds(t, events, verdict, fedBefore(other[0]), fedBefore(other[1]), fedBefore(other[2]))
	}
	adds(t, events, "duplicate duplicate duplicate applied applied", other[0], other[1], aside(other[2], "not-allowed"), one[2], one[3])
	lines(t, "feed", feed(t, events, "s"), one[0], one[1], other[0], other[1], other[2], one[2], one[3])
	settled(t, events, other[1].Hash, "accepted", "")
	settles(t, events.Settle(one[3].Hash, out("dismissed")), errUnknown(events))
}

// errUnknown is what a store says of a hash under which nothing was set aside.
func errUnknown(events Kept) error {
	_, err := events.Apart("none")
	return err
}

// How far a log stands in feeds: what is set aside ends it, and what stands beside a fork does not count.
func fedFrontier(t *testing.T, open OpenEvents) {
	events, again := open(t)
	one, other := written(t, logA, "one", "s", 5), written(t, logA, "other", "s", 2)
	adds(t, events, "applied applied applied not-allowed applied forked", one[0], one[1], one[2], aside(one[3], "not-allowed"), one[4], other[1])
	settles(t, events.Accept(other[1].Hash, by("sue")), nil)
	if again != nil {
		events = again()
	}
	for _, c := range []struct {
		log  string
		most uint64
		want uint64
	}{{logA, 9, 3}, {logA, 3, 3}, {logA, 2, 2}, {logA, 0, 0}, {logB, 9, 0}} {
		if seq, err := events.Fed(c.log, c.most); err != nil || seq != c.want {
			t.Errorf("%s up to %d: %d %v", c.log, c.most, seq, err)
		}
	}
	stand, err := events.Stand(logA, []uint64{5, 4, 2, 0, 9, 2})
	if want := []string{one[4].Hash, "", one[1].Hash, "", "", one[1].Hash}; err != nil || !slices.Equal(stand, want) {
		t.Errorf("%.8q %v", stand, err)
	}
	if none, err := events.Stand(logB, []uint64{1}); err != nil || none[0] != "" {
		t.Errorf("%q %v", none, err)
	}
	adds(t, events, "applied", one[3])
	if seq, _ := events.Fed(logA, 9); seq != 5 {
		t.Errorf("after it was let in: %d", seq)
	}
}
