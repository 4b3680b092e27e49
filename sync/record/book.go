package record

import (
	"slices"

	"jointwalk/sync/journal"
)

// Book holds events by fixture and answers with the fixtures they make. Events
// may come in any order and more than once. The zero value is not usable; see
// NewBook. A Book is not safe for use by several goroutines at once.
type Book struct {
	// Album is the pictures of all events, of those too that were not read yet.
	Album *Album

	pages map[string]*page
	tags  map[string]string   // tag → fixture that was registered under it
	homes map[begun]string    // noun → its fixture, of those that were asked for
	given map[string][]*entry // tag → edits by which fixtures were given it

	unread int
}

// begun is a noun by what began it.
type begun struct {
	kind Kind
	of   string
}

// NewBook returns an empty book.
func NewBook() *Book {
	return &Book{Album: NewAlbum(), pages: map[string]*page{}, tags: map[string]string{}, homes: map[begun]string{}, given: map[string][]*entry{}}
}

// Add takes in an event that no server has answered yet and says whether it was
// new. Events about no fixture are not kept here. Both sides of a fork, events
// of one log and number that differ, are kept and folded.
func (b *Book) Add(e journal.Event) bool {
	_, isNew := b.add(e)
	return isNew
}

// AddReceived is Add for an event that came with the server's receipt. Of an
// event that is here already only the receipt is new. Of two receipts the
// earlier one counts.
func (b *Book) AddReceived(e journal.Event, r journal.Receipt) bool {
	kept, isNew := b.add(e)
	if kept != nil && (kept.received == "" || r.At < kept.received) {
		kept.received, kept.offset = r.At, r.Offset
	}
	return isNew
}

func (b *Book) add(e journal.Event) (kept *entry, isNew bool) {
	if e.About.Fixture == "" {
		return nil, false
	}
	b.begin(e.About.Fixture)
	p := b.page(e.About.Fixture)
	if kept, isNew = p.add(e); isNew {
		delete(b.homes, begun{Kind(e.Kind), e.About.Of})
		b.noteTag(&e)
		b.Album.Note(&e)
	}
	return kept, isNew
}

// begin gives a fixture's page, its lines perhaps unread; a new one where there is none.
func (b *Book) begin(fixture string) *page {
	p := b.pages[fixture]
	if p == nil {
		p = &page{seen: map[identity]*entry{}}
		b.pages[fixture] = p
	}
	return p
}

// noteTag keeps the index of tags. Of two fixtures registered under one tag the
// smaller id answers, whichever came first.
func (b *Book) noteTag(e *journal.Event) {
	if kind := Kind(e.Kind); kind != FixtureRegistered && kind != FixtureEdited {
		return
	}
	switch body := bodyOf(e).(type) {
	case *RegisteredBody:
		if now, taken := b.tags[body.Tag]; !taken || e.About.Fixture < now {
			b.tags[body.Tag] = e.About.Fixture
		}
	case *FixtureEdit:
		if body.Tag != nil {
			b.given[*body.Tag] = append(b.given[*body.Tag], &entry{Event: *e})
		}
	}
}

// Fixture returns a fixture's state, nil when no event registered it. The
// state belongs to the book: read it, do not change it.
func (b *Book) Fixture(id string) *FixtureState {
	p := b.page(id)
	if p == nil {
		return nil
	}
	if f := p.read(id); f.Made.Event != "" {
		return f
	}
	return nil
}

// IDs are those of all fixtures that there are events of, in no order.
func (b *Book) IDs() []string {
	ids := make([]string, 0, len(b.pages))
	for id := range b.pages {
		ids = append(ids, id)
	}
	return ids
}

// Fixtures returns all fixtures, by name and then id.
func (b *Book) Fixtures() []*FixtureState {
	var all []*FixtureState
	for id := range b.pages {
		if f := b.Fixture(id); f != nil {
			all = append(all, f)
		}
	}
	Arrange(all, func(a, b *FixtureState) bool { return a.Name < b.Name || a.Name == b.Name && a.ID < b.ID })
	return all
}

// FixtureByTag returns the fixture that carries a tag, by its code: the one that was
// given it last or, where none was, the one registered under it; nil when none. A tag
// that was replaced on its fixture and not given to another still finds it.
func (b *Book) FixtureByTag(code string) *FixtureState {
	var last *entry
	found := b.Fixture(b.tags[code])
	for _, g := range b.given[code] {
		if f := b.Fixture(g.About.Fixture); f != nil && f.given(g.ID) && (last == nil || before(last, g)) {
			found, last = f, g
		}
	}
	return found
}

// given says whether an edit that gave the fixture a tag stands.
func (f *FixtureState) given(event string) bool {
	return slices.ContainsFunc(f.Tags, func(t TagState) bool { return t.Given.Event == event })
}

// FixtureOfRound returns the fixture that a round belongs to, nil when none.
func (b *Book) FixtureOfRound(round string) *FixtureState {
	if f := b.begunIn(RoundStarted, round); f != nil && f.Round(round) != nil {
		return f
	}
	return nil
}

// FixtureOfLook returns the fixture that a look (or finding) belongs to, nil
// when none.
func (b *Book) FixtureOfLook(look string) *FixtureState {
	if f := b.begunIn(LookMade, look); f != nil && f.LookByID(look) != nil {
		return f
	}
	return nil
}

// begunIn is the fixture in whose events a noun began, nil when there is none:
// found without replaying any other, and once found known until something else
// is said of that noun. Of two, which honest devices never write, it is the one
// with the smaller id.
func (b *Book) begunIn(kind Kind, of string) *FixtureState {
	home, known := b.homes[begun{kind, of}]
	if !known {
		if home = b.search(kind, of); home != "" {
			b.homes[begun{kind, of}] = home
		}
	}
	return b.Fixture(home)
}

// search looks through the lines of all fixtures for the beginning of a noun.
func (b *Book) search(kind Kind, of string) string {
	found := ""
	for id, p := range b.pages {
		if p.waitsFor(of) {
			p = b.page(id)
		}
		if (found == "" || id < found) && p.begins(kind, of) {
			found = id
		}
	}
	return found
}

// DropSite forgets all fixtures whose present site it is. It gives the photos of
// those, of which nothing here speaks any more.
func (b *Book) DropSite(site string) (photos []string) {
	had := b.shown()
	for id := range b.pages {
		if b.page(id).site(id) == site {
			delete(b.pages, id)
		}
	}
	clear(b.homes)
	for _, m := range had {
		if b.pages[m.photo.About.Fixture] == nil {
			photos = append(photos, m.hash)
		}
	}
	return photos
}
