package storetest

import (
	"fmt"
	"sync"
	"testing"
	"time"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
)

// patience bounds a wait for what must come.
const patience = 10 * time.Second

// Watch holds the laws of store.Watch over the events that it tells of.
func Watch(t *testing.T, open OpenEvents) {
	for name, law := range map[string]func(*testing.T, OpenEvents){
		"told when it is kept":           watchTells,
		"a slow reader hears the last":   watchSlow,
		"of the sites named only":        watchSites,
		"nothing new tells nothing":      watchNothing,
		"ended once, others go on":       watchEnds,
		"a closing store ends it":        watchCloses,
		"many readers and many writers":  watchCrowd,
		"nobody waits for a dead reader": watchDead,
	} {
		t.Run(name, func(t *testing.T) { law(t, open) })
	}
}

// heard is the next change.
func heard(t testing.TB, changes <-chan store.Changed) store.Changed {
	t.Helper()
	select {
	case c, open := <-changes:
		if !open {
			t.Fatal("ended")
		}
		return c
	case <-time.After(patience):
		t.Fatal("nothing was told")
	}
	return store.Changed{}
}

// ended wants the channel closed; changes on their way may come before.
func ended(t testing.TB, changes <-chan store.Changed) {
	t.Helper()
	for deadline := time.After(patience); ; {
		select {
		case _, open := <-changes:
			if !open {
				return
			}
		case <-deadline:
			t.Fatal("still open")
		}
	}
}

// last reads up to n and wants the numbers to grow.
func last(t testing.TB, changes <-chan store.Changed, site string, n uint64) {
	t.Helper()
	for before := uint64(0); before != n; {
		c := heard(t, changes)
		if c.Site != site || c.N <= before || c.N > n {
			t.Fatalf("%+v after %d, up to %d", c, before, n)
		}
		before = c.N
	}
}

func watchTells(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	changes, cancel := events.Subscribe("s")
	defer cancel()
	for i, item := range written(t, logA, "x", "s", 3) {
		adds(t, events, "applied", item)
		c := heard(t, changes)
		if c != (store.Changed{Site: "s", N: uint64(i + 1)}) || len(feed(t, events, "s")) < i+1 {
			t.Fatalf("%+v", c)
		}
	}
}

func watchSlow(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	changes, cancel := events.Subscribe("s", "s")
	defer cancel()
	for _, item := range written(t, logA, "x", "s", 60) {
		adds(t, events, "applied", item)
	}
	last(t, changes, "s", 60)
	select {
	case c := <-changes:
		t.Errorf("%+v after the last", c)
	case <-time.After(20 * time.Millisecond):
	}
}

func watchSites(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	both, cancel := events.Subscribe("s", "t")
	defer cancel()
	none, cancel2 := events.Subscribe()
	defer cancel2()
	add(t, events, chained(t, logA, "x", about("u", ""), about("s", ""), about("t", ""), about("s", ""), about("ss", ""))...)
	got := map[string]uint64{}
	for got["s"] != 2 || got["t"] != 1 {
		c := heard(t, both)
		got[c.Site] = c.N
	}
	if len(got) != 2 {
		t.Errorf("%v", got)
	}
	select {
	case c := <-none:
		t.Errorf("%+v without being asked", c)
	case <-time.After(20 * time.Millisecond):
	}
}

func watchNothing(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	items := written(t, logA, "x", "s", 3)
	add(t, events, items[0])
	changes, cancel := events.Subscribe("s", "")
	defer cancel()
	adds(t, events, "duplicate not-allowed bad-line", items[0], aside(items[2], "not-allowed"), unparsable("x"))
	adds(t, events, "applied", items[1])
	last(t, changes, "s", 2)
}

func watchEnds(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	one, cancel := events.Subscribe("s")
	other, cancel2 := events.Subscribe("s")
	defer cancel2()
	items := written(t, logA, "x", "s", 2)
	add(t, events, items[0])
	cancel()
	cancel()
	ended(t, one)
	add(t, events, items[1])
	last(t, other, "s", 2)
}

func watchCloses(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	changes, cancel := events.Subscribe("s")
	if err := events.Close(); err != nil {
		t.Error(err)
	}
	ended(t, changes)
	cancel()
	later, cancel := events.Subscribe("s")
	ended(t, later)
	cancel()
}

func watchCrowd(t *testing.T, open OpenEvents) {
	const phones, each = 4, 15
	events, _ := open(t)
	var all sync.WaitGroup
	for range 3 {
		changes, cancel := events.Subscribe("s")
		defer cancel()
		all.Go(func() {
			for n := uint64(0); n != phones*each; {
				select {
				case c := <-changes:
					if c.N <= n {
						t.Errorf("%d after %d", c.N, n)
						return
					}
					n = c.N
				case <-time.After(patience):
					t.Errorf("the last that was told is %d", n)
					return
				}
			}
		})
	}
	for phone := range phones {
		items := written(t, logA[:35]+fmt.Sprint(phone), "x", "s", each)
		all.Go(func() {
			for _, item := range items {
				adds(t, events, "applied", item)
			}
		})
	}
	all.Wait()
}

func watchDead(t *testing.T, open OpenEvents) {
	events, _ := open(t)
	_, cancel := events.Subscribe("s") // never read
	defer cancel()
	items := written(t, logA, "x", "s", 40)
	done := make(chan struct{})
	go func() {
		defer close(done)
		for _, item := range items {
			if _, err := events.Add([]exchange.Incoming{item}); err != nil {
				t.Error(err)
			}
		}
	}()
	select {
	case <-done:
	case <-time.After(patience):
		t.Error("writing waits for a reader that does not read")
	}
}
