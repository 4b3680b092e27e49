package simworld

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strconv"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

const (
	kindMoved  = "fixture-moved"
	kindFuture = "kind-of-tomorrow"
)

// hidden are the kinds that an old reader does not know.
var hidden = []string{string(record.FindingMended), string(record.LookAmended), string(record.JointEdited)}

// things are the fixtures of the world, with what was said of them: what people can speak of next.
type things struct{ fixtures []*fixture }

type fixture struct {
	id, site, tag          string
	made                   []string // events that can be a base
	joints, rounds, events []string
	looks                  []string
	pictures               []shown
	moved                  bool
}

// begin makes some fixtures at each site; a phone registers each before anything else is said.
func (t *things) begin(w *world) {
	for _, site := range w.sites {
		for range 1 + w.rng.IntN(3) {
			t.fixtures = append(t.fixtures, &fixture{id: w.newID(), site: site})
		}
	}
}

// draft is something that somebody saves.
type draft struct {
	journal.Draft
	kept func(id string) // remembers what it made, once it is saved
}

// capture makes up the next thing that a person says.
func (h *handset) capture() (draft, bool) {
	d, f := h.draftOf(func(*fixture) bool { return true })
	if f == nil {
		return draft{}, false
	}
	d.say(h.w, f)
	return d, true
}

// draftOf begins a draft about a fixture of the person's sites that fits, nil where there is none.
func (h *handset) draftOf(fits func(*fixture) bool) (draft, *fixture) {
	w := h.w
	var here []*fixture
	for _, f := range w.things.fixtures {
		if slices.Contains(h.sites(), f.site) && fits(f) {
			here = append(here, f)
		}
	}
	if len(here) == 0 {
		return draft{}, nil
	}
	f := pick(w, here)
	d := draft{Draft: journal.Draft{ID: w.newID(), Time: h.clock().UTC().Format(journal.TimeLayout), Zone: "Europe/Paris", By: h.person.id,
		About: journal.About{Site: f.site, Fixture: f.id}}}
	if w.chance(150) {
		d.By = "person-of-nobody"
	}
	return d, f
}

// say chooses a kind whose nouns are there.
func (d *draft) say(w *world, f *fixture) {
	d.kept = func(id string) { f.events = append(f.events, id) }
	n := w.rng.IntN(100)
	switch {
	case len(f.made) == 0 || n < 3:
		d.registered(w, f)
	case len(f.joints) == 0 || n < 12:
		d.put(record.JointAdded, record.Joint{Name: "joint " + w.text(5), Kind: "flared", Circuit: "test", Order: float64(n)})
		d.About.Of = d.ID
		d.kept = func(id string) { f.joints = append(f.joints, id) }
	case len(f.rounds) == 0 || n < 18:
		d.put(record.RoundStarted, record.RoundStart{Conditions: record.Conditions{Gas: "air", Pressure: record.Amount{Value: 600, Unit: "kPa"},
			Ambient: record.Amount{Value: 20, Unit: "degC"}, Solution: "film", Wetted: "after"}})
		d.About.Of = d.ID
		d.kept = func(id string) { f.rounds = append(f.rounds, id) }
	case len(f.looks) == 0 || n < 55:
		d.put(record.LookMade, record.Look{Round: pick(w, f.rounds), Joint: pick(w, f.joints), Result: record.Gross, Seconds: 10, Stayed: true, Back: true, Note: w.text(20)})
		d.About.Of = d.ID
		d.kept = func(id string) { f.looks, f.events = append(f.looks, id), append(f.events, id) }
	default:
		d.goOn(w, f, n)
	}
}

// registered is the first scan of a blank tag, perhaps of one that another phone registers too.
func (d *draft) registered(w *world, f *fixture) {
	if f.tag == "" {
		f.tag = must(record.MintTag(w))
	}
	d.put(record.FixtureRegistered, record.RegisteredBody{Name: "fixture " + w.text(6), Tag: f.tag})
	d.kept = func(id string) { f.made = append(f.made, id) }
}

// goOn says something of what was said before.
func (d *draft) goOn(w *world, f *fixture, n int) {
	name := w.text(8) + "."
	d.About.Of = pick(w, f.looks)
	switch {
	case n < 65:
		d.About.Of, d.Base = "", pick(w, f.made)
		d.put(record.FixtureEdited, record.FixtureEdit{Name: &name})
	case n < 70:
		d.About.Of, d.Base = pick(w, f.joints), ""
		d.put(record.JointEdited, record.JointEdit{Name: &name})
	case n < 76:
		d.Base = d.About.Of
		d.put(record.LookAmended, record.LookAmendment{Note: &name, Why: "misread"})
	case n < 84:
		d.put(record.FindingMended, record.Mend{When: "later", Vented: true, Cause: "loose", Action: "tightened"})
	case n < 87:
		d.put(record.FindingReviewed, record.Review{Verdict: "look-again"})
	case n < 90 && len(f.events) > 0:
		d.Base = pick(w, f.events)
		d.put(record.Withdrawn, record.Reason{Why: "by mistake"})
	case n < 93:
		d.About.Of = ""
		d.moved(w, f)
	default:
		d.put(kindFuture, map[string]any{"future": w.text(30)})
		d.V = 2
	}
}

func (d *draft) moved(w *world, f *fixture) {
	to := pick(w, w.sites)
	d.put(kindMoved, map[string]string{"site": to})
	d.kept = func(string) {
		if to != f.site {
			w.fault("fixture moved")
		}
		f.site, f.moved = to, true
	}
}

func (d *draft) put(kind record.Kind, body any) { d.Kind, d.Body = string(kind), body }

// takePicture makes up a picture: most are small, some are longer than one piece.
func (w *world) takePicture() (hash string, content []byte) {
	size := 40 + w.rng.IntN(3000)
	if w.chance(4) {
		size = 140_000 + w.rng.IntN(250_000)
	}
	content = bytes.Repeat([]byte{byte(w.rng.IntN(256)), 'p', '\n', '\t'}, size/4)
	copy(content, "\xff\xd8\xff"+strconv.FormatUint(w.rng.Uint64(), 36))
	sum := sha256.Sum256(content)
	return hex.EncodeToString(sum[:]), content
}

// read gives an event to a book, as a reader that may be old reads it: a kind that it does not know means nothing to it.
func (w *world) read(book *record.Book, line journal.Line, old bool) {
	if book == nil {
		return
	}
	e := w.event(line)
	if old && slices.Contains(hidden, e.Kind) {
		e.Kind = "unknown-" + e.Kind
	}
	book.Add(e)
}

// digest is the state of all fixtures.
func digest(book *record.Book) string {
	return fmt.Sprint(len(book.Fixtures()), " ", book.Digest())
}

func uintText(n uint64) string { return strconv.FormatUint(n, 10) }

// event is a line parsed, once in each world.
func (w *world) event(line journal.Line) journal.Event {
	hash := journal.Hash(line)
	e, known := w.events[hash]
	if !known {
		e = must(journal.Parse(line))
		w.events[hash] = e
	}
	return e
}
