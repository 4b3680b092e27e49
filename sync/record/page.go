package record

import (
	"strings"

	"jointwalk/sync/journal"
)

// page is one fixture's events with the state they make. Events are put into
// the order of replay when the state is asked for, not as they come.
type page struct {
	events   []*entry
	waiting  []waiting
	disorder bool // whether events must be sorted first
	seen     map[identity]*entry
	made     *replayer // nil: to be replayed
	old      *oldness  // nil: to be found out
	print    uint64    // of the lines that were left for later
	opened   bool      // whether anybody asked for it, or added to it, since
}

// entry is an event with what the server's receipt says of its time. received
// is the server's clock, "" before a receipt came; offset is the sender's clock
// minus the server's in ms. twin is the other side of a fork.
type entry struct {
	journal.Event
	received string
	offset   int64
	twin     *entry
}

// identity finds an event; the event's own id and content tell the sides of a
// fork apart.
type identity struct {
	log string
	seq uint64
}

// add keeps an event and brings the state up to it. It gives the entry under
// which the event is kept and whether it is new.
func (p *page) add(e journal.Event) (kept *entry, isNew bool) {
	key := identity{e.Log, e.Seq}
	first := p.seen[key]
	for twin := first; twin != nil; twin = twin.twin {
		if same(&twin.Event, &e) {
			return twin, false
		}
	}
	added := &entry{Event: e, twin: first}
	p.seen[key] = added
	n := len(p.events)
	inOrder := n == 0 || before(p.events[n-1], added)
	p.events = append(p.events, added)
	p.old = nil
	p.follow(added, inOrder)
	return added, true
}

// follow brings the state up to a new event: applied at once where it comes
// last and takes nothing back, otherwise the page is replayed when next asked.
func (p *page) follow(e *entry, inOrder bool) {
	p.disorder = p.disorder || !inOrder
	if p.made == nil {
		return
	}
	if !inOrder || Kind(e.Kind) == Withdrawn {
		p.made = nil
		return
	}
	p.made.events = p.events
	p.made.apply(e)
}

// read is the state that the events make.
func (p *page) read(id string) *FixtureState {
	if p.disorder {
		Arrange(p.events, before)
		p.disorder = false
	}
	if p.made == nil {
		p.made = replay(id, p.events)
	}
	p.made.sortJoints()
	return p.made.f
}

// site is where the fixture stands now; of one that no event registered, the
// site of its last event.
func (p *page) site(id string) string {
	if f := p.read(id); f.Made.Event != "" {
		return f.Site
	}
	return p.events[len(p.events)-1].About.Site
}

func (p *page) begins(kind Kind, of string) bool {
	for _, e := range p.events {
		if e.About.Of == of && Kind(e.Kind) == kind {
			return true
		}
	}
	return false
}

// before is the order of replay: Lamport tick, then log, then sequence number,
// and what tells the sides of a fork apart. Wall clocks decide nothing.
func before(a, b *entry) bool {
	switch {
	case a.Tick != b.Tick:
		return a.Tick < b.Tick
	case a.Log != b.Log:
		return a.Log < b.Log
	case a.Seq != b.Seq:
		return a.Seq < b.Seq
	case a.V != b.V:
		return a.V < b.V
	}
	return spelled(&a.Event) < spelled(&b.Event)
}

// same says whether two events of one place in one log are one event.
func same(a, b *journal.Event) bool {
	return a.V == b.V && a.Tick == b.Tick && a.ID == b.ID && spelled(a) == spelled(b)
}

// spelled is all of an event that is text: what tells a fork's sides apart.
func spelled(e *journal.Event) string {
	return strings.Join([]string{e.ID, e.Prev, e.Time, e.Zone, e.By, e.Kind, e.Base, e.About.Site, e.About.Of, string(e.Body)}, "\n")
}
