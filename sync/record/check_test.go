package record

import (
	"encoding/json"
	"errors"
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
		{"no time", LookMade, with(func(l *Look) { l.Observation.Seconds = 0 }), OutOfRange, "seconds"},
		{"no bubbles", LookMade, with(func(l *Look) { l.Observation.Count = 0 }), OutOfRange, "count"},
		{"one tap", LookMade, with(func(l *Look) { l.Observation.How = "taps"; l.Observation.Taps = []float64{1} }), OutOfRange, "taps"},
		{"taps going back", LookMade, with(func(l *Look) { l.Observation.How = "taps"; l.Observation.Taps = []float64{2, 1} }), OutOfRange, "taps"},
		{"not reached without why", LookMade, Look{Round: "r1", Joint: "j1", Result: NotReached}, UnknownCode, "why"},
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
