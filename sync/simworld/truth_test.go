package simworld

import (
	"bytes"
	"encoding/json"
	"io"
	"slices"

	"jointwalk/server/store"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// truth is what people were told: what a phone called saved. It is kept outside of everything that is tested.
type truth struct {
	lines    map[string]*saved // by hash
	order    []*saved
	pictures map[string]*picture
	album    []*picture
	spoilt   map[string]bool // "log/seq" of lines that were spoilt in the moment of a crash, before they were called saved
}

// saved is a line that a phone called saved.
type saved struct {
	hash, log, site string
	seq             uint64
	home            *handset
	leaving         bool   // its phone may have given it back, or lost it: it need not be there any more
	excused         bool   // its last copy went with the storage that held it, before any was sent
	picture         string // the hash of the picture that it adds, "" for any other line
}

// picture is one that a phone called saved.
type picture struct {
	hash    string
	content []byte
	home    *handset
	excused bool
	once    bool // the server had it whole, before it was restored or since

	withdrawn bool // somebody withdrew it, and nobody took it again since
	again     bool // it was withdrawn, and taken again
}

// save writes down what a phone called saved. Of two histories of one log a phone told of both writes on in neither.
func (t *truth) save(h *handset, line journal.Line) *saved {
	e := h.w.event(line)
	s := &saved{hash: journal.Hash(line), log: e.Log, site: e.About.Site, seq: e.Seq, home: h}
	if body, ok := record.Blank(record.PictureAdded).(*record.Picture); ok && e.Kind == string(record.PictureAdded) && json.Unmarshal(e.Body, body) == nil {
		s.picture = body.Hash
	}
	if h.forked[s.log] {
		h.w.broken("%s writes on in %s, of whose fork it was told: %d", h.name, s.log, s.seq)
	}
	s.leaving = h.w.server.revoked[h.device] || !slices.Contains(h.person.sites(), s.site) // which the phone is yet to learn
	if t.lines == nil {
		t.lines = map[string]*saved{}
	}
	t.lines[s.hash] = s
	t.order = append(t.order, s)
	return s
}

func (t *truth) keep(h *handset, hash string, content []byte) {
	if t.pictures == nil {
		t.pictures = map[string]*picture{}
	}
	if t.pictures[hash] == nil {
		p := &picture{hash: hash, content: content, home: h}
		t.pictures[hash] = p
		t.album = append(t.album, p)
	}
}

// spoil notes the holes that a start found in a log with unreadable stretches: a wrong byte was written, and the power went
// before it was read back. What was called saved before is not excused by that.
func (t *truth) spoil(h *handset) {
	before := journal.Event{}
	_ = h.pool.Log().Each(func(line journal.Line) bool {
		e := h.w.event(line)
		for seq := before.Seq + 1; e.Log == before.Log && seq < e.Seq; seq++ {
			if t.spoilt == nil {
				t.spoilt = map[string]bool{}
			}
			t.spoilt[e.Log+"/"+uintText(seq)] = true
		}
		before = e
		return true
	})
}

// storage is what stands in a phone's files, read without any of the code under test.
type storage map[string]bool

// read adds the framed lines and pictures of a file.
func (s storage) read(data []byte) {
	for len(data) > 0 {
		end := bytes.IndexByte(data, '\n')
		if end < 0 {
			return
		}
		framed := data[:end]
		data = data[end+1:]
		cut := bytes.LastIndexByte(framed, '\t')
		if cut < 0 {
			continue
		}
		s[journal.Hash(framed[:cut])] = true
		if size, ok := pictureSize(framed[:cut]); ok && size < len(data) {
			s[journal.Hash(data[:size])] = true
			data = data[size+1:]
		}
	}
}

// pictureSize reads the head of a picture.
func pictureSize(head []byte) (int, bool) {
	_, rest, ok := bytes.Cut(head, []byte(`"size":`))
	if !ok || !bytes.HasPrefix(head, []byte(`{"picture":"`)) {
		return 0, false
	}
	n := 0
	for _, c := range rest {
		if c < '0' || c > '9' {
			break
		}
		n = n*10 + int(c-'0')
	}
	return n, n > 0
}

// elsewhere is what the phones other than h hold.
func (w *world) elsewhere(h *handset) storage {
	held := storage{}
	for _, other := range w.phones {
		if other != h {
			other.readInto(held)
		}
	}
	return held
}

// losing lets a phone lose some of its storage: what nobody else has is excused.
func (w *world) losing(h *handset, how func()) {
	held := h.storage()
	how()
	left, others := h.storage(), w.elsewhere(h)
	for _, s := range w.truth.order {
		if held[s.hash] && !left[s.hash] {
			s.leaving = s.leaving || s.home == h
			s.excused = s.excused || !others[s.hash] && !w.server.mirror.has[s.hash]
			w.truth.wordless(s)
		}
	}
	for _, p := range w.truth.album {
		if held[p.hash] && !left[p.hash] {
			p.excused = p.excused || !others[p.hash] && !w.server.looksWhole(p.hash)
		}
	}
}

// wordless excuses a picture that was withdrawn and taken again, when the line that took it again is lost with its file: all that
// its phone knows of it then is that it was withdrawn.
func (t *truth) wordless(s *saved) {
	if p := t.pictures[s.picture]; p != nil && p.again && p.home == s.home {
		p.excused = true
	}
}

// forgetting lets the server forget what came after a backup. Whoever saved something must still hold it, unless it
// was taken from him: so the server can have it back.
func (w *world) forgetting(how func()) {
	old := w.server.mirror.has
	how()
	held := w.elsewhere(nil)
	for _, s := range w.truth.order {
		if !old[s.hash] || w.server.mirror.has[s.hash] || held[s.hash] {
			continue
		}
		if !s.leaving {
			w.broken("only the server had %s/%d of %s, which still holds its site: no restored server can get it back", s.log, s.seq, s.home.name)
		}
		s.excused = true
	}
}

// yielded: a phone keeps a confirmed picture only as long as it has room for it. Where it had not, and the server went
// back to a copy without it, it is gone: the copies of the pictures are all that there is then.
func (w *world) yielded(p *picture) bool {
	return p.once && w.server.life > 1 && !slices.ContainsFunc(w.phones, func(h *handset) bool { return h.storage()[p.hash] })
}

// release lets a phone give back what it holds of a site, or of all sites ("").
func (t *truth) release(person, site string) {
	for _, s := range t.order {
		if s.home.person.id == person && (site == "" || s.site == site) {
			s.leaving = true
		}
	}
}

// mirror is what the server holds, followed from outside.
type mirror struct {
	events store.Events
	feeds  map[string][]string // site → hashes in the order of n
	asides uint64
	has    map[string]bool
	fed    map[string]bool // those in a feed
	whole  map[string]bool // pictures
}

func newMirror(events store.Events) *mirror {
	return &mirror{events: events, feeds: map[string][]string{}, has: map[string]bool{}, fed: map[string]bool{}, whole: map[string]bool{}}
}

// follow takes in what came since. The numbers of a feed are dense.
func (m *mirror) follow(w *world) {
	for _, site := range w.sites {
		pairs, _, err := m.events.Site(site, uint64(len(m.feeds[site])), 1<<20)
		must(0, err)
		for _, pair := range pairs {
			hash := journal.Hash(pair.Line)
			m.feeds[site] = append(m.feeds[site], hash)
			m.has[hash], m.fed[hash] = true, true
			if pair.Receipt.N != uint64(len(m.feeds[site])) {
				w.broken("%s has n %d in place %d", site, pair.Receipt.N, len(m.feeds[site]))
			}
		}
	}
	for _, aside := range must(m.events.Asides(m.asides, 1<<20)) {
		m.asides = aside.N
		m.has[aside.Hash] = true
	}
}

// whole says whether the server holds a picture with these bytes. What was whole once stays so in one life of the server.
func (s *server) whole(hash string) bool {
	if !s.mirror.whole[hash] {
		s.mirror.whole[hash] = s.looksWhole(hash)
	}
	return s.mirror.whole[hash]
}

func (s *server) looksWhole(hash string) bool {
	body, err := s.vault.blobs.Get(hash)
	if err != nil {
		return false
	}
	return journal.Hash(must(io.ReadAll(body))) == hash
}
