package record

import "jointwalk/sync/journal"

// Album knows which pictures events speak of, who added them, and which were
// withdrawn since. Events may come in any order and more than once. A picture
// is withdrawn once every event that added it was taken back. It has one map and
// copies no events: the phone has to load it.
type Album struct {
	mentions map[string]*mention // by fixture and event: a withdrawal takes back what is of its own fixture
	pictures []*mention          // those that name a hash
	touched  []string            // hashes of which something was taken back since they were cleared
}

// mention is what is known of an event that added a picture or was taken back.
// by is the person who added it, "" when two events of one id do not agree, of
// which the first names the picture. photo is that event where the picture is
// one of its fixture itself.
type mention struct {
	by, hash string
	gone     bool
	photo    *entry
	size     int
}

// NewAlbum returns an empty album.
func NewAlbum() *Album { return &Album{mentions: map[string]*mention{}} }

// Note takes in an event, of whatever kind. It gives the hash of a picture that
// may be withdrawn by it, "" for none.
//
//go:noinline
func (a *Album) Note(e *journal.Event) string {
	var m *mention
	switch Kind(e.Kind) {
	case PictureAdded:
		m = a.at(e.About.Fixture, e.ID)
		if body, ok := bodyOf(e).(*Picture); ok {
			a.at("", body.Hash).gone = true // what was expected is here
			a.add(m, body.Hash, e.By)
			if e.About.Of == e.About.Fixture && m.photo == nil {
				m.photo, m.size = &entry{Event: *e}, body.Bytes
			}
		}
	case Withdrawn:
		m = a.at(e.About.Fixture, e.Base)
		m.gone = true
	}
	if m == nil || !m.gone || m.hash == "" {
		return ""
	}
	a.touched = append(a.touched, m.hash)
	return m.hash
}

func (a *Album) add(m *mention, hash, by string) {
	if m.hash == "" {
		m.hash, m.by = hash, by
		a.pictures = append(a.pictures, m)
	}
	if m.by != by {
		m.by = ""
	}
}

//go:noinline
func (a *Album) at(fixture, event string) *mention {
	key := fixture + " " + event
	m := a.mentions[key]
	if m == nil {
		m = new(mention)
		a.mentions[key] = m
	}
	return m
}

// AddedBy is the person who added a picture by an event about a fixture; known
// is false for an event that is not here or adds no picture.
//
//go:noinline
func (a *Album) AddedBy(fixture, event string) (person string, known bool) {
	m := a.mentions[fixture+" "+event]
	if m == nil || m.hash == "" {
		return "", false
	}
	return m.by, true
}

// Expect says that a picture was kept here whose event is about to be written:
// until then it stands, though the same one was withdrawn before.
//
//go:noinline
func (a *Album) Expect(hash string) {
	m := a.at("", hash)
	a.add(m, hash, "")
	m.gone = false
}

// Stands says whether an event that was not taken back speaks of a picture.
//
//go:noinline
func (a *Album) Stands(hash string) bool {
	for _, m := range a.pictures {
		if m.hash == hash && !m.gone {
			return true
		}
	}
	return false
}

// Wanted says whether this device has more to say of a picture that the server
// calls withdrawn. What is only expected to be said is waited for once: the
// writing may have failed.
func (a *Album) Wanted(hash string) bool {
	wanted := a.Stands(hash)
	a.at("", hash).gone = true
	return wanted
}

// Withdrawn says whether a picture was withdrawn: events speak of it, and each
// of them was taken back.
func (a *Album) Withdrawn(hash string) bool {
	for _, m := range a.pictures {
		if m.hash == hash {
			return !a.Stands(hash)
		}
	}
	return false
}

// Clear drops those of a device's pictures that were withdrawn since it was
// called last. One that still stands waits for the server again, which may have
// dropped it before it heard so. Errors: those of a write; the others are dealt
// with all the same, and it is to be called again.
func (a *Album) Clear(pictures *journal.Pictures) (err error) {
	touched := a.touched
	a.touched = nil
	for _, hash := range touched {
		do := pictures.Drop
		if a.Stands(hash) {
			do = pictures.Doubt
		}
		if bad := do(hash); bad != nil {
			err = bad
			a.touched = append(a.touched, hash)
		}
	}
	return err
}
