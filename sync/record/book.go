package record

import (
	"cmp"
	"slices"
	"strings"

	"jointwalk/sync/journal"
)

// Book holds events by fixture and answers with the fixtures they make. Events
// may come in any order and more than once. The zero value is not usable; see
// NewBook. A Book is not safe for use by several goroutines at once.
type Book struct {
	pages map[string]*page
	tags  map[string]string // tag → fixture id
}

// page is one fixture's events in replay order, with the state they make.
type page struct {
	events []journal.Event
	seen   map[identity]bool
	made   *replayer // nil: to be replayed
}

type identity struct {
	log string
	seq uint64
}

// NewBook returns an empty book.
func NewBook() *Book {
	return &Book{pages: map[string]*page{}, tags: map[string]string{}}
}

// Add takes an event in and says whether it was new. Events about no fixture
// are not kept here.
func (b *Book) Add(e journal.Event) bool {
	if e.About.Fixture == "" {
		return false
	}
	p := b.page(e.About.Fixture)
	key := identity{e.Log, e.Seq}
	if p.seen[key] {
		return false
	}
	p.seen[key] = true
	at, _ := slices.BinarySearchFunc(p.events, e, inOrder)
	last := at == len(p.events)
	p.events = slices.Insert(p.events, at, e)
	p.follow(e, last)
	b.noteTag(e)
	return true
}

// follow brings the state up to a new event: applied at once where it comes
// last and takes nothing back, otherwise the page is replayed when next asked.
func (p *page) follow(e journal.Event, last bool) {
	if p.made == nil {
		return
	}
	if !last || Kind(e.Kind) == Withdrawn {
		p.made = nil
		return
	}
	p.made.apply(e)
	p.made.sortJoints()
}

func (b *Book) page(fixture string) *page {
	p := b.pages[fixture]
	if p == nil {
		p = &page{seen: map[identity]bool{}}
		b.pages[fixture] = p
	}
	return p
}

// noteTag keeps the index of tags. Of two fixtures under one tag the smaller
// id answers, whichever came first.
func (b *Book) noteTag(e journal.Event) {
	if Kind(e.Kind) != FixtureRegistered {
		return
	}
	body, err := decode[RegisteredBody](e.Body)
	if err != nil {
		return
	}
	if now, taken := b.tags[body.Tag]; !taken || e.About.Fixture < now {
		b.tags[body.Tag] = e.About.Fixture
	}
}

// inOrder is the order of replay: Lamport tick, then log, then sequence
// number. Wall clocks decide nothing.
func inOrder(a, b journal.Event) int {
	return cmp.Or(cmp.Compare(a.Tick, b.Tick), strings.Compare(a.Log, b.Log), cmp.Compare(a.Seq, b.Seq))
}

// Fixture returns a fixture's state, nil when no event registered it. The
// state belongs to the book: read it, do not change it.
func (b *Book) Fixture(id string) *FixtureState {
	p := b.pages[id]
	if p == nil {
		return nil
	}
	if p.made == nil {
		p.made = replay(id, p.events)
	}
	if p.made.f.Made.Event == "" {
		return nil
	}
	return p.made.f
}

// Fixtures returns all fixtures, by name and then id.
func (b *Book) Fixtures() []*FixtureState {
	var all []*FixtureState
	for id := range b.pages {
		if f := b.Fixture(id); f != nil {
			all = append(all, f)
		}
	}
	slices.SortFunc(all, func(x, y *FixtureState) int {
		return cmp.Or(strings.Compare(x.Name, y.Name), strings.Compare(x.ID, y.ID))
	})
	return all
}

// FixtureByTag returns the fixture under a tag's code, nil when none.
func (b *Book) FixtureByTag(code string) *FixtureState { return b.Fixture(b.tags[code]) }

// FixtureOfRound returns the fixture that a round belongs to, nil when none.
func (b *Book) FixtureOfRound(round string) *FixtureState {
	return b.find(func(f *FixtureState) bool { return f.Round(round) != nil })
}

// FixtureOfLook returns the fixture that a look (or finding) belongs to, nil
// when none.
func (b *Book) FixtureOfLook(look string) *FixtureState {
	return b.find(func(f *FixtureState) bool { return f.LookByID(look) != nil })
}

func (b *Book) find(has func(*FixtureState) bool) *FixtureState {
	for id := range b.pages {
		if f := b.Fixture(id); f != nil && has(f) {
			return f
		}
	}
	return nil
}

// DropSite forgets all fixtures of a site.
func (b *Book) DropSite(site string) {
	for id, p := range b.pages {
		if len(p.events) > 0 && p.events[len(p.events)-1].About.Site == site {
			delete(b.pages, id)
		}
	}
}
