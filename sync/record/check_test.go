package record

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"jointwalk/sync/journal"
)

func TestBodiesAreChecked(t *testing.T) {
	good := Look{Round: "r1", Joint: "j1", Result: Leaks, Seconds: 20, Observation: train(12)}
	with := func(change func(*Look)) Look {
		look := good
		observation := *good.Observation
		look.Observation = &observation
		change(&look)
		return look
	}
	in := func(change func(*Pointed)) Look {
		return with(func(l *Look) {
			p := pointed()
			change(p)
			l.Observation.Size = Size{As: "picture", Picture: p}
		})
	}
	cases := []struct {
		name  string
		kind  Kind
		body  any
		code  string
		field string
	}{
		{"good look", LookMade, good, "", ""},
		{"result outside the list", LookMade, with(func(l *Look) { l.Result = "maybe" }), UnknownCode, "result"},
		{"a leak without observation", LookMade, with(func(l *Look) { l.Observation = nil }), Missing, "observation"},
		{"size of zero", LookMade, with(func(l *Look) { l.Observation.Size.Diameter = &Amount{0, "mm"} }), OutOfRange, "diameter"},
		{"unit that does not fit", LookMade, with(func(l *Look) { l.Observation.Size.Diameter = &Amount{3, "kPa"} }), UnknownCode, "diameter"},
		{"size by picture", LookMade, in(func(*Pointed) {}), "", ""},
		{"size by picture beside a tube", LookMade, in(func(p *Pointed) { p.Long, p.Short, p.Tube = nil, nil, &Amount{6, "mm"} }), "", ""},
		{"size by no picture", LookMade, with(func(l *Look) { l.Observation.Size = Size{As: "picture"} }), Missing, "picture"},
		{"size by a picture without a hash", LookMade, in(func(p *Pointed) { p.Hash = "" }), OutOfRange, "hash"},
		{"size by a picture of nothing", LookMade, in(func(p *Pointed) { p.Width = 0 }), OutOfRange, "width"},
		{"size by a card of no height", LookMade, in(func(p *Pointed) { p.Short = nil }), Missing, "short"},
		{"size by a tube of nothing", LookMade, in(func(p *Pointed) { p.Tube = &Amount{0, "mm"} }), OutOfRange, "tube"},
		{"size by three corners", LookMade, in(func(p *Pointed) { p.Marks = p.Marks[:3] }), OutOfRange, "marks"},
		{"size by two points of a rim", LookMade, in(func(p *Pointed) { p.Rim = p.Rim[:2] }), OutOfRange, "rim"},
		{"a rim outside the picture", LookMade, in(func(p *Pointed) { p.Rim[0].X = 1601 }), OutOfRange, "rim"},
		{"a corner above the picture", LookMade, in(func(p *Pointed) { p.Marks[3].Y = -1 }), OutOfRange, "marks"},
		{"three sizes, one by a ring", LookMade, with(func(l *Look) { l.Observation.MoreSizes = []Size{sized("ring", 3), sized("diameter", 2)} }), "", ""},
		{"four sizes", LookMade, with(func(l *Look) { l.Observation.MoreSizes = slices.Repeat([]Size{sized("diameter", 2)}, 3) }), OutOfRange, "moreSizes"},
		{"a second size of zero", LookMade, with(func(l *Look) { l.Observation.MoreSizes = []Size{sized("ring", 0)} }), OutOfRange, "diameter"},
		{"no time", LookMade, with(func(l *Look) { l.Observation.Seconds = 0 }), OutOfRange, "seconds"},
		{"no bubbles", LookMade, with(func(l *Look) { l.Observation.Count = 0 }), OutOfRange, "count"},
		{"one tap", LookMade, with(func(l *Look) { l.Observation.How = "taps"; l.Observation.Taps = []float64{1} }), OutOfRange, "taps"},
		{"taps going back", LookMade, with(func(l *Look) { l.Observation.How = "taps"; l.Observation.Taps = []float64{2, 1} }), OutOfRange, "taps"},
		{"not reached without why", LookMade, Look{Round: "r1", Joint: "j1", Result: NotReached}, UnknownCode, "why"},
		{"another spot", LookMade, with(func(l *Look) { l.Spot, l.Vented, l.Rewets = "2", "stopped", 3 }), "", ""},
		{"a spot with a long name", LookMade, with(func(l *Look) { l.Spot = strings.Repeat("ñ", 21) }), TooLong, "spot"},
		{"vented and what then", LookMade, with(func(l *Look) { l.Vented = "perhaps" }), UnknownCode, "vented"},
		{"vented, corrected", LookAmended, LookAmendment{Vented: ptr("perhaps")}, UnknownCode, "vented"},
		{"wetted a hundred times", LookMade, with(func(l *Look) { l.Rewets = 100 }), OutOfRange, "rewets"},
		{"wetted less than never", LookAmended, LookAmendment{Rewets: ptr(-1)}, OutOfRange, "rewets"},
		{"gas collected", LookMade, with(func(l *Look) { *l.Observation = gathered() }), "", ""},
		{"gas collected, the head not read", LookMade, with(func(l *Look) { *l.Observation = gathered(); l.Observation.Head = nil }), "", ""},
		{"gas collected, and a bubble sized", LookMade, with(func(l *Look) { *l.Observation = gathered(); l.Observation.Size.As = "tube" }), UnknownCode, "as"},
		{"bubbles without a size", LookMade, with(func(l *Look) { l.Observation.Size = Size{As: "none"} }), Missing, "diameter"},
		{"no gas collected", LookMade, with(func(l *Look) { *l.Observation = gathered(); l.Observation.Volume = nil }), Missing, "volume"},
		{"gas collected in no time", LookMade, with(func(l *Look) { *l.Observation = gathered(); l.Observation.Seconds = 0 }), OutOfRange, "seconds"},
		{"a head in kilograms", LookMade, with(func(l *Look) { *l.Observation = gathered(); l.Observation.Head.Unit = "kg" }), UnknownCode, "head"},
		{"a dome", LookMade, with(func(l *Look) { l.Observation.How, l.Observation.Height = "dome", &Amount{5, "mm"} }), "", ""},
		{"a dome, its height not seen", LookMade, with(func(l *Look) { l.Observation.How = "dome" }), "", ""},
		{"a dome without a base", LookMade, with(func(l *Look) { l.Observation.How, l.Observation.Size = "dome", Size{As: "none"} }), Missing, "diameter"},
		{"a dome in no time", LookMade, with(func(l *Look) { l.Observation.How, l.Observation.Seconds = "dome", 0 }), OutOfRange, "seconds"},
		{"froth that grew", LookMade, with(func(l *Look) { l.Observation.How, l.Observation.Height = "froth", &Amount{2, "mm"} }), "", ""},
		{"froth of no height", LookMade, with(func(l *Look) { l.Observation.How = "froth" }), Missing, "height"},
		{"froth as high as nothing", LookMade, with(func(l *Look) { l.Observation.How, l.Observation.Height = "froth", &Amount{0, "mm"} }), OutOfRange, "height"},
		{"froth", LookMade, with(func(l *Look) {
			*l.Observation = Observation{Medium: "film", How: "class", Class: "froth-creeping", Size: Size{As: "none"}}
		}), "", ""},
		{"some class or other", LookMade, with(func(l *Look) { *l.Observation = Observation{Medium: "film", How: "class"} }), UnknownCode, "class"},
		{"gross with a bad class", LookMade, with(func(l *Look) { l.Result, *l.Observation = Gross, Observation{Medium: "film", How: "class"} }), UnknownCode, "class"},
		{"looked for a week", LookMade, with(func(l *Look) { l.Seconds = 7 * 86400 }), OutOfRange, "seconds"},
		{"no name", FixtureRegistered, RegisteredBody{Tag: mint(t, 3)}, Missing, "name"},
		{"long name", FixtureRegistered, RegisteredBody{Name: strings.Repeat("ñ", 81), Tag: mint(t, 3)}, TooLong, "name"},
		{"80 wide characters fit", FixtureRegistered, RegisteredBody{Name: strings.Repeat("ñ", 80), Tag: mint(t, 3)}, "", ""},
		{"damaged tag", FixtureRegistered, RegisteredBody{Name: "a", Tag: "00000000001"}, TagProblem, "tag"},
		{"joint kind", JointAdded, Joint{Name: "a", Kind: "glue", Circuit: "test"}, UnknownCode, "kind"},
		{"circuit", JointAdded, Joint{Name: "a", Kind: "gasket", Circuit: "oil"}, UnknownCode, "circuit"},
		{"negative tube", JointAdded, Joint{Name: "a", Kind: "gasket", Circuit: "test", Tube: &Amount{-6, "mm"}}, OutOfRange, "tube"},
		{"put back", RoundEnded, RoundEnd{PutBack: []string{"lunch"}}, UnknownCode, "putBack"},
		{"verdict", FindingReviewed, Review{Verdict: "fine"}, UnknownCode, "verdict"},
		{"wetted", LookMade, with(func(l *Look) { l.Wetted = "never" }), UnknownCode, "wetted"},
		{"spare", FindingMended, Mend{When: "later", Cause: "loose", Action: "tightened", Spare: strings.Repeat("x", NameLength+1)}, TooLong, "spare"},
		{"run", JointAdded, Joint{Name: "a", Kind: "weld", Circuit: "test", Run: strings.Repeat("x", NameLength+1)}, TooLong, "run"},
		{"mend", FindingMended, Mend{When: "on-spot", Cause: "loose", Action: "prayed"}, UnknownCode, "action"},
		{"picture hash", PictureAdded, Picture{Hash: "ab", Bytes: 10, Type: "image/jpeg"}, OutOfRange, "hash"},
		{"a site to move to", FixtureMoved, Move{Site: "site-b"}, "", ""},
		{"too many seen", JointEdited, JointEdit{Seen: make([]string, MostSeen+1)}, OutOfRange, "seen"},
		{"seen without a name", LookAmended, LookAmendment{Seen: []string{""}}, Missing, "seen"},
		{"limit both ways", ProgramSet, Program{Gas: "air", Pressure: Amount{1, "bar"}, Volume: Amount{1, "L"}, Test: 1, ShowUnit: "mol/s",
			LimitRate: &Rate{1, "Pa.m3/s", ""}, LimitDrop: &Amount{1, "Pa"}}, OutOfRange, "limit"},
		{"std unit without reference", ProgramSet, Program{Gas: "air", Pressure: Amount{1, "bar"}, Volume: Amount{1, "L"}, Test: 1, ShowUnit: "mol/s",
			LimitRate: &Rate{1, "std cm3/min", ""}}, UnknownCode, "limitRef"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			raw, _ := json.Marshal(c.body)
			expectFault(t, CheckBody(string(c.kind), Version, raw), c.code, c.field)
		})
	}
	expectFault(t, CheckBody(string(LookMade), Version, []byte(`{"round":7}`)), BadBody, string(LookMade))
}

func expectFault(t *testing.T, err error, code, field string) {
	t.Helper()
	if code == "" {
		if err != nil {
			t.Errorf("unexpected %v", err)
		}
		return
	}
	var fault *Fault
	if !errors.As(err, &fault) || fault.Code != code || fault.Field != field {
		t.Errorf("got %v, want %s: %s", err, code, field)
	}
}

func TestWritingIsCheckedAgainstTheBook(t *testing.T) {
	s := newStory(t)
	s.round("r2")
	s.write(RoundEnded, "r2", RoundEnd{})
	book := NewBook()
	for _, e := range s.events {
		book.Add(e)
	}
	about := func(of string) journal.About { return journal.About{Site: "site-a", Fixture: fixtureID, Of: of} }
	look := func(round, joint string) string {
		return `{"round":"` + round + `","joint":"` + joint + `","result":"none","stayed":true,"back":true}`
	}
	cases := []struct {
		name  string
		kind  Kind
		body  string
		about journal.About
		code  string
		field string
	}{
		{"a look", LookMade, look("r1", "j1"), about("l9"), "", ""},
		{"a look in no round", LookMade, look("r7", "j1"), about("l9"), UnknownNoun, "round"},
		{"a look at no joint", LookMade, look("r1", "j7"), about("l9"), UnknownNoun, "round"},
		{"a look in an ended round", LookMade, look("r2", "j1"), about("l9"), RoundIsEnded, "round"},
		{"mending nothing", FindingMended, `{"when":"later","cause":"loose","action":"tightened"}`, about("l7"), UnknownNoun, "finding"},
		{"retiring nothing", JointRetired, `{}`, about("j7"), UnknownNoun, "joint"},
		{"ending nothing", RoundEnded, `{"putBack":[]}`, about("r7"), UnknownNoun, "round"},
		{"taking back nothing", Withdrawn, `{}`, about("l1"), UnknownNoun, "base"},
		{"no fixture", JointRetired, `{}`, journal.About{Site: "site-a", Fixture: "x", Of: "j1"}, UnknownNoun, "fixture"},
		{"no site", JointRetired, `{}`, journal.About{Fixture: fixtureID, Of: "j1"}, Missing, "site"},
		{"no such kind", "painted", `{}`, about(""), UnknownKind, "painted"},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			expectFault(t, Check(string(c.kind), []byte(c.body), c.about, "", book), c.code, c.field)
		})
	}
}

func ptr[T any](value T) *T { return &value }

// gathered is gas collected over water.
func gathered() Observation {
	return Observation{Medium: "water", How: "collected", Seconds: 300, Volume: &Amount{10, "mL"}, Head: &Amount{-50, "mm"}, Size: Size{As: "none"}}
}

// pointed is a card straight on, ten pixels a millimetre, and a bubble of 5 mm.
func pointed() *Pointed {
	return &Pointed{
		Hash: strings.Repeat("a", 64), Width: 1600, Height: 1200, Long: &Amount{85.6, "mm"}, Short: &Amount{53.98, "mm"},
		Marks: []Spot{{300, 300}, {1156, 300}, {1156, 839.8}, {300, 839.8}},
		Rim:   []Spot{{775, 600}, {800, 575}, {825, 600}, {800, 625}},
	}
}

func sized(as string, mm float64) Size { return Size{As: as, Diameter: &Amount{mm, "mm"}} }
