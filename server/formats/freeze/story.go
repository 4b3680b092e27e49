package main

import (
	"encoding/json"

	"jointwalk/sync/record"
)

const (
	technician = "0197a1b0-0000-7000-8000-0000000000a1"
	engineer   = "0197a1b0-0000-7000-8000-0000000000a2"
	siteOne    = "0197a1b0-0000-7000-8000-0000000000b1"
	siteTwo    = "0197a1b0-0000-7000-8000-0000000000b2"
	phoneID    = "0197a1b0-0000-7000-8000-0000000000d1"
	fixtureOne = "0197a1b0-0000-5000-8000-0000000000c1"
	fixtureTwo = "0197a1b0-0000-5000-8000-0000000000c2"
)

func amount(value float64, unit string) *record.Amount {
	return &record.Amount{Value: value, Unit: unit}
}

func text(s string) *string { return &s }

// tell is the story: every kind, every result of a look, a repair with its second
// look, things taken back, two edits of one field that a third one settles and
// two that nobody settled, a fixture that moves, and lines of a later build.
func (w *writer) tell() {
	w.register()
	round := w.firstRound()
	w.engineer(round)
	w.apart()
	w.moves()
	w.later()
}

func (w *writer) register() {
	p := w.pen("phone", fixtureOne)
	tag := "4K7Q2M9XTC" + string(record.CheckCharacter("4K7Q2M9XTC"))
	p.write(record.FixtureRegistered, fixtureOne, "", record.RegisteredBody{Name: "Valve body rig", Place: "Hall 2", Tag: tag})
	w.program = p.write(record.ProgramSet, "", "", record.Program{
		Name: "Both ports", Gas: "air", Pressure: *amount(200, "kPa"), Volume: *amount(200, "cm3"), Fill: 5, Stabilise: 10, Test: 10, Vent: 3,
		LimitRate: &record.Rate{Value: 2, Unit: "std cm3/min", Ref: "0C"}, ShowUnit: "std cm3/min", ShowRef: "0C", Allowance: 0.1,
	})
	for i, j := range []record.Joint{
		{Name: "Port nut", Kind: "compression", Circuit: "test", Tube: amount(6, "mm")},
		{Name: "Upper seal", Kind: "part-seal", Circuit: "test", Tube: amount(1.5, "in")},
		{Name: "Rear clamp", Kind: "rod-seal", Circuit: "clamp"},
		{Name: "Filter bowl", Kind: "filter-bowl", Circuit: "supply"},
		{Name: "Blind plug", Kind: "manifold-plug", Circuit: "test"},
		{Name: "Old hose", Kind: "hose-barb", Circuit: "vent"},
	} {
		j.Order = float64(i + 1)
		w.joints = append(w.joints, w.id())
		w.added = append(w.added, p.write(record.JointAdded, w.joints[i], "", j))
	}
	p.write(record.JointRetired, w.joints[5], w.added[5], record.Reason{Why: "taken off"})
}

// firstRound is a round with every result of a look; it gives the round's id.
func (w *writer) firstRound() string {
	p, round := w.pen("phone", fixtureOne), w.id()
	p.write(record.RoundStarted, round, "", record.RoundStart{Program: w.program, Conditions: record.Conditions{
		Gas: "air", Pressure: *amount(200, "kPa"), Ambient: *amount(23, "degC"), Barometer: amount(1013, "mbar"),
		Solution: "film", Wetted: "after", Setup: "master part in, clamp closed",
	}})
	look := func(joint int, l record.Look) string {
		l.Round, l.Joint = round, w.joints[joint]
		id := w.id()
		w.looked[id] = p.write(record.LookMade, id, "", l)
		return id
	}
	w.leak = look(0, record.Look{Result: record.Leaks, Seconds: 30, Stayed: true, Back: true, Wiped: "came-back", Note: "at the ferrule – lower side",
		Observation: &record.Observation{Medium: "film", How: "taps", Taps: []float64{0, 1.6, 3.4, 5, 6.7, 8.4},
			Size: record.Size{As: "tube", Share: 0.5, Tube: amount(6, "mm")}},
		Shown: &record.Shown{Median: 2.5e-7, Low: 1e-7, High: 6e-7}})
	look(1, record.Look{Result: record.None, Seconds: 60, Stayed: true, Back: true})
	look(2, record.Look{Result: record.NotReached, Why: "guarded"})
	look(3, record.Look{Result: record.Partly, Seconds: 45, Stayed: true})
	gross := look(4, record.Look{Result: record.Gross, Note: "heard before wetting"})
	undone := look(1, record.Look{Result: record.Gross})
	p.write(record.Withdrawn, undone, w.looked[undone], record.Reason{Why: "undo"})
	p.write(record.PictureAdded, w.leak, "", record.Picture{Hash: w.picture, Bytes: len(picture), Type: "image/png", Width: 1, Height: 1})
	p.write(record.FindingMended, gross, "", record.Mend{When: "on-spot", Vented: true, Cause: "seal-missing", Action: "seal-replaced", Note: "none was in"})
	look(4, record.Look{Result: record.None, Seconds: 60, Stayed: true, Back: true, Second: gross})
	p.write(record.FindingMended, w.leak, "", record.Mend{When: "later", Vented: true, Cause: "loose", Action: "tightened"})
	p.write(record.RoundEnded, round, "", record.RoundEnd{PutBack: record.PutBacks[:4], Note: "guard is at the workshop"})
	return round
}

// engineer answers from the desk and corrects what was counted.
func (w *writer) engineer(string) {
	p := w.pen("desk", fixtureOne)
	p.write(record.FindingReviewed, w.leak, "", record.Review{Verdict: "look-again", Note: "same nut as in spring"})
	p.write(record.LookAmended, w.leak, w.looked[w.leak], record.LookAmendment{Why: "one tap was a ghost", Wiped: text("not-tried"),
		Observation: &record.Observation{Medium: "film", How: "window", Count: 5, Seconds: 8.4, Size: record.Size{As: "diameter", Diameter: amount(3, "mm")}}})
}

// apart edits from phone and desk while neither hears of the other; the desk
// settles one of the two conflicts.
func (w *writer) apart() {
	phone, desk := w.pen("phone", fixtureOne), w.pen("desk", fixtureOne)
	w.silent = true
	left := phone.write(record.JointEdited, w.joints[0], w.added[0], record.JointEdit{Name: text("Left port nut")})
	right := desk.write(record.JointEdited, w.joints[0], w.added[0], record.JointEdit{Name: text("Inlet nut")})
	registered := w.first[fixtureOne]
	phone.write(record.FixtureEdited, "", registered, record.FixtureEdit{Place: text("Hall 3"), Note: text("Ask for the key.")})
	desk.write(record.FixtureEdited, "", registered, record.FixtureEdit{Place: text("Hall 4")})
	w.silent = false
	base, seen := right, left
	if w.ticks[left] > w.ticks[right] {
		base, seen = left, right
	}
	desk.write(record.JointEdited, w.joints[0], base, record.JointEdit{Name: text("Inlet nut, left"), Seen: []string{seen}})
}

func (w *writer) moves() {
	p := w.pen("desk", fixtureTwo)
	tag := "9XTC4K7Q2M" + string(record.CheckCharacter("9XTC4K7Q2M"))
	registered := p.write(record.FixtureRegistered, fixtureTwo, "", record.RegisteredBody{Name: "Pilot valve rig", Tag: tag})
	p.write(record.ProgramSet, "", "", record.Program{
		Name: "Vacuum", Gas: "air", Pressure: *amount(-80, "kPa"), Volume: *amount(0.2, "L"), Test: 10,
		LimitDrop: amount(50, "Pa"), ShowUnit: "Pa.m3/s", ShowRef: "20C", Background: true, Allowance: 0.05,
	})
	p.write(record.FixtureMoved, "", registered, record.Move{Site: siteTwo})
}

// later writes what a later build would: a kind and a version that nobody here
// knows, and a field more.
func (w *writer) later() {
	p := w.pen("phone", fixtureOne)
	p.write("x-later-kind", w.joints[0], "", json.RawMessage(`{"colour":"blue","deep":{"list":[1,2.5,"ñ"]}}`))
	p.version = 2
	p.write(record.LookMade, w.id(), "", json.RawMessage(`{"seen":"by another form"}`))
	p.version = record.Version
	p.write(record.FixtureEdited, "", "", json.RawMessage(`{"note":"Ask for the key.","torch":true}`))
}

// picture is the smallest PNG: one grey pixel.
var picture = []byte("\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR\x00\x00\x00\x01\x00\x00\x00\x01\x08\x00\x00\x00\x00:~\x9bU\x00\x00\x00\nIDATx\x9cc\xf8\x0f\x00\x01\x01\x01\x00\x1b\xb6\xeeV\x00\x00\x00\x00IEND\xaeB`\x82")
