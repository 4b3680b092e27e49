package record

import (
	"encoding/json"
	"fmt"
	"slices"

	"jointwalk/sync/journal"
	"pgregory.net/rapid"
)

// device is an invented phone of the tests: it writes to its log and knows what
// it was told.
type device struct {
	name, log string
	seq, tick uint64
	book      *Book
	holds     map[string]bool // ids of events
}

// world is some devices about one fixture, with everything that was written.
type world struct {
	rt      *rapid.T
	devices []*device
	events  []journal.Event
	knew    map[string]map[string]bool // event → what its author held
	sided   map[string]map[string]bool // event → sides of conflicts that stood when it was written, and what these were edited from
	nouns   []string                   // looks, rounds that were begun
	edits   []string                   // ids of events that can be withdrawn
}

func newWorld(rt *rapid.T, devices int) *world {
	w := &world{rt: rt, knew: map[string]map[string]bool{}, sided: map[string]map[string]bool{}}
	for i := range devices {
		w.devices = append(w.devices, &device{name: fmt.Sprintf("person-%d", i), log: fmt.Sprintf("log-%d", i), book: NewBook(), holds: map[string]bool{}})
	}
	first := w.devices[0]
	w.write(first, FixtureRegistered, "", "", RegisteredBody{Name: "Rig", Tag: "4K7Q2M9XTC" + string(CheckCharacter("4K7Q2M9XTC"))})
	w.write(first, JointAdded, "j1", "", Joint{Name: "Nut", Kind: "compression", Circuit: "test", Order: 1})
	w.write(first, JointAdded, "j2", "", Joint{Name: "Plug", Kind: "manifold-plug", Circuit: "test", Order: 2})
	w.write(first, RoundStarted, "r1", "", roundOf())
	w.write(first, LookMade, "l1", "", Look{Round: "r1", Joint: "j1", Result: Leaks, Seconds: 20, Observation: train(12)})
	for _, d := range w.devices[1:] {
		if rapid.Bool().Draw(rt, "registers the blank tag too") {
			w.write(d, FixtureRegistered, "", "", RegisteredBody{Name: "Rig of " + d.name, Place: "Hall 2", Tag: tagOf("4K7Q2M9XTC")})
		}
		w.tell(first, d)
	}
	return w
}

func roundOf() RoundStart {
	return RoundStart{Conditions: Conditions{Gas: "air", Pressure: Amount{200, "kPa"}, Ambient: Amount{23, "degC"}, Solution: "film", Wetted: "after"}}
}

func (w *world) write(d *device, kind Kind, of, base string, body any) journal.Event {
	raw, err := json.Marshal(body)
	if err != nil {
		w.rt.Fatal(err)
	}
	d.seq++
	d.tick++
	n := len(w.events) + 1
	e := journal.Event{
		V: Version, ID: fmt.Sprintf("event-%d", n), Log: d.log, Seq: d.seq, Tick: d.tick, By: d.name,
		Time:  fmt.Sprintf("2026-03-01T10:%02d:%02d.000Z", n/60%60, n%60),
		About: journal.About{Site: "site-a", Fixture: fixtureID, Of: of}, Kind: string(kind), Base: base, Body: raw,
	}
	w.knew[e.ID], w.sided[e.ID] = map[string]bool{}, map[string]bool{}
	for id := range d.holds {
		w.knew[e.ID][id] = true
	}
	if f := d.book.Fixture(fixtureID); f != nil {
		for _, c := range f.Conflicting() {
			for _, side := range c.Sides {
				w.side(e.ID, side.By.Event)
			}
		}
	}
	w.events = append(w.events, e)
	w.take(d, e)
	return e
}

// side marks a side of a conflict and what it was edited from: withdrawn, it gives way to that, and the conflict stands on with it.
func (w *world) side(event, side string) {
	for i := len(w.events) - 1; i >= 0; i-- {
		if w.events[i].ID == side {
			w.sided[event][side] = true
			side = w.events[i].Base
		}
	}
}

func (w *world) take(d *device, e journal.Event) {
	d.book.Add(e)
	d.holds[e.ID] = true
	d.tick = max(d.tick, e.Tick)
}

// tell gives to all that from holds.
func (w *world) tell(from, to *device) {
	for _, e := range w.events {
		if from.holds[e.ID] {
			w.take(to, e)
		}
	}
}

// edit changes a random field as a screen would: from the base that the device's
// own book names. settle names the sides of the conflicts of the field too.
func (w *world) edit(d *device, settle bool) {
	f := d.book.Fixture(fixtureID)
	text := fmt.Sprintf("text %d", rapid.IntRange(0, 3).Draw(w.rt, "value"))
	seen := func(noun Noun, base, field string) []string {
		seen := f.Beside(noun, base)
		for _, c := range f.Conflicting() {
			if settle && c.Noun == noun && c.Field == field {
				for _, side := range c.Sides {
					seen = append(seen, side.By.Event)
				}
			}
		}
		return seen
	}
	switch rapid.IntRange(0, 4).Draw(w.rt, "field") {
	case 0:
		w.write(d, FixtureEdited, "", f.Base, FixtureEdit{Name: &text, Seen: seen(Noun{"fixture", f.ID}, f.Base, "name")})
	case 1:
		w.write(d, FixtureEdited, "", f.Base, FixtureEdit{Place: &text, Seen: seen(Noun{"fixture", f.ID}, f.Base, "place")})
	case 2:
		w.write(d, FixtureMoved, "", f.Base, Move{Site: "site-" + text[5:], Seen: seen(Noun{"fixture", f.ID}, f.Base, "site")})
	case 3:
		w.write(d, JointEdited, "j1", f.Joint("j1").Base, JointEdit{Name: &text, Seen: seen(Noun{"joint", "j1"}, f.Joint("j1").Base, "name")})
	case 4:
		l := f.LookByID("l1")
		w.write(d, LookAmended, "l1", l.Base, LookAmendment{Note: &text, Seen: seen(Noun{"look", "l1"}, l.Base, "note")})
	}
}

// act lets a random device do a random thing.
func (w *world) act() {
	d := rapid.SampledFrom(w.devices).Draw(w.rt, "device")
	switch rapid.IntRange(0, 9).Draw(w.rt, "act") {
	case 0, 1, 2:
		w.edit(d, false)
	case 3:
		w.edit(d, true)
	case 4:
		w.write(d, LookMade, fmt.Sprintf("look-%d", len(w.events)), "", Look{Round: "r1", Joint: "j1", Result: None, Stayed: true, Back: true, Wetted: rapid.SampledFrom(append([]string{""}, Orders...)).Draw(w.rt, "wetted")})
	case 5:
		w.write(d, FindingMended, "l1", "", Mend{When: "on-spot", Cause: "loose", Action: "tightened", Spare: "a seal"})
	case 6:
		e := rapid.SampledFrom(w.held(d)).Draw(w.rt, "withdrawn")
		if e.Kind != string(FixtureRegistered) && e.Kind != string(Withdrawn) && e.Kind != string(JointAdded) && e.About.Of != "l1" {
			w.write(d, Withdrawn, e.About.Of, e.ID, Reason{})
		}
	default:
		w.tell(rapid.SampledFrom(w.devices).Draw(w.rt, "from"), d)
	}
}

func (w *world) held(d *device) []journal.Event {
	return slices.DeleteFunc(slices.Clone(w.events), func(e journal.Event) bool { return !d.holds[e.ID] })
}

// fork copies a device as a restored snapshot does: both go on in one log.
func (w *world) fork() {
	d := rapid.SampledFrom(w.devices).Draw(w.rt, "forked")
	twin := &device{name: d.name, log: d.log, seq: d.seq, tick: d.tick, book: NewBook(), holds: map[string]bool{}}
	w.tell(d, twin)
	w.devices = append(w.devices, twin)
}
