// Package album holds pictures to what the feeds say of them: the bytes of one that was withdrawn are dropped, refused when
// they come again, and given to nobody. It keeps no truth of its own: what it knows it reads from the feeds.
package album

import (
	"errors"
	"io"
	"sync"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// page is how many events of a feed are read at once.
const page = 1000

// Album watches over the pictures of a store.
type Album struct {
	events store.Events
	blobs  store.Blobs
	sites  func() ([]string, error)
	failed func(error)

	mu    sync.Mutex
	known *record.Album
	upto  map[string]uint64 // site → n of the last event that was read
	due   map[string]bool   // hashes that may be withdrawn, and not dropped yet
}

// New makes an album over what events say at all sites. failed is told when a withdrawn picture could not be dropped: it is
// tried again with the next withdrawal, and by Sweep.
func New(events store.Events, blobs store.Blobs, sites func() ([]string, error), failed func(error)) *Album {
	return &Album{events: events, blobs: blobs, sites: sites, failed: failed, known: record.NewAlbum(), upto: map[string]uint64{}, due: map[string]bool{}}
}

// AddedBy is the person who added a picture by an event that is in a feed; known is false for any other event. Errors: the
// store's.
func (a *Album) AddedBy(fixture, event string) (person string, known bool, err error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	err = a.catchUp()
	person, known = a.known.AddedBy(fixture, event)
	return person, known, err
}

// Sweep drops what was withdrawn, what comes of it in parts too. At a start it finds what a crash or a restore left. Errors:
// the store's; the others are dropped all the same.
func (a *Album) Sweep() error {
	a.mu.Lock()
	defer a.mu.Unlock()
	err := a.catchUp()
	for hash := range a.due {
		if a.known.Withdrawn(hash) {
			if bad := a.blobs.Drop(hash); bad != nil && !errors.Is(bad, store.ErrNoBlob) {
				err = errors.Join(err, bad)
				continue
			}
		}
		delete(a.due, hash)
	}
	return err
}

func (a *Album) sweep() {
	if err := a.Sweep(); err != nil {
		a.failed(err)
	}
}

// refused is the refusal of a picture that was withdrawn, nil for any other.
func (a *Album) refused(hash string) error {
	a.mu.Lock()
	defer a.mu.Unlock()
	if err := a.catchUp(); err != nil {
		return err
	}
	if a.known.Withdrawn(hash) {
		return &store.Fault{Code: exchange.CodeWithdrawn}
	}
	return nil
}

// catchUp reads what is new in the feeds. It needs mu.
func (a *Album) catchUp() error {
	sites, err := a.sites()
	if err != nil {
		return err
	}
	for _, site := range sites {
		if err := a.read(site); err != nil {
			return err
		}
	}
	return nil
}

func (a *Album) read(site string) error {
	for more := true; more; {
		var pairs []store.Stored
		var err error
		if pairs, more, err = a.events.Site(site, a.upto[site], page); err != nil {
			return err
		}
		for _, pair := range pairs {
			if err := a.note(pair.Line); err != nil {
				return err
			}
			a.upto[site] = pair.Receipt.N
		}
	}
	return nil
}

func (a *Album) note(line journal.Line) error {
	if about, ok := journal.Skim(line); ok && !speaks(string(about.Kind)) {
		return nil
	}
	e, err := journal.Glance(line)
	if err != nil {
		return err
	}
	if hash := a.known.Note(&e); hash != "" {
		a.due[hash] = true
	}
	return nil
}

// speaks says whether events of a kind add pictures or take something back.
func speaks(kind string) bool {
	return kind == string(record.PictureAdded) || kind == string(record.Withdrawn)
}

// Events is the store of events; whatever withdraws a picture there drops it.
func (a *Album) Events() store.Events { return events{a.events, a} }

type events struct {
	store.Events
	album *Album
}

func (e events) Add(items []exchange.Incoming) ([]exchange.Verdict, error) {
	verdicts, err := e.Events.Add(items)
	for i := range items {
		if err == nil && speaks(items[i].Event.Kind) {
			e.album.sweep()
			break
		}
	}
	return verdicts, err
}

func (e events) Accept(hash string, settled store.Settlement) error {
	err := e.Events.Accept(hash, settled)
	if err == nil {
		e.album.sweep()
	}
	return err
}

// Blobs is the store of pictures without the withdrawn ones: these are refused with exchange.CodeWithdrawn.
func (a *Album) Blobs() store.Blobs { return blobs{a.blobs, a} }

type blobs struct {
	store.Blobs
	album *Album
}

func (b blobs) Put(hash string, body io.Reader) error {
	if err := b.album.refused(hash); err != nil {
		return err
	}
	if err := b.Blobs.Put(hash, body); err != nil {
		return err
	}
	return b.after(hash)
}

func (b blobs) Extend(hash string, offset, size int64, body io.Reader) (have int64, whole bool, err error) {
	if err := b.album.refused(hash); err != nil {
		return 0, false, err
	}
	if have, whole, err = b.Blobs.Extend(hash, offset, size, body); err != nil {
		return have, whole, err
	}
	return have, whole, b.after(hash)
}

// after drops what was withdrawn while it came in.
func (b blobs) after(hash string) error {
	refused := b.album.refused(hash)
	if store.CodeOf(refused) != exchange.CodeWithdrawn {
		return refused
	}
	if err := b.Blobs.Drop(hash); err != nil && !errors.Is(err, store.ErrNoBlob) {
		return err
	}
	return refused
}

func (b blobs) Get(hash string) (io.ReadCloser, error) {
	if err := b.album.refused(hash); err != nil {
		return nil, err
	}
	return b.Blobs.Get(hash)
}

func (b blobs) Size(hash string) (int64, error) {
	if err := b.album.refused(hash); err != nil {
		return 0, err
	}
	return b.Blobs.Size(hash)
}

func (b blobs) Part(hash string) (int64, bool, error) {
	if err := b.album.refused(hash); err != nil {
		return 0, false, err
	}
	return b.Blobs.Part(hash)
}
