package record

import "jointwalk/sync/journal"

// waiting is a kept line that nobody asked for yet, with its receipt, and what
// it is about.
type waiting struct {
	line    journal.Line
	receipt []byte
	of      []byte
}

// Later is AddReceived for a line that was kept, read only when somebody asks
// for its fixture: a phone that starts holds twenty thousand of them, and is
// asked for one fixture. receipt is empty where no server answered yet. Both must
// not change any more. Errors: those of journal.Glance, as far as it was read.
func (b *Book) Later(line journal.Line, receipt []byte) error {
	about, ok := journal.Skim(line)
	if !ok || len(about.Fixture) == 0 {
		return b.take(waiting{line: line, receipt: receipt})
	}
	switch Kind(about.Kind) {
	case PictureAdded, Withdrawn, FixtureEdited, FixtureRegistered: // pictures and tags are found without their fixture
		if e, err := journal.Glance(line); err == nil {
			b.Album.Note(&e)
			b.noteTag(&e)
		}
	}
	delete(b.homes, begun{Kind(about.Kind), string(about.Of)})
	p := b.begin(string(about.Fixture))
	p.waiting = append(p.waiting, waiting{line, receipt, about.Of})
	p.print += uint64(journal.Print(line, receipt))
	return nil
}

// Unread is how many lines could not be read when their fixture was asked for.
func (b *Book) Unread() int { return b.unread }

// Print tells the lines that were kept for a fixture from any others, as long as nobody asked for it: what was once said of
// those lines may be said again without reading them. It is false where the fixture was read, or got an event, since.
func (b *Book) Print(fixture string) (print uint64, unread bool) {
	p := b.pages[fixture]
	if p == nil || p.opened {
		return 0, false
	}
	return p.print, true
}

// page is a fixture's page with all its lines read, nil when there is none.
func (b *Book) page(id string) *page {
	p := b.pages[id]
	if p == nil {
		return nil
	}
	p.opened = true
	lines := p.waiting
	p.waiting = nil
	for _, w := range lines {
		if b.take(w) != nil {
			b.unread++
		}
	}
	return p
}

// take reads a line and adds its event.
func (b *Book) take(w waiting) error {
	e, err := journal.Glance(w.line)
	if err != nil {
		return err
	}
	if r, bad := journal.ParseReceipt(w.receipt); bad == nil {
		b.AddReceived(e, r)
	} else {
		b.Add(e) // there is none, or nobody can read it: the event stands without it
	}
	return nil
}

// waitsFor says whether a line that was not read yet is about a noun.
func (p *page) waitsFor(of string) bool {
	for _, w := range p.waiting {
		if string(w.of) == of {
			return true
		}
	}
	return false
}
