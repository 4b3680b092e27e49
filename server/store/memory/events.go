// Package memory is a store that keeps nothing beyond the process: for tests and for simulation.
package memory

import (
	"bytes"
	"slices"
	"sync"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
)

// place is the identity of an event.
type place struct {
	log string
	seq uint64
}

// Events is store.Events and store.Watch in memory.
type Events struct {
	hub  store.Hub
	name string

	mu       sync.RWMutex
	feeds    map[string][]store.Stored
	fixtures map[string][]filed
	places   map[string]store.Place
	held     map[place]exchange.Incoming // those that stand for their place
	seen     map[place]bool              // those in a feed or aside
	upto     map[string]uint64
	asides   []store.Aside
	apart    map[string]uint64 // hash → n in asides
}

// filed says where a fixture's event stands in the feed of its own site.
type filed struct {
	site string
	n    uint64
}

// NewEvents is an empty store of this incarnation.
func NewEvents(incarnation string) *Events {
	return &Events{
		name: incarnation, feeds: map[string][]store.Stored{}, fixtures: map[string][]filed{}, places: map[string]store.Place{},
		held: map[place]exchange.Incoming{}, seen: map[place]bool{}, upto: map[string]uint64{}, apart: map[string]uint64{},
	}
}

// Add takes items in.
func (e *Events) Add(items []exchange.Incoming) ([]exchange.Verdict, error) {
	verdicts := make([]exchange.Verdict, len(items))
	err := e.write(func(l *ledger) (err error) {
		for i, item := range items {
			item.Line = bytes.Clone(item.Line)
			if verdicts[i], err = store.Judge(l, &item); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return verdicts, nil
}

// Accept takes what was set aside into the feeds.
func (e *Events) Accept(hash string, settled store.Settlement) error {
	return e.write(func(l *ledger) error { return store.Accept(l, hash, settled) })
}

// Settle keeps that a line stays set aside.
func (e *Events) Settle(hash string, settled store.Settlement) error {
	return e.write(func(l *ledger) error { return store.Settle(l, hash, settled) })
}

// write changes with the lock held, and tells of the sites that grew. Nothing here fails half way.
func (e *Events) write(do func(*ledger) error) error {
	e.mu.Lock()
	defer e.mu.Unlock()
	l := &ledger{e, map[string]bool{}}
	if err := do(l); err != nil {
		return err
	}
	for site := range l.grown {
		e.hub.Tell(store.Changed{Site: site, N: uint64(len(e.feeds[site]))})
	}
	return nil
}

// Upto is the frontier of a log.
func (e *Events) Upto(log string) (uint64, error) {
	e.mu.RLock()
	defer e.mu.RUnlock()
	return e.upto[log], nil
}

// Fed is how far a log stands in the feeds.
func (e *Events) Fed(log string, most uint64) (seq uint64, err error) {
	e.mu.RLock()
	defer e.mu.RUnlock()
	for seq < most && e.held[place{log, seq + 1}].Hash != "" {
		seq++
	}
	return seq, nil
}

// Stand gives the hashes of what stands for places of a log.
func (e *Events) Stand(log string, seqs []uint64) ([]string, error) {
	e.mu.RLock()
	defer e.mu.RUnlock()
	hashes := make([]string, len(seqs))
	for i, seq := range seqs {
		hashes[i] = e.held[place{log, seq}].Hash
	}
	return hashes, nil
}

// Site reads a part of a feed.
func (e *Events) Site(site string, after uint64, most int) ([]store.Stored, bool, error) {
	e.mu.RLock()
	defer e.mu.RUnlock()
	part, more := part(e.feeds[site], after, most)
	return copied(part), more, nil
}

// Fixture reads all about a fixture.
func (e *Events) Fixture(fixture string) ([]store.Stored, error) {
	e.mu.RLock()
	defer e.mu.RUnlock()
	var all []store.Stored
	for _, at := range e.fixtures[fixture] {
		all = append(all, e.feeds[at.site][at.n-1])
	}
	return copied(all), nil
}

// Last is the highest n of a site.
func (e *Events) Last(site string) (uint64, error) {
	e.mu.RLock()
	defer e.mu.RUnlock()
	return uint64(len(e.feeds[site])), nil
}

// Asides lists what was set aside.
func (e *Events) Asides(after uint64, most int) ([]store.Aside, error) {
	e.mu.RLock()
	defer e.mu.RUnlock()
	some, _ := part(e.asides, after, most)
	some = slices.Clone(some)
	for i := range some {
		some[i] = own(some[i])
	}
	return some, nil
}

// Apart gives one of them.
func (e *Events) Apart(hash string) (store.Aside, error) {
	e.mu.RLock()
	defer e.mu.RUnlock()
	n := e.apart[hash]
	if n == 0 {
		return store.Aside{}, store.ErrNoAside
	}
	return own(e.asides[n-1]), nil
}

// own is an aside that shares nothing.
func own(a store.Aside) store.Aside {
	a.Line = bytes.Clone(a.Line)
	if a.Settled != nil {
		settled := *a.Settled
		a.Settled = &settled
	}
	return a
}

// Subscribe tells of sites that grow.
func (e *Events) Subscribe(sites ...string) (<-chan store.Changed, func()) {
	return e.hub.Subscribe(sites...)
}

// Close ends all subscriptions.
func (e *Events) Close() error {
	e.hub.Close()
	return nil
}

// Incarnation names this life of the store.
func (e *Events) Incarnation() string { return e.name }

// part is what stands behind after in a list that is numbered from 1, at most most of it, and whether there is more.
func part[T any](list []T, after uint64, most int) ([]T, bool) {
	if after >= uint64(len(list)) {
		return nil, false
	}
	rest := list[after:]
	most = max(0, min(most, len(rest)))
	return rest[:most], most < len(rest)
}

// copied is the pairs with lines of their own.
func copied(pairs []store.Stored) []store.Stored {
	pairs = slices.Clone(pairs)
	for i := range pairs {
		pairs[i].Line = bytes.Clone(pairs[i].Line)
	}
	return pairs
}
