package journal

import (
	"testing"

	"pgregory.net/rapid"
)

// The set agrees with a map, in whatever order and however often events come.
func TestHeldSetAgainstAMap(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var set heldSet
		model := map[feedKey]bool{}
		upto := Frontier{}
		for range rapid.IntRange(0, 60).Draw(rt, "events") {
			log := rapid.SampledFrom([]string{logA, logB, uid(3)}).Draw(rt, "log")
			key := feedKey{log: set.place([]byte(log)), seq: rapid.Uint64Range(1, 12).Draw(rt, "seq"), sum: rapid.Uint32Range(0, 2).Draw(rt, "sum")}
			if set.has(key) != model[key] {
				rt.Fatalf("%v: has %v", key, !model[key])
			}
			set.add(key)
			model[key] = true
			upto[log] = max(upto[log], key.seq)
		}
		if set.n != len(model) {
			rt.Fatalf("%d events, want %d", set.n, len(model))
		}
		got := set.frontier()
		for log, at := range set.places {
			for seq := uint64(0); seq < 14; seq++ {
				want := model[feedKey{at, seq, 0}] || model[feedKey{at, seq, 1}] || model[feedKey{at, seq, 2}]
				if (set.count(log, seq) > 0) != want {
					rt.Fatalf("%s %d: %v", log, seq, !want)
				}
			}
			if got[log] != upto[log] {
				rt.Fatalf("frontier %v, want %v", got, upto)
			}
		}
	})
}

func TestHeldSetOfPlacesMadeElsewhere(t *testing.T) {
	var set heldSet
	key := feedKey{log: 3, seq: 1}
	if set.has(key) || set.count(logA, 1) > 0 {
		t.Error("an empty set has something")
	}
	set.add(key)
	set.add(key)
	if !set.has(key) || set.n != 1 || set.has(feedKey{log: 2, seq: 1}) {
		t.Error("the event is not there once")
	}
}
