package storetest

import (
	"testing"

	"jointwalk/sync/exchange"
)

// Moves holds the laws of fixtures that move from site to site.
func moves(t *testing.T, open OpenEvents) {
	for name, law := range map[string]func(*testing.T, OpenEvents){
		"its past comes along":               movePast,
		"what comes later goes to both":      moveLater,
		"there and back":                     moveBack,
		"on to a third site":                 moveOn,
		"only what is lacking":               moveLacking,
		"all in one push":                    moveOnePush,
		"to where it is":                     moveNowhere,
		"no fixture, nothing moved":          moveNothing,
		"a move that was set aside":          moveAside,
		"moved is moved after a restart":     moveAgain,
		"those who watch hear of both feeds": moveWatched,
	} {
		t.Run(name, func(t *testing.T) { law(t, open) })
	}
}

// to is the item as one that moves its fixture.
func to(item exchange.Incoming, site string) exchange.Incoming {
	item.To = site
	return item
}

func movePast(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	a := chained(t, logA, "x", about("s", "f"), about("s", "g"), about("s", ""), about("s", "f"), about("s", "f"))
	add(t, events, a[:4]...)
	lines(t, "before", feed(t, events, "t"))
	adds(t, events, "applied", to(a[4], "t"))
	lines(t, "old site", feed(t, events, "s"), a...)
	lines(t, "new site", feed(t, events, "t"), a[0], a[3], a[4])
	lines(t, "fixture", fixtureOf(t, events, "f"), a[0], a[3], a[4])
	adds(t, events, "duplicate duplicate", a[0], to(a[4], "t"))
	lines(t, "new site", feed(t, events, "t"), a[0], a[3], a[4])
	upto(t, events, logA, 5)
}

// A phone that has not heard of the move writes to the old site; the new one sees it all the same.
func moveLater(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	a := chained(t, logA, "x", about("s", "f"), about("s", "f"))
	b := chained(t, logB, "x", about("s", "f"), about("t", "f"), about("u", "f"), about("s", "g"))
	adds(t, events, "applied applied", a[0], to(a[1], "t"))
	adds(t, events, "applied applied applied applied", b...)
	lines(t, "old site", feed(t, events, "s"), a[0], a[1], b[0], b[3])
	lines(t, "new site", feed(t, events, "t"), a[0], a[1], b[0], b[1], b[2])
	lines(t, "a third", feed(t, events, "u"), b[2])
	lines(t, "fixture", fixtureOf(t, events, "f"), a[0], a[1], b[0], b[1], b[2])
}

func moveBack(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	a := chained(t, logA, "x", about("s", "f"), about("s", "f"), about("t", "f"), about("t", "f"), about("s", "f"), about("s", "f"), about("t", "f"))
	adds(t, events, "applied applied applied", a[0], to(a[1], "t"), a[2])
	adds(t, events, "applied", to(a[3], "s"))
	lines(t, "back at s", feed(t, events, "s"), a[0], a[1], a[2], a[3])
	lines(t, "left t", feed(t, events, "t"), a[0], a[1], a[2], a[3])
	adds(t, events, "applied applied applied", a[4], to(a[5], "t"), a[6])
	lines(t, "left s", feed(t, events, "s"), a[:6]...)
	lines(t, "again at t", feed(t, events, "t"), a...)
	lines(t, "fixture", fixtureOf(t, events, "f"), a...)
}

// The site that it leaves hears of it, also when the move is written from elsewhere.
func moveOn(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	a := chained(t, logA, "x", about("s", "f"), about("s", "f"), about("s", "f"), about("s", "f"))
	adds(t, events, "applied applied applied applied", a[0], to(a[1], "t"), to(a[2], "u"), a[3])
	lines(t, "own", feed(t, events, "s"), a...)
	lines(t, "left", feed(t, events, "t"), a[:3]...)
	lines(t, "present", feed(t, events, "u"), a...)
}

// The new site had written about the fixture before it came.
func moveLacking(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	a := chained(t, logA, "x", about("t", "f"), about("s", "f"), about("t", "f"), about("s", "f"), about("s", "f"))
	adds(t, events, "applied applied applied applied", a[:4]...)
	adds(t, events, "applied", to(a[4], "t"))
	lines(t, "new site", feed(t, events, "t"), a[0], a[2], a[1], a[3], a[4])
	lines(t, "old site", feed(t, events, "s"), a[1], a[3], a[4])
	lines(t, "fixture", fixtureOf(t, events, "f"), a...)
}

func moveOnePush(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	a := chained(t, logA, "x", about("s", "f"), about("s", "f"), about("s", "f"), about("t", "f"), about("s", "f"))
	adds(t, events, "applied applied applied applied applied duplicate", a[0], to(a[1], "t"), a[2], to(a[3], "s"), a[4], to(a[1], "t"))
	lines(t, "s", feed(t, events, "s"), a...)
	lines(t, "t", feed(t, events, "t"), a[:4]...)
}

func moveNowhere(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	a := chained(t, logA, "x", about("s", "f"), about("u", "f"), about("s", "f"), about("s", "f"), about("s", "f"))
	adds(t, events, "applied applied applied applied applied", a[0], a[1], to(a[2], "s"), to(a[3], "s"), a[4])
	lines(t, "where it was", feed(t, events, "s"), a[0], a[1], a[2], a[3], a[4])
	lines(t, "elsewhere", feed(t, events, "u"), a[1])
}

func moveNothing(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	a := chained(t, logA, "x", about("s", ""), about("s", ""))
	adds(t, events, "applied applied", to(a[0], "t"), a[1])
	lines(t, "s", feed(t, events, "s"), a...)
	lines(t, "t", feed(t, events, "t"))
}

// It moves nothing until it is accepted.
func moveAside(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	a := chained(t, logA, "x", about("s", "f"), about("s", "f"), about("s", "f"), about("s", "f"))
	adds(t, events, "applied not-allowed applied", a[0], aside(to(a[1], "t"), "not-allowed"), a[2])
	lines(t, "new site", feed(t, events, "t"))
	settles(t, events.Accept(a[1].Hash, by("sue")), nil)
	adds(t, events, "applied", a[3])
	lines(t, "new site", feed(t, events, "t"), a[0], a[2], a[1], a[3])
	lines(t, "old site", feed(t, events, "s"), a[0], a[2], a[1], a[3])
}

func moveAgain(t *testing.T, open OpenEvents) {
	events, again := open(t)
	if again == nil {
		return // nothing outlives the process
	}
	a := chained(t, logA, "x", about("s", "f"), about("s", "f"), about("t", "f"), about("s", "f"), about("s", "f"))
	adds(t, events, "applied applied applied", a[0], to(a[1], "t"), to(a[2], "s"))
	events = again()
	adds(t, events, "applied", a[3])
	events = again()
	adds(t, events, "applied", to(a[4], "t"))
	lines(t, "s", feed(t, events, "s"), a...)
	lines(t, "t", feed(t, events, "t"), a...)
}

func moveWatched(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	a := chained(t, logA, "x", about("s", "f"), about("s", "f"), about("s", "f"))
	adds(t, events, "applied", a[0])
	told, end := events.Subscribe("t")
	defer end()
	adds(t, events, "applied", to(a[1], "t"))
	if got := <-told; got.Site != "t" || got.N != 2 {
		t.Errorf("%+v", got)
	}
	adds(t, events, "applied", a[2])
	if got := <-told; got.Site != "t" || got.N != 3 {
		t.Errorf("%+v", got)
	}
}
