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
	fixtures map[string][]store.Stored
	held     map[place]exchange.Incoming // those in a feed
	seen     map[place]bool              // those in a feed or aside
	upto     map[string]uint64
	asides   []store.Aside
	apart    map[string]bool // hashes of asides
}

// NewEvents is an empty store of this incarnation.
func NewEvents(incarnation string) *Events {
	return &Events{
		name: incarnation, feeds: map[string][]store.Stored{}, fixtures: map[string][]store.Stored{},
		held: map[place]exchange.Incoming{}, seen: map[place]bool{}, upto: map[string]uint64{}, apart: map[string]bool{},
	}
}

// Add takes items in.
func (e *Events) Add(items []exchange.Incoming) ([]exchange.Verdict, error) {
	e.mu.Lock()
	defer e.mu.Unlock()
	verdicts := make([]exchange.Verdict, len(items))
	for i, item := range items {
		item.Line = bytes.Clone(item.Line)
		v, err := store.Judge((*ledger)(e), item)
		if err != nil {
			return nil, err
		}
		verdicts[i] = v
		if site := item.Event.About.Site; v.Is == exchange.Applied {
			e.hub.Tell(store.Changed{Site: site, N: uint64(len(e.feeds[site]))})
		}
	}
	return verdicts, nil
}

// Upto is the frontier of a log.
func (e *Events) Upto(log string) (uint64, error) {
	e.mu.RLock()
	defer e.mu.RUnlock()
	return e.upto[log], nil
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
	return copied(e.fixtures[fixture]), nil
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
		some[i].Line = bytes.Clone(some[i].Line)
	}
	return some, nil
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

// ledger is Events with its lock held.
type ledger Events

func (l *ledger) Hash(log string, seq uint64) (string, error) {
	return l.held[place{log, seq}].Hash, nil
}

func (l *ledger) Prev(log string, seq uint64) (string, error) {
	return l.held[place{log, seq}].Event.Prev, nil
}

func (l *ledger) Append(item exchange.Incoming) error {
	about := item.Event.About
	item.Receipt.N = uint64(len(l.feeds[about.Site])) + 1
	pair := store.Stored{Line: item.Line, Receipt: item.Receipt}
	l.feeds[about.Site] = append(l.feeds[about.Site], pair)
	if about.Fixture != "" {
		l.fixtures[about.Fixture] = append(l.fixtures[about.Fixture], pair)
	}
	l.held[place{item.Event.Log, item.Event.Seq}] = item
	l.see(item)
	return nil
}

func (l *ledger) SetAside(item exchange.Incoming, code string) error {
	l.see(item)
	if !l.apart[item.Hash] {
		l.apart[item.Hash] = true
		l.asides = append(l.asides, store.AsideOf(uint64(len(l.asides))+1, item, code))
	}
	return nil
}

// see moves the frontier of the item's log.
func (l *ledger) see(item exchange.Incoming) {
	log := item.Event.Log
	if log == "" {
		return
	}
	l.seen[place{log, item.Event.Seq}] = true
	for l.seen[place{log, l.upto[log] + 1}] {
		l.upto[log]++
	}
}
