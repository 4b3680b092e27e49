package memory

import (
	"jointwalk/server/store"
	"jointwalk/sync/exchange"
)

// ledger is Events with its lock held.
type ledger struct {
	*Events
	grown map[string]bool // the sites that got something
}

func (l *ledger) Hash(log string, seq uint64) (string, error) {
	return l.held[place{log, seq}].Hash, nil
}

func (l *ledger) Prev(log string, seq uint64) (string, error) {
	return l.held[place{log, seq}].Event.Prev, nil
}

func (l *ledger) Append(item *exchange.Incoming, beside bool, sites ...string) (uint64, error) {
	pair := store.Stored{Line: item.Line, Receipt: item.Receipt}
	for _, site := range sites {
		l.add(site, pair)
	}
	if !beside {
		l.held[place{item.Event.Log, item.Event.Seq}] = *item
	}
	l.see(item)
	fixture := item.Event.About.Fixture
	if fixture == "" {
		return 0, nil
	}
	l.fixtures[fixture] = append(l.fixtures[fixture], filed{sites[0], uint64(len(l.feeds[sites[0]]))})
	return uint64(len(l.fixtures[fixture])), nil
}

// add puts a pair at the end of a feed.
func (l *ledger) add(site string, pair store.Stored) {
	pair.Receipt.N = uint64(len(l.feeds[site])) + 1
	l.feeds[site] = append(l.feeds[site], pair)
	l.grown[site] = true
}

func (l *ledger) Copy(fixture string, after uint64, site string) error {
	for _, at := range l.fixtures[fixture][after:] {
		if at.site != site {
			l.add(site, l.feeds[at.site][at.n-1])
		}
	}
	return nil
}

func (l *ledger) Place(fixture string) (store.Place, error) { return l.places[fixture], nil }

func (l *ledger) SetPlace(fixture string, place store.Place) error {
	l.places[fixture] = place
	return nil
}

func (l *ledger) SetAside(item *exchange.Incoming, code string) error {
	l.see(item)
	if l.apart[item.Hash] == 0 {
		n := uint64(len(l.asides)) + 1
		l.apart[item.Hash] = n
		l.asides = append(l.asides, store.AsideOf(n, *item, code))
	}
	return nil
}

func (l *ledger) Apart(hash string) (store.Aside, error) {
	if n := l.apart[hash]; n > 0 {
		return l.asides[n-1], nil
	}
	return store.Aside{}, nil
}

func (l *ledger) Resettle(aside store.Aside) error {
	l.asides[aside.N-1] = aside
	return nil
}

// see moves the frontier of the item's log.
func (l *ledger) see(item *exchange.Incoming) {
	log := item.Event.Log
	if log == "" {
		return
	}
	l.seen[place{log, item.Event.Seq}] = true
	for l.seen[place{log, l.upto[log] + 1}] {
		l.upto[log]++
	}
}
