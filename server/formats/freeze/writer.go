package main

import (
	"fmt"
	"time"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// writer writes the story into the logs of a phone and of a desk. Ids and times
// are counted, so that it comes out the same each time.
type writer struct {
	pool    *journal.Pool // the phone's
	slots   []journal.Slot
	logs    map[string]*journal.Log
	pairs   []journal.Pair // in the order of arrival, with the receipts of their own sites
	events  []journal.Event
	silent  bool // while phone and desk do not hear of each other
	count   int
	at      time.Time
	err     error
	first   map[string]string // fixture → the event that registered it
	ticks   map[string]uint64
	looked  map[string]string // look → its event
	joints  []string
	added   []string // the events that added the joints
	program string
	leak    string
	picture string
	perSite map[string]uint64
}

func newWriter() (*writer, error) {
	w := &writer{
		logs: map[string]*journal.Log{}, at: time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC), first: map[string]string{},
		ticks: map[string]uint64{}, looked: map[string]string{}, picture: journal.Hash(picture), perSite: map[string]uint64{},
	}
	for i := range journal.PoolSize {
		w.slots = append(w.slots, journal.Slot{Name: fmt.Sprintf("pool-%02d", i), File: &journal.Memory{}, Fresh: true})
	}
	var err error
	if w.pool, err = journal.OpenPool(w.slots, w.id()); err != nil {
		return nil, err
	}
	desk, err := journal.OpenLog(&journal.Memory{}, w.id())
	w.logs["phone"], w.logs["desk"] = w.pool.Log(), desk
	return w, err
}

// id counts in the form of a UUIDv7.
func (w *writer) id() string {
	w.count++
	return fmt.Sprintf("0197a1b0-0000-7000-8000-%012d", w.count)
}

// pen writes about one fixture from the phone or the desk.
type pen struct {
	*writer
	device  string
	about   journal.About
	version int
}

func (w *writer) pen(device, fixture string) *pen {
	return &pen{w, device, journal.About{Site: siteOne, Fixture: fixture}, record.Version}
}

// write appends one event to the device's log and hands it to the server; it
// gives the event's id. The first failure stays.
func (p *pen) write(kind record.Kind, of, base string, body any) string {
	w := p.writer
	w.at = w.at.Add(37 * time.Second)
	by := map[string]string{"phone": technician, "desk": engineer}[p.device]
	draft := journal.Draft{ID: w.id(), Time: w.at.Format(journal.TimeLayout), Zone: "Europe/Madrid", By: by, About: p.about,
		Kind: string(kind), V: p.version, Base: base, Body: body}
	draft.About.Of = of
	lines, err := w.logs[p.device].Append([]journal.Draft{draft})
	if err != nil {
		w.fail(err)
		return draft.ID
	}
	w.arrive(p.device, lines[0])
	if kind == record.FixtureRegistered {
		w.first[p.about.Fixture] = draft.ID
	}
	return draft.ID
}

// arrive is the server taking a line: a clock of the phone's that is eight
// minutes ahead, one of the desk's that is right.
func (w *writer) arrive(device string, line journal.Line) {
	e, err := journal.Parse(line)
	if err != nil {
		w.fail(err)
		return
	}
	offset := map[string]time.Duration{"phone": 8 * time.Minute}[device]
	w.perSite[e.About.Site]++
	w.pairs = append(w.pairs, journal.Pair{Line: line, Receipt: journal.Receipt{
		N: w.perSite[e.About.Site], At: w.at.Add(2*time.Second - offset).Format(journal.TimeLayout), Offset: offset.Milliseconds(),
		From: map[string]string{"phone": phoneID, "desk": "0197a1b0-0000-7000-8000-0000000000d2"}[device],
	}})
	w.events = append(w.events, e)
	w.ticks[e.ID] = e.Tick
	if !w.silent {
		for _, log := range w.logs {
			log.Witness(e.Tick)
		}
	}
}

func (w *writer) fail(err error) {
	if w.err == nil {
		w.err = err
	}
}
