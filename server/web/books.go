package web

import (
	"encoding/json"
	"slices"
	"sync"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

// books keeps what was read from the feeds, folded, so that a question reads only what is new. It is
// a cache: it begins empty at each start and can be thrown away at any moment.
type books struct {
	events Events
	mu     sync.Mutex
	desk   *summary.Desk     // over the one book; its names are those of the caller
	upto   map[string]uint64 // site → n of the last event in the book
	words  words
	shown  map[string][]string // hash of a picture → fixtures that it was taken at
}

func newBooks(events Events) *books {
	return &books{events: events, desk: summary.NewDesk(record.NewBook(), summary.Names{}), upto: map[string]uint64{}, words: words{}, shown: map[string][]string{}}
}

// with catches up with the sites that names holds and lets ask read: one caller at a time, since a book
// folds while it is read.
func (b *books) with(names summary.Names, ask func(*summary.Desk) error) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, site := range names.Sites {
		if err := b.catchUp(site.ID); err != nil {
			return err
		}
	}
	b.desk.Names = names
	return ask(b.desk)
}

// old says which events of a page of a site's feed belong to rounds that a phone may do without until somebody asks for
// them. Only the book is read under the lock: many phones pull at once.
func (b *books) old(site string, page []exchange.Stored) ([]bool, error) {
	events := make([]journal.Event, len(page))
	for i, p := range page {
		var err error
		if events[i], err = journal.Glance(p.Line); err != nil {
			return nil, err
		}
	}
	old := make([]bool, len(page))
	err := b.with(summary.Names{Sites: []summary.SiteName{{ID: site}}}, func(d *summary.Desk) error {
		for i, e := range events {
			old[i] = d.Book.Old(e)
		}
		return nil
	})
	return old, err
}

// note remembers where a picture was taken.
func (b *books) note(e journal.Event) {
	var picture record.Picture
	if record.Kind(e.Kind) == record.PictureAdded && json.Unmarshal(e.Body, &picture) == nil {
		b.shown[picture.Hash] = append(b.shown[picture.Hash], e.About.Fixture)
	}
}

// shows says whether a picture was taken at a fixture of one of these sites.
func (b *books) shows(sites []summary.SiteName, hash string) (shows bool, err error) {
	err = b.with(summary.Names{Sites: sites}, func(d *summary.Desk) error {
		for _, id := range b.shown[hash] {
			f := d.Book.Fixture(id)
			shows = shows || f != nil && slices.ContainsFunc(sites, func(site summary.SiteName) bool { return site.ID == f.Site })
		}
		return nil
	})
	return shows, err
}

func (b *books) catchUp(site string) error {
	for more := true; more; {
		var pairs []journal.Pair
		var err error
		pairs, more, err = b.events.Site(site, b.upto[site], 1000)
		if err != nil {
			return err
		}
		for _, p := range pairs {
			event, err := journal.Glance(p.Line)
			if err != nil {
				return err
			}
			b.desk.Book.AddReceived(b.words.lean(event), p.Receipt)
			b.note(event)
			b.upto[site] = p.Receipt.N
		}
	}
	return nil
}
