package simworld

import (
	"encoding/json"
	"errors"
	"slices"
	"time"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/journal/badfile"
	"jointwalk/sync/record"
)

// handset is a phone: its files, and while the app is open the shipped code over them.
type handset struct {
	w             *world
	name          string
	person        *person
	device, token string
	old           bool // an old reader

	files []*disk
	power *badfile.Power
	hold  *hold // the exclusive hold of the files that the open app has
	pool  *journal.Pool
	phone *exchange.Phone
	book  *record.Book
	album *record.Album

	photos []string // hashes of pictures that it is to hold, whoever took them, withdrawn ones included

	left      bool            // a site was given back since the app was opened: what its events said is known until the next start
	expecting map[string]bool // hashes of pictures that were kept since the app was opened, whose event is yet to come
	why       string          // it could not be opened
	opened    int             // counts the starts: what belongs to an earlier one is not heard
	timer     int             // counts what the next turn waits for

	asking   *flight
	asked    int  // requests of the present turn
	went     bool // the last reply was a success, and nothing failed since
	skew     time.Duration
	cutUntil time.Time // no network before
	slow     bool
	frozen   bool
	flaws    []badfile.Flaw // while the disk is full
	slip     bool           // the next lines are kept with a wrong byte, and the power goes
	copied   *snapshot
	screen   []draft  // not saved yet
	unheard  []string // hashes of pictures being taken back of which nobody heard yet that it was kept
	draft    *string  // what the state was last told to keep, nil where that is not known
	own      int      // files of the own log
	unsites  map[string]bool
	forked   map[string]bool // logs whose fork the phone was told of since the app was opened
}

// disk is one file of the pool. late: it was made again after the first start, and no later start has found it yet.
type disk struct {
	file *badfile.File
	late bool
}

// snapshot is a copy of a phone.
type snapshot struct {
	files [][]byte
	draft *string
}

// clock is the device's own.
func (h *handset) clock() time.Time { return h.w.now.Add(h.skew) }

// storage is what lies in its files, flushed. What lies in a file made late does not count as kept.
func (h *handset) storage() storage {
	s := storage{}
	h.readInto(s)
	return s
}

// readInto leaves out what an open app has given back and could not empty: it is emptied at the next chance.
func (h *handset) readInto(s storage) {
	used := map[string]bool{}
	if h.pool != nil {
		for _, f := range h.pool.Report().Files {
			used[f.Name] = true
		}
	}
	for i, d := range h.files {
		if d != nil && !d.late && (h.pool == nil || used[slotName(i)]) {
			s.read(d.file.Crash(0).Bytes())
		}
	}
}

// slotName is the name of a file of the pool. Names tell nothing of the order in which files are used.
func slotName(i int) string { return "file-" + uintText(uint64((i*7)%journal.PoolSize)) }

// open starts the app: finds its files, makes those that are not there, and opens the shipped pool over them.
func (h *handset) open() {
	if h.phone != nil {
		return
	}
	slots := h.slots()
	h.opened++
	h.asking, h.frozen, h.went, h.forked = nil, false, false, map[string]bool{}
	pool, err := journal.OpenPool(slots, h.w.newID())
	if err == nil {
		h.pool, h.album, h.photos, h.expecting, h.left = pool, record.NewAlbum(), nil, map[string]bool{}, false
		h.phone, err = exchange.OpenPhone(pool, exchange.PhoneEnv{Now: h.clock, Jitter: h.w.rng.Float64, App: "simulated", Wanted: h.album.Wanted, Photos: h.standing,
			NewID: func() (string, error) { return h.w.newID(), nil }})
	}
	if h.died() {
		return
	}
	if err != nil {
		h.shut()
		h.why = err.Error()
		h.w.note("%s does not open: %s", h.name, h.why)
		h.later(h.w.between(5*time.Second, 30*time.Second), h.open)
		return
	}
	h.why = ""
	h.hear()
	h.start()
}

// hear finds which withdrawals were kept though the app failed over them before it could say so.
func (h *handset) hear() {
	if len(h.unheard) == 0 {
		return
	}
	known := h.w.mentions(h.held())
	for _, hash := range h.unheard {
		if known.withdrawn(hash) {
			h.w.truth.pictures[hash].withdrawn = true
		}
	}
	h.unheard = nil
}

// slots makes what is missing of the pool and takes hold of it.
func (h *handset) slots() (slots []journal.Slot) {
	if h.files == nil {
		h.files = make([]*disk, journal.PoolSize)
	}
	first := !slices.ContainsFunc(h.files, func(d *disk) bool { return d != nil })
	h.hold = &hold{}
	h.power = &badfile.Power{Left: h.w.strength()}
	for i, d := range h.files {
		if d != nil && d.late && !h.w.quiet && h.w.chance(2) {
			h.w.fault("pool file gone again") // nothing that was called saved may have been in it: nothing is excused
			d = nil
		}
		fresh := d == nil
		if fresh {
			d = &disk{file: badfile.New(nil), late: !first}
		} else {
			d.late = false
		}
		h.files[i], d.file.Power = d, h.power
		if h.flaws != nil {
			d.file.BreakFor(h.flaws...)
		}
		slots = append(slots, journal.Slot{Name: slotName(i), File: &handle{h, h.hold, d.file}, Fresh: fresh})
	}
	return slots
}

// strength is how many changes of files there are until the power goes: most starts live.
func (w *world) strength() int {
	switch {
	case w.quiet || w.rng.IntN(3) > 0:
		return 1 << 40
	case w.chance(3):
		return w.rng.IntN(6)
	}
	return w.rng.IntN(150)
}

// start takes stock of what a start found.
func (h *handset) start() {
	w, report := h.w, h.pool.Report()
	for _, f := range report.Files {
		if f.Damage.Torn > 0 {
			w.reached("torn tail cut")
		}
	}
	if report.Bad > 0 {
		w.reached("bad line skipped")
		w.truth.spoil(h)
	}
	if len(report.Lost) > 0 {
		w.reached("pool file not trusted")
	}
	h.own = h.ownFiles()
	_ = h.pool.Log().Each(func(line journal.Line) bool {
		if w.truth.lines[journal.Hash(line)] == nil {
			w.truth.save(h, line) // kept in the moment of a crash: from now on it stands on the screen
			w.tally.events++
		}
		return true
	})
	h.checkDraft()
	if h.learn(h.held()...); h.phone == nil {
		return // it died over what it dropped
	}
	if w.quiet || w.chance(3) { // not every start is followed by somebody who looks at the fixtures
		h.book = h.fold(h.old)
	}
	w.note("%s open: log %.13s at %d, %d unsent, sites %v", h.name, h.pool.Log().ID(), h.pool.Log().Seq(), h.phone.Standing().Unsent, h.pool.Sites())
	h.begin(true)
}

// checkDraft: what the state said it keeps is there.
func (h *handset) checkDraft() {
	var now string
	_, err := h.pool.State().Load("draft", &now)
	if h.draft != nil && (err != nil || now != *h.draft) {
		h.w.broken("%s forgot a draft that its state kept: %d bytes instead of %d", h.name, len(now), len(*h.draft))
	}
	h.draft = &now
}

// fold makes the book of all that the phone holds.
func (h *handset) fold(old bool) *record.Book {
	book := record.NewBook()
	for _, site := range h.pool.Sites() {
		_ = must(h.pool.Site(site)).Each(func(pair journal.Pair) bool {
			h.w.read(book, pair.Line, old)
			return true
		})
	}
	_ = h.pool.Log().Each(func(line journal.Line) bool {
		h.w.read(book, line, old)
		return true
	})
	return book
}

// sites are those that the phone knows as its person's.
func (h *handset) sites() (ids []string) {
	var me struct {
		Sites []struct {
			ID string `json:"id"`
		} `json:"sites"`
	}
	_ = json.Unmarshal(h.phone.Me(), &me)
	for _, site := range me.Sites {
		ids = append(ids, site.ID)
	}
	return ids
}

// behind says whether the phone has yet to compare itself with a server that was restored.
func (h *handset) behind() bool {
	var known string
	_, _ = h.pool.State().Load("incarnation", &known)
	return known != h.w.server.vault.events.Incarnation()
}

func (h *handset) ownFiles() (n int) {
	for _, f := range h.pool.Report().Files {
		if f.Stream == "own" {
			n++
		}
	}
	return n
}

// shut ends the app without a word; its handles are free again.
func (h *handset) shut() {
	if h.hold != nil {
		h.hold.closed = true
	}
	h.pool, h.phone, h.book, h.asking, h.frozen = nil, nil, nil, nil, false
	h.timer++
}

// died handles the end of the power; true when it went.
func (h *handset) died() bool {
	if h.hold.died == "" {
		return false
	}
	h.w.fault("crash at a " + h.hold.died)
	h.powerless()
	return true
}

// powerless is what a loss of power leaves: what was flushed, and some of the rest.
func (h *handset) powerless() {
	h.shut()
	for _, d := range h.files {
		pending, keep := d.file.Pending(), 0
		if pending > 0 {
			keep = []int{0, pending, h.w.rng.IntN(pending + 1)}[h.w.rng.IntN(3)]
			if keep > 0 && keep < pending {
				h.w.fault("crash with a torn write")
			}
		}
		d.file = d.file.Crash(keep)
	}
	h.seekUnfinished()
	if h.w.chance(2) || h.w.quiet {
		h.later(h.w.between(time.Second, time.Minute), h.open)
		h.w.after(h.w.between(2*time.Minute, 10*time.Minute), h.putAway)
	}
}

// later does something on this phone if it was not started again meanwhile.
func (h *handset) later(d time.Duration, do func()) {
	opened := h.opened
	h.w.after(d, func() {
		if h.opened == opened {
			do()
		}
	})
}

// hold is an exclusive hold of all files. A closed one does nothing any more.
type hold struct {
	closed bool
	died   string // what the power went in: "write", "flush", "cut"
}

var errClosed = errors.New("simworld: the handle is closed")

// handle is a file as the app holds it.
type handle struct {
	h    *handset
	hold *hold
	file *badfile.File
}

func (f *handle) saw(what string, err error) error {
	if errors.Is(err, badfile.ErrDead) && f.hold.died == "" {
		f.hold.died = what
	}
	return err
}

func (f *handle) ReadAt(p []byte, off int64) (int, error) {
	if f.hold.closed {
		return 0, errClosed
	}
	return f.file.ReadAt(p, off)
}

func (f *handle) WriteAt(p []byte, off int64) (int, error) {
	if f.hold.closed {
		return 0, errClosed
	}
	n, err := f.file.WriteAt(p, off)
	return n, f.saw("write", err)
}

func (f *handle) Truncate(size int64) error {
	if f.hold.closed {
		return errClosed
	}
	return f.saw("cut", f.file.Truncate(size))
}

func (f *handle) Sync() error {
	if f.hold.closed {
		return errClosed
	}
	return f.saw("flush", f.file.Sync())
}

func (f *handle) Size() (int64, error) {
	if f.hold.closed {
		return 0, errClosed
	}
	return f.file.Size()
}
