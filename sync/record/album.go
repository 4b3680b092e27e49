package record

import "jointwalk/sync/journal"

// Album knows which pictures events speak of, who added them, and which were
// withdrawn since. Events may come in any order and more than once. A picture
// is withdrawn once every event that added it was taken back.
type Album struct {
	mentions map[mention]*mentioned
	of       map[string][]*mentioned // by hash
	expected map[string]bool         // hashes of which an event is about to be written
	touched  map[string]bool         // hashes of which something was taken back since they were cleared
}

// mention is an event that added a picture. A withdrawal takes back what is of
// its own fixture, as folding has it.
type mention struct{ fixture, event string }

// mentioned is what is known of a mention. by is the person who added the
// picture, "" when two events of one id do not agree.
type mentioned struct {
	by     string
	hashes []string
	gone   bool
}

// NewAlbum returns an empty album.
func NewAlbum() *Album {
	return &Album{mentions: map[mention]*mentioned{}, of: map[string][]*mentioned{}, expected: map[string]bool{}, touched: map[string]bool{}}
}

// Note takes in an event, of whatever kind. It gives the hashes of pictures that
// may be withdrawn by it.
func (a *Album) Note(e journal.Event) []string {
	switch Kind(e.Kind) {
	case PictureAdded:
		return a.noteAdded(e)
	case Withdrawn:
		m := a.at(e.About.Fixture, e.Base)
		m.gone = true
		return a.touch(m)
	}
	return nil
}

// touch notes the hashes of a mention that was taken back.
func (a *Album) touch(m *mentioned) []string {
	for _, hash := range m.hashes {
		a.touched[hash] = true
	}
	return m.hashes
}

func (a *Album) noteAdded(e journal.Event) []string {
	body, ok := bodyOf(&e).(*Picture)
	if !ok {
		return nil
	}
	m := a.at(e.About.Fixture, e.ID)
	delete(a.expected, body.Hash)
	a.add(m, body.Hash, e.By)
	if m.gone {
		return a.touch(m)
	}
	return nil
}

func (a *Album) add(m *mentioned, hash, by string) {
	if len(m.hashes) == 0 {
		m.by = by
	}
	if m.by != by {
		m.by = ""
	}
	for _, known := range m.hashes {
		if known == hash {
			return
		}
	}
	m.hashes = append(m.hashes, hash)
	a.of[hash] = append(a.of[hash], m)
}

func (a *Album) at(fixture, event string) *mentioned {
	key := mention{fixture, event}
	if a.mentions[key] == nil {
		a.mentions[key] = &mentioned{}
	}
	return a.mentions[key]
}

// AddedBy is the person who added a picture by an event about a fixture; known
// is false for an event that is not here or adds no picture.
func (a *Album) AddedBy(fixture, event string) (person string, known bool) {
	m := a.mentions[mention{fixture, event}]
	if m == nil || len(m.hashes) == 0 {
		return "", false
	}
	return m.by, true
}

// Expect says that a picture was kept here whose event is about to be written:
// until then it stands, though the same one was withdrawn before.
func (a *Album) Expect(hash string) { a.expected[hash] = true }

// Stands says whether an event that was not taken back speaks of a picture.
func (a *Album) Stands(hash string) bool {
	if a.expected[hash] {
		return true
	}
	for _, m := range a.of[hash] {
		if !m.gone {
			return true
		}
	}
	return false
}

// Withdrawn says whether a picture was withdrawn: events speak of it, and each
// of them was taken back.
func (a *Album) Withdrawn(hash string) bool { return len(a.of[hash]) > 0 && !a.Stands(hash) }

// Clear drops those of a device's pictures that were withdrawn since it was
// called last. One that still stands waits for the server again, which may have
// dropped it before it heard so. Errors: those of a write; the others are dealt
// with all the same, and it is to be called again.
func (a *Album) Clear(pictures *journal.Pictures) (err error) {
	for hash := range a.touched {
		do := pictures.Drop
		if a.Stands(hash) {
			do = pictures.Doubt
		}
		if bad := do(hash); bad != nil {
			err = bad
			continue
		}
		delete(a.touched, hash)
	}
	return err
}
