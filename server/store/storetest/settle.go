package storetest

import (
	"errors"
	"testing"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// settlements holds the laws of what persons make of lines that were set aside.
func settlements(t *testing.T, open OpenEvents) {
	for name, law := range map[string]func(*testing.T, OpenEvents){
		"accepted as it is":                settleAccepted,
		"accepted beside a fork":           settleFork,
		"accepted without its chain":       settleChain,
		"dismissed and amended stay out":   settleOut,
		"the first word holds":             settleOnce,
		"nothing to settle":                settleNothing,
		"what is no event is not accepted": settleUnparsable,
		"allowed later is settled":         settleAllowedLater,
		"settled after a restart":          settleAgain,
		"those who watch hear of it":       settleWatched,
		"fed before a restore":             settleFed,
		"how far a log is fed":             fedFrontier,
	} {
		t.Run(name, func(t *testing.T) { law(t, open) })
	}
}

// by is the settlement of a person.
func by(person string) store.Settlement {
	return store.Settlement{By: person, At: "2026-03-05T10:00:00.000Z"}
}

// out is the settlement of what stays out.
func out(how string) store.Settlement {
	s := by("sue")
	s.How = how
	return s
}

func settles(t testing.TB, err, want error) {
	t.Helper()
	if !errors.Is(err, want) {
		t.Errorf("%v, want %v", err, want)
	}
}

// settled wants what was set aside under a hash to be settled so, in the list and by itself.
func settled(t testing.TB, events store.Events, hash, how, person string) {
	t.Helper()
	one, err := events.Apart(hash)
	if err != nil {
		t.Fatal(err)
	}
	for _, a := range []store.Aside{one, asides(t, events)[one.N-1]} {
		switch {
		case a.Hash != hash || journal.Hash(a.Line) != hash:
			t.Errorf("another: %+v", a)
		case (a.Settled != nil) != (how != ""):
			t.Errorf("settled %v, want %q", a.Settled, how)
		case how != "" && (a.Settled.How != how || a.Settled.By != person || a.Settled.At == ""):
			t.Errorf("settled %+v, want %s by %q", a.Settled, how, person)
		}
	}
}

func settleAccepted(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	items := chained(t, logA, "x", about("s", "f"), about("s", "f"), about("s", "f"))
	items[1].Receipt.From = "device-2"
	adds(t, events, "applied revoked", items[0], aside(items[1], "revoked"))
	settled(t, events, items[1].Hash, "", "")
	settles(t, events.Accept(items[1].Hash, by("sue")), nil)
	settled(t, events, items[1].Hash, store.Accepted, "sue")
	adds(t, events, "applied duplicate duplicate", items[2], items[1], aside(items[1], "revoked"))
	lines(t, "feed", feed(t, events, "s"), items...)
	lines(t, "fixture", fixtureOf(t, events, "f"), items...)
	upto(t, events, logA, 3)
	if got := asides(t, events); len(got) != 1 || got[0].Code != "revoked" {
		t.Errorf("%+v", got)
	}
	adds(t, events, "chain", written(t, logA, "other", "s", 4)[3]) // it stands in its log: others chain to it
}

// Both stay, each once, and the log goes on as it did.
func settleFork(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	one, other := written(t, logA, "one", "s", 3), chained(t, logA, "other", about("t", "f"), about("t", "f"))
	adds(t, events, "applied applied forked forked", one[0], one[1], other[0], other[1])
	for range 2 {
		settles(t, events.Accept(other[0].Hash, by("sue")), nil)
		settles(t, events.Accept(other[1].Hash, by("sue")), nil)
	}
	lines(t, "the one", feed(t, events, "s"), one[:2]...)
	lines(t, "the other", feed(t, events, "t"), other...)
	lines(t, "fixture", fixtureOf(t, events, "f"), other...)
	adds(t, events, "duplicate duplicate duplicate applied", other[0], one[0], aside(other[1], "not-allowed"), one[2])
	lines(t, "the one", feed(t, events, "s"), one...)
	upto(t, events, logA, 3)
}

// One that does not chain, accepted, takes nobody's place.
func settleChain(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	one, other := written(t, logA, "one", "s", 3), written(t, logA, "other", "s", 2)
	adds(t, events, "applied chain", one[0], other[1])
	settles(t, events.Accept(other[1].Hash, by("sue")), nil)
	adds(t, events, "applied applied duplicate", one[1], one[2], other[1])
	lines(t, "feed", feed(t, events, "s"), one[0], other[1], one[1], one[2])
	upto(t, events, logA, 3)
}

func settleOut(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	items, bad := written(t, logA, "x", "s", 3), unparsable("bad")
	adds(t, events, "not-allowed not-allowed bad-line", aside(items[0], "not-allowed"), aside(items[1], "not-allowed"), bad)
	settles(t, events.Settle(items[0].Hash, out(store.Dismissed)), nil)
	settles(t, events.Settle(items[1].Hash, out(store.Amended)), nil)
	settles(t, events.Settle(bad.Hash, out(store.Dismissed)), nil)
	adds(t, events, "not-allowed not-allowed not-allowed bad-line applied", items[0], items[1], aside(items[1], "no-longer"), bad, items[2])
	lines(t, "feed", feed(t, events, "s"), items[2])
	settled(t, events, items[0].Hash, store.Dismissed, "sue")
	settled(t, events, items[1].Hash, store.Amended, "sue")
	settled(t, events, bad.Hash, store.Dismissed, "sue")
	upto(t, events, logA, 3)
	if got := asides(t, events); len(got) != 3 {
		t.Errorf("%+v", got)
	}
}

func settleOnce(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	items := written(t, logA, "x", "s", 2)
	adds(t, events, "not-allowed not-allowed", aside(items[0], "not-allowed"), aside(items[1], "not-allowed"))
	settles(t, events.Settle(items[0].Hash, out(store.Dismissed)), nil)
	settles(t, events.Accept(items[0].Hash, by("tom")), nil)
	settles(t, events.Accept(items[1].Hash, by("tom")), nil)
	settles(t, events.Settle(items[1].Hash, out(store.Amended)), nil)
	settles(t, events.Accept(items[1].Hash, by("sue")), nil)
	settled(t, events, items[0].Hash, store.Dismissed, "sue")
	settled(t, events, items[1].Hash, store.Accepted, "tom")
	lines(t, "feed", feed(t, events, "s"), items[1])
}

func settleNothing(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	item := written(t, logA, "x", "s", 1)[0]
	add(t, events, item)
	for _, hash := range []string{item.Hash, "", "none"} {
		settles(t, events.Accept(hash, by("sue")), store.ErrNoAside)
		settles(t, events.Settle(hash, out(store.Dismissed)), store.ErrNoAside)
		if _, err := events.Apart(hash); !errors.Is(err, store.ErrNoAside) {
			t.Errorf("%q: %v", hash, err)
		}
	}
	for _, how := range []string{"", store.Accepted, "burnt"} {
		if err := events.Settle(item.Hash, out(how)); store.CodeOf(err) != store.CodeBadSettlement {
			t.Errorf("%q: %v", how, err)
		}
	}
	lines(t, "feed", feed(t, events, "s"), item)
}

func settleUnparsable(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	bad := unparsable("bad")
	long := exchange.Incoming{Line: make(journal.Line, journal.MaxLine+1), Receipt: receipt, Aside: journal.CodeLineTooLong}
	long.Hash = journal.Hash(long.Line)
	add(t, events, bad, long)
	for _, item := range []exchange.Incoming{bad, long} {
		if err := events.Accept(item.Hash, by("sue")); store.CodeOf(err) != journal.CodeBadLine {
			t.Errorf("%v", err)
		}
		settled(t, events, item.Hash, "", "")
	}
}

// What was open and comes again with the right to is nobody's work any more.
func settleAllowedLater(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	item := written(t, logA, "x", "s", 1)[0]
	adds(t, events, "unknown-log applied", aside(item, "unknown-log"), item)
	settled(t, events, item.Hash, store.Accepted, "")
	settles(t, events.Accept(item.Hash, by("sue")), nil)
	lines(t, "feed", feed(t, events, "s"), item)
}

func settleAgain(t *testing.T, open OpenEvents) {
	events, again := open(t)
	if again == nil {
		return // nothing outlives the process
	}
	one, other := written(t, logA, "one", "s", 2), written(t, logA, "other", "s", 2)
	adds(t, events, "applied forked forked", one[0], other[0], aside(other[1], "forked"))
	settles(t, events.Accept(other[0].Hash, by("sue")), nil)
	settles(t, events.Settle(other[1].Hash, out(store.Dismissed)), nil)
	events = again()
	settled(t, events, other[0].Hash, store.Accepted, "sue")
	settled(t, events, other[1].Hash, store.Dismissed, "sue")
	adds(t, events, "duplicate forked applied", other[0], other[1], one[1])
	lines(t, "feed", feed(t, events, "s"), one[0], other[0], one[1])
}

func settleWatched(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	item := written(t, logA, "x", "s", 1)[0]
	adds(t, events, "not-allowed", aside(item, "not-allowed"))
	told, end := events.Subscribe("s")
	defer end()
	settles(t, events.Accept(item.Hash, by("sue")), nil)
	if got := <-told; got.Site != "s" || got.N != 1 {
		t.Errorf("%+v", got)
	}
}
