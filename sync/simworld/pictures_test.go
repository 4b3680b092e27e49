package simworld

import (
	"bytes"
	"encoding/json"
	"slices"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// shown is a picture of a fixture: the event that added it.
type shown struct{ event, of, hash string }

// savePicture keeps a picture and then, as its screen does, the event that speaks of it. Where there is no finding to speak of,
// it stays without.
func (h *handset) savePicture() {
	if h.phone.Standing().Revoked {
		return
	}
	hash, content := h.w.takePicture()
	if again := h.w.truth.taken(h); again != nil {
		hash, content = again.hash, again.content
	}
	err := h.pool.Pictures().Add(hash, content, h.clock().UTC().Format(journal.TimeLayout))
	switch {
	case h.died():
	case err != nil:
		h.told(err)
	default:
		h.album.Expect(hash)
		h.expecting[hash] = true
		h.w.truth.keep(h, hash, content)
		h.w.tally.pictures++
		h.w.note("%s saved picture %.8s (%d bytes)", h.name, hash, len(content))
		h.speakOf(hash, len(content))
	}
}

// speakOf saves the event of a picture.
func (h *handset) speakOf(hash string, size int) {
	d, f := h.draftOf(func(f *fixture) bool { return len(f.looks) > 0 })
	if f == nil {
		h.begin(false)
		return
	}
	d.About.Of = pick(h.w, f.looks)
	d.put(record.PictureAdded, record.Picture{Hash: hash, Bytes: size, Type: "image/jpeg", Width: 4, Height: 3})
	d.kept = func(id string) {
		f.pictures = append(f.pictures, shown{id, d.About.Of, hash})
		h.w.truth.speak(h.w, h, hash)
		delete(h.expecting, hash)
	}
	h.screen = append(h.screen, d)
	h.saveScreen()
	// Where it could not be kept the screen says so, and the picture must be taken again.
	h.screen = slices.DeleteFunc(h.screen, func(one draft) bool { return one.Kind == string(record.PictureAdded) })
}

// withdrawPicture takes a picture back, one's own or as a supervisor.
func (h *handset) withdrawPicture() {
	d, f := h.draftOf(func(f *fixture) bool { return len(f.pictures) > 0 })
	if f == nil || h.phone.Standing().Revoked {
		return
	}
	picture := pick(h.w, f.pictures)
	d.About.Of, d.Base = picture.of, picture.event
	d.put(record.Withdrawn, record.Reason{Why: "a face"})
	d.kept = func(string) {
		h.w.reached("picture withdrawn")
		h.w.truth.pictures[picture.hash].withdrawn = true
		h.unheard = slices.DeleteFunc(h.unheard, func(hash string) bool { return hash == picture.hash })
	}
	h.screen = append(h.screen, d)
	if h.w.chance(6) {
		h.w.server.dies = after // perhaps between the withdrawal and the drop
	}
	h.unheard = append(h.unheard, picture.hash)
	h.saveScreen()
}

// learn notes what lines say of pictures, and drops the withdrawn ones as the app does.
func (h *handset) learn(lines ...journal.Line) {
	var gone []string
	for _, line := range ofPictures(lines) {
		e := h.w.event(line)
		if hash := h.album.Note(&e); hash != "" {
			gone = append(gone, hash)
		}
		h.want(e)
	}
	err := h.album.Clear(h.pool.Pictures())
	if h.died() || err != nil || len(gone) == 0 || !h.w.chance(3) { // reading all files takes its time
		return
	}
	known, held := h.w.mentions(h.held()), h.storage()
	for _, hash := range gone {
		if held[hash] && known.withdrawn(hash) && !h.spared(hash) {
			h.w.broken("%s knows that picture %.8s was withdrawn, and holds it", h.name, hash)
		}
	}
}

// want makes some pictures such as every phone is to hold.
func (h *handset) want(e journal.Event) {
	var body struct{ Hash string }
	if e.Kind == string(record.PictureAdded) && json.Unmarshal(e.Body, &body) == nil && body.Hash < "8" && !slices.Contains(h.photos, body.Hash) {
		h.photos = append(h.photos, body.Hash)
	}
}

// standing are those of them that were not withdrawn, as far as this phone knows.
func (h *handset) standing() []string {
	return slices.DeleteFunc(slices.Clone(h.photos), func(hash string) bool { return !h.album.Stands(hash) })
}

// ofPictures are the lines that may speak of pictures, found without reading them.
func ofPictures(lines []journal.Line) (some []journal.Line) {
	for _, line := range lines {
		if bytes.Contains(line, []byte(`"`+record.PictureAdded+`"`)) || bytes.Contains(line, []byte(`"`+record.Withdrawn+`"`)) {
			some = append(some, line)
		}
	}
	return some
}

// spared says whether a phone may hold what its lines say to be withdrawn, until its next start: somebody kept it again and its
// event is yet to come, or an event of a site that was given back meanwhile spoke of it too.
func (h *handset) spared(hash string) bool {
	return h.expecting[hash] || h.left && h.album.Stands(hash)
}

// held are all lines of the phone.
func (h *handset) held() (lines []journal.Line) {
	for _, site := range h.pool.Sites() {
		_ = must(h.pool.Site(site)).Each(func(pair journal.Pair) bool {
			lines = append(lines, pair.Line)
			return true
		})
	}
	_ = h.pool.Log().Each(func(line journal.Line) bool {
		lines = append(lines, line)
		return true
	})
	return lines
}

// waitingForAWord counts the pictures that a phone may go on having: withdrawn at the server, which keeps apart what the phone
// says of them since.
func (w *world) waitingForAWord(h *handset) (n int) {
	fed := w.mentions(w.fedLines())
	for _, p := range h.pool.Pictures().List() {
		if !p.Confirmed && fed.withdrawn(p.Hash) && w.mentions(h.held()).stands(p.Hash) {
			n++
		}
	}
	return n
}

// The laws, by a reckoning of their own: what lines say of pictures.

// mentions are the events that speak of pictures: hash → those that were not taken back, and those that were.
type mentions map[string][2]int

func (w *world) mentions(lines []journal.Line) mentions {
	type name struct{ fixture, event string }
	gone, counted, m := map[name]bool{}, map[string]bool{}, mentions{}
	lines = ofPictures(lines)
	for _, line := range lines {
		if e := w.event(line); e.Kind == string(record.Withdrawn) {
			gone[name{e.About.Fixture, e.Base}] = true
		}
	}
	for _, line := range lines {
		e := w.event(line)
		if e.Kind != string(record.PictureAdded) || counted[e.ID] {
			continue
		}
		counted[e.ID] = true
		body, ok := record.Blank(record.PictureAdded).(*record.Picture)
		if !ok || json.Unmarshal(e.Body, body) != nil {
			w.broken("a picture's event cannot be read: %s", e.Body)
		}
		count := m[body.Hash]
		if gone[name{e.About.Fixture, e.ID}] {
			count[1]++
		} else {
			count[0]++
		}
		m[body.Hash] = count
	}
	return m
}

func (m mentions) stands(hash string) bool    { return m[hash][0] > 0 }
func (m mentions) withdrawn(hash string) bool { return m[hash][0] == 0 && m[hash][1] > 0 }

// unheard says whether something of a picture was taken back that the phone has not heard of.
func (w *world) unheard(h *handset, hash string) bool {
	return w.mentions(w.fedLines())[hash][1] > w.mentions(h.held())[hash][1]
}

// fedLines are the lines of all feeds.
func (w *world) fedLines() (lines []journal.Line) {
	for _, site := range w.sites {
		pairs, _, err := w.server.vault.events.Site(site, 0, 1<<20)
		must(0, err)
		for _, pair := range pairs {
			lines = append(lines, pair.Line)
		}
	}
	return lines
}

// holdPictures: of a picture that was withdrawn in a feed no byte is at the server, and none on a phone whose own lines say so.
// Any other is whole at the server, unless somebody withdrew it and that never came into a feed: then its phone dropped it,
// and the server does not.
func (w *world) holdPictures() {
	fed := w.mentions(w.fedLines())
	for _, p := range w.truth.album {
		whole := w.server.looksWhole(p.hash)
		switch {
		case fed.withdrawn(p.hash):
			w.reached("withdrawn in the end")
			have, _, err := w.server.vault.blobs.Part(p.hash)
			if must(0, err); have > 0 {
				w.broken("picture %.8s was withdrawn, and the server holds %d bytes of it", p.hash, have)
			}
		case whole, p.excused, w.onRevoked(p.home, p.hash), w.yielded(p):
		case p.withdrawn && !w.server.mirror.whole[p.hash]:
		case p.withdrawn:
			w.broken("the server dropped picture %.8s, whose withdrawal is in no feed", p.hash)
		default:
			w.broken("lost: picture %.8s of %d bytes, saved on %s", p.hash, len(p.content), p.home.name)
		}
	}
	for _, h := range w.phones {
		w.droppedOn(h)
	}
}

// droppedOn: what a phone knows to be withdrawn it does not hold.
func (w *world) droppedOn(h *handset) {
	known, held := w.mentions(h.held()), h.storage()
	for _, p := range w.truth.album {
		if held[p.hash] && known.withdrawn(p.hash) && !h.spared(p.hash) {
			w.broken("%s holds picture %.8s, which it knows to be withdrawn", h.name, p.hash)
		}
	}
}

// taken gives now and then a picture that was withdrawn, to be taken again by the phone that took it.
func (t *truth) taken(h *handset) *picture {
	var gone []*picture
	for _, p := range t.album {
		if p.withdrawn && p.home == h {
			gone = append(gone, p)
		}
	}
	if len(gone) == 0 || !h.w.chance(4) {
		return nil
	}
	return pick(h.w, gone)
}

// speak notes that an event speaks of a picture: one that was withdrawn is wanted again, and its phone holds it.
func (t *truth) speak(w *world, h *handset, hash string) {
	if p := t.pictures[hash]; p.withdrawn {
		w.reached("withdrawn picture taken again")
		p.withdrawn, p.excused, p.once, p.again, p.home = false, false, false, true, h
	}
}

// committed is the store of events as the album has it: its commits go wrong as all do.
type committed struct {
	store.Events
	s *server
}

func (c committed) Add(items []exchange.Incoming) (verdicts []exchange.Verdict, err error) {
	err = c.s.commit(func() (err error) {
		verdicts, err = c.s.vault.events.Add(items)
		return err
	})
	return verdicts, err
}

func (c committed) Accept(hash string, settled store.Settlement) error {
	return c.s.commit(func() error { return c.s.vault.events.Accept(hash, settled) })
}

// sweepAtStart drops what a crash or a restore left, as the program does before it serves.
func (s *server) sweepAtStart() {
	before := len(s.shelf.dropped)
	must(0, s.album.Sweep())
	if len(s.shelf.dropped) > before {
		s.w.reached("withdrawn picture dropped at a start")
	}
}

// shelf is the vault's blobs; it notes what is dropped.
type shelf struct {
	store.Blobs
	dropped []string
}

func (b *shelf) Drop(hash string) error {
	err := b.Blobs.Drop(hash)
	if err == nil {
		b.dropped = append(b.dropped, hash)
	}
	return err
}

// forgetDropped: what was whole is so no more once it was dropped.
func (s *server) forgetDropped() {
	for _, hash := range s.shelf.dropped {
		delete(s.mirror.whole, hash)
		if !s.w.mentions(s.w.fedLines()).withdrawn(hash) {
			s.w.broken("the server dropped picture %.8s, which no feed withdraws", hash)
		}
	}
	s.shelf.dropped = nil
}
