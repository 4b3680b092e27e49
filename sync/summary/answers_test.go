package summary

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"jointwalk/sync/record"
)

func codes(says []Phrase) string {
	var all []string
	for _, p := range says {
		all = append(all, p.Code)
	}
	return strings.Join(all, " ")
}

func TestAFixtureSaysWhatIsSo(t *testing.T) {
	quiet := record.Look{Result: record.None, Seconds: 30}
	cases := []struct {
		name string
		then func(*story)
		want string
	}{
		{"nothing looked at", func(*story) {}, SayNeverLooked},
		{"one leak, one hidden, one tight", func(s *story) {
			s.look("l1", "j1", record.Look{Result: record.Leaks, Seconds: 20, Observation: joint7()})
			s.look("l2", "j2", quiet)
			s.look("l3", "j3", record.Look{Result: record.NotReached, Why: "guarded"})
		}, SayLeaksShare + " " + SayNotReached},
		{"all tight", func(s *story) {
			for _, j := range []string{"j1", "j2", "j3"} {
				s.look("l"+j, j, quiet)
			}
		}, SayTight},
		{"gross before all", func(s *story) {
			s.look("l1", "j1", record.Look{Result: record.Leaks, Seconds: 20, Observation: joint7()})
			s.look("l2", "j2", record.Look{Result: record.Gross})
		}, SayGross + " " + SayLeaksShare + " " + SayNotLooked},
		{"a leak off the test side has no share", func(s *story) {
			s.look("l3", "j3", record.Look{Result: record.Leaks, Seconds: 20, Observation: joint7()})
		}, SayAside + " " + SayNotLooked},
		{"accepted as it is", func(s *story) {
			s.look("l1", "j1", record.Look{Result: record.Leaks, Seconds: 20, Observation: joint7()})
			s.write(record.FindingReviewed, "l1", record.Review{Verdict: "accept"})
		}, SayAccepted + " " + SayNotLooked},
		{"mended and waiting", func(s *story) {
			s.look("l1", "j1", record.Look{Result: record.Leaks, Seconds: 20, Observation: joint7()})
			s.write(record.FindingMended, "l1", record.Mend{When: "later", Cause: "loose", Action: "tightened"})
		}, SayWaiting + " " + SayNotLooked},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := newStory(t)
			s.round("r1", worked())
			c.then(s)
			f := must[Fixture](t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID}))
			if got := codes(f.Says); got != c.want {
				t.Errorf("says %q, want %q", got, c.want)
			}
		})
	}
}

// An estimate takes longer than all the rest of an answer, and most findings of old rounds are closed.
func TestClosedFindingsAreNotEstimatedForAFixture(t *testing.T) {
	s := newStory(t)
	s.round("r1", worked())
	s.look("l1", "j1", record.Look{Result: record.Leaks, Seconds: 20, Observation: joint7()})
	s.write(record.FindingMended, "l1", record.Mend{When: "later", Vented: true, Cause: "loose", Action: "tightened"})
	s.look("l1-again", "j1", record.Look{Result: record.None, Seconds: 60, Stayed: true, Back: true, Second: "l1"})
	d := NewDesk(s.book, s.desk().Names)
	f := must[Fixture](t)(d.Fixture(FixtureQuestion{ID: fixtureID}))
	if len(d.memo) != 0 || codes(f.Rounds[0].Says) != SayRoundOpen+" "+SayNotLooked {
		t.Errorf("%d estimates, says %q", len(d.memo), codes(f.Rounds[0].Says))
	}
	s.look("l2", "j2", record.Look{Result: record.Leaks, Seconds: 20, Observation: joint7()})
	f = must[Fixture](t)(d.Fixture(FixtureQuestion{ID: fixtureID}))
	if len(d.memo) != 1 || codes(f.Rounds[0].Says) != SayRoundOpen+" "+SayLeaksShare+" "+SayNotLooked {
		t.Errorf("%d estimates, says %q", len(d.memo), codes(f.Rounds[0].Says))
	}
}

func TestTheLeaksAddUp(t *testing.T) {
	s := leaking(t)
	s.look("l2", "j2", record.Look{Result: record.Leaks, Seconds: 20, Observation: joint7()})
	f := must[Fixture](t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID}))
	p := f.Says[0]
	near(t, "share", p.Args["share"], 34.5, 0.03)
	near(t, "sum", p.Args["sum"], 0.69, 0.02)
	if p.Args["n"] != "2" || !slices.Equal(p.Names, []string{"Port nut", "Upper seal"}) {
		t.Errorf("phrase %+v", p)
	}
}

func TestARoundRanksAndCounts(t *testing.T) {
	s := leaking(t)
	small := joint7()
	small.Count = 2
	s.look("l2", "j2", record.Look{Result: record.Leaks, Seconds: 20, Observation: small})
	s.look("l3", "j3", record.Look{Result: record.Gross})
	r := must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"}))
	var order string
	for _, f := range r.Findings {
		order += f.ID
	}
	if order != "l3l1l2" {
		t.Errorf("ranked %s, want gross, large, small", order)
	}
	if r.Done != 3 || r.Program == nil || r.Unseen != nil || r.Says[0].Code != SayRoundOpen {
		t.Errorf("done %d, says %s", r.Done, codes(r.Says))
	}
}

// 14 joints of 30 s are the worked station's; one joint of 30 s has the same
// bound, 0.0014 std cm³/min, since zero bubbles bound the sum.
func TestNothingSeenIsAnUpperLimit(t *testing.T) {
	s := newStory(t)
	s.round("r1", worked())
	s.look("l1", "j1", record.Look{Result: record.None, Seconds: 30})
	s.look("l2", "j2", record.Look{Result: record.None, Seconds: 30})
	r := must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"}))
	if r.Unseen == nil || r.Unseen.Joints != 2 {
		t.Fatalf("unseen %+v", r.Unseen)
	}
	near(t, "bound", r.Unseen.High, 0.0014, 0.05) // two printed digits: half of the last is 3.6 %
}

func TestNothingSeenWithoutSolutionCannotSay(t *testing.T) {
	s := newStory(t)
	s.round("r1", worked())
	s.write(record.LookMade, "l1", record.Look{Round: "r1", Joint: "j1", Result: record.None, Seconds: 30, Stayed: false, Back: true})
	r := must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"}))
	if r.Unseen == nil || r.Unseen.CannotSay != "solution-left" || r.Unseen.High != "" {
		t.Errorf("unseen %+v", r.Unseen)
	}
}

func TestARoundKeepsItsProgram(t *testing.T) {
	s := leaking(t)
	later := workedProgram()
	later.LimitRate = &record.Rate{Value: 0.5, Unit: "std cm3/min", Ref: "0C"}
	s.write(record.ProgramSet, "", later)
	before := must[Finding](t)(s.desk().Finding(FindingQuestion{ID: "l1"}))
	near(t, "share by the round's program", before.Card.Share.Median, 17.25, 0.03)
}

func TestAFindingTellsItsStory(t *testing.T) {
	s := leaking(t)
	s.write(record.FindingMended, "l1", record.Mend{When: "on-spot", Cause: "loose", Action: "tightened", Note: "a quarter turn"})
	s.write(record.LookMade, "l2", record.Look{Round: "r1", Joint: "j1", Result: record.None, Seconds: 60, Stayed: true, Back: true, Second: "l1"})
	s.write(record.FindingReviewed, "l1", record.Review{Verdict: "accept"})
	f := must[Finding](t)(s.desk().Finding(FindingQuestion{ID: "l1"}))
	var what []string
	for _, step := range f.Story {
		what = append(what, step.What)
	}
	if got := strings.Join(what, " "); got != "seen mended second-look reviewed" {
		t.Errorf("story %s", got)
	}
	if f.Card.State != "on-spot" || f.Card.Mark != Ring || f.Story[1].Note != "a quarter turn" || f.Story[0].Who.Name != "Somebody" {
		t.Errorf("card %+v, story %+v", f.Card, f.Story)
	}
}

// What the phone showed and what is computed now agree; a figure that was
// tampered with does not.
func TestShownAgreesWithRecomputed(t *testing.T) {
	s := newStory(t)
	s.round("r1", worked())
	shown := must[EstimateAnswer](t)(s.desk().Estimate(EstimateQuestion{Round: "r1", Joint: "j1", Observation: *joint7()})).Shown
	s.look("l1", "j1", record.Look{Result: record.Leaks, Seconds: 20, Observation: joint7(), Shown: shown})
	wrong := *shown
	wrong.High *= 1.001
	s.look("l2", "j2", record.Look{Result: record.Leaks, Seconds: 20, Observation: joint7(), Shown: &wrong})
	if f := must[Finding](t)(s.desk().Finding(FindingQuestion{ID: "l1"})); !f.Agrees {
		t.Error("the same computation must agree")
	}
	if f := must[Finding](t)(s.desk().Finding(FindingQuestion{ID: "l2"})); f.Agrees {
		t.Error("another figure must not agree")
	}
}

func TestTagsAreAnswered(t *testing.T) {
	s := newStory(t)
	code := tagCode + string(record.CheckCharacter(tagCode))
	cases := map[string]string{code: "", strings.ToLower(code): "", "4K7Q2M9XTD" + code[10:]: record.TagDamaged, "https://menu.example": record.TagForeign}
	for text, problem := range cases {
		a := must[TagAnswer](t)(s.desk().Tag(TagQuestion{Text: text}))
		if a.Problem != problem || (problem == "") != (a.Fixture == fixtureID) {
			t.Errorf("%s: %+v, want problem %q", text, a, problem)
		}
	}
	blind := NewDesk(s.book, Names{})
	if a := must[TagAnswer](t)(blind.Tag(TagQuestion{Text: code})); a.Problem != TagUnknown {
		t.Errorf("a tag of another site: %+v", a)
	}
}

// A reader who may not see the site gets the same answer as for a thing that
// is not there.
func TestOtherSitesStayHidden(t *testing.T) {
	s := leaking(t)
	blind := NewDesk(s.book, Names{Sites: []SiteName{{"site-b", "Elsewhere"}}})
	for question, in := range map[string]string{
		"fixture": `{"id":"fixture-a"}`, "round": `{"id":"r1"}`, "finding": `{"id":"l1"}`, "estimate": `{"round":"r1","joint":"j1"}`, "watch": `{"round":"r1"}`,
	} {
		_, err := Ask(blind, question, []byte(in))
		var fault *Fault
		if !errors.As(err, &fault) || !strings.HasPrefix(fault.Code, "unknown-") {
			t.Errorf("%s: %v", question, err)
		}
	}
	if all := must[Findings](t)(blind.Findings(FindingsQuestion{})); len(all.Findings) != 0 {
		t.Error("findings of another site")
	}
	if home := must[Home](t)(blind.Home(HomeQuestion{})); len(home.Sites[0].Fixtures) != 0 {
		t.Error("fixtures of another site")
	}
}

func TestEveryQuestionIsAnsweredByName(t *testing.T) {
	s := leaking(t)
	for question, in := range map[string]string{
		"home": `{}`, "tag": `{"text":"x"}`, "fixture": `{"id":"fixture-a"}`, "round": `{"id":"r1"}`,
		"findings": `{}`, "finding": `{"id":"l1"}`, "estimate": `{"round":"r1","joint":"j1","observation":{}}`, "conflicts": `{}`, "watch": `{"round":"r1","joints":["j1"]}`, "measure": `{"picture":{}}`,
	} {
		answer, err := Ask(s.desk(), question, []byte(in))
		if err != nil {
			t.Errorf("%s: %v", question, err)
		}
		if raw, err := json.Marshal(answer); err != nil || strings.Contains(string(raw), ":null") {
			t.Errorf("%s: %v, lists and fields are never null: %s", question, err, raw)
		}
	}
	if len(questions) != 10 {
		t.Errorf("%d questions, the table above has 10", len(questions))
	}
	if _, err := Ask(s.desk(), "weather", nil); faultCode(err) != UnknownQuestion {
		t.Errorf("unknown question: %v", err)
	}
	if _, err := Ask(s.desk(), "home", []byte(`[`)); faultCode(err) != BadQuestion {
		t.Errorf("bad question: %v", err)
	}
}

// A desk remembers its estimates, and still follows an edit of the joint.
func TestARememberedEstimateFollowsItsJoint(t *testing.T) {
	s := leaking(t)
	desk := s.desk()
	if f := must[Finding](t)(desk.Finding(FindingQuestion{ID: "l1"})); f.Card.Share == nil {
		t.Fatal("a leak on the test side has a share")
	}
	clamp := "clamp"
	s.write(record.JointEdited, "j1", record.JointEdit{Circuit: &clamp})
	if f := must[Finding](t)(desk.Finding(FindingQuestion{ID: "l1"})); f.Card.Share != nil {
		t.Errorf("share %+v of a joint that is off the test side now", f.Card.Share)
	}
}

func faultCode(err error) string {
	var fault *Fault
	if !errors.As(err, &fault) {
		return ""
	}
	return fault.Code
}

func TestFindingsByWish(t *testing.T) {
	s := leaking(t)
	s.look("l2", "j2", record.Look{Result: record.Gross})
	s.write(record.FindingReviewed, "l2", record.Review{Verdict: "accept"})
	count := func(q FindingsQuestion) int { return len(must[Findings](t)(s.desk().Findings(q)).Findings) }
	if a, o, u, e := count(FindingsQuestion{}), count(FindingsQuestion{Only: "open"}), count(FindingsQuestion{Only: "unreviewed"}), count(FindingsQuestion{Site: "site-b"}); a != 2 || o != 2 || u != 1 || e != 0 {
		t.Errorf("all %d, open %d, unreviewed %d, elsewhere %d", a, o, u, e)
	}
}

func TestTwoPhonesOnOneFixture(t *testing.T) {
	s := leaking(t)
	s.round("r2", worked())
	r := must[Round](t)(s.desk().Round(RoundQuestion{ID: "r2"}))
	if len(r.Others) != 1 || r.Others[0].ID != "r1" || r.Others[0].Done != 1 || r.Others[0].All != 3 || r.Others[0].Started.Name != "Somebody" {
		t.Errorf("others %+v", r.Others)
	}
	f := must[Fixture](t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID}))
	if len(f.Running) != 2 || f.Running[0].ID != "r2" || f.OpenRound != "r2" || f.Running[1].ID != "r1" {
		t.Errorf("running %+v, open %s", f.Running, f.OpenRound)
	}
	s.write(record.RoundEnded, "r1", record.RoundEnd{PutBack: []string{}})
	if r := must[Round](t)(s.desk().Round(RoundQuestion{ID: "r2"})); len(r.Others) != 0 {
		t.Errorf("others %+v, of which one ended", r.Others)
	}
}

func TestCautionsFollowTheConditions(t *testing.T) {
	c := worked()
	if got := cautions(&c, nil); slices.Contains(got, CautionVacuum) || slices.Contains(got, CautionInert) {
		t.Errorf("air at +200 kPa: %v", got)
	}
	c.Gas, c.Pressure.Value = "nitrogen", -80
	if got := cautions(&c, nil); !slices.Contains(got, CautionVacuum) || !slices.Contains(got, CautionInert) {
		t.Errorf("nitrogen at -80 kPa: %v", got)
	}
}

func TestAVacuumStationUnderPressureHasItsCaution(t *testing.T) {
	c := record.Conditions{Gas: "air", Pressure: record.Amount{Value: 80, Unit: "kPa"}}
	p := &record.ProgramState{Program: record.Program{Pressure: record.Amount{Value: -80, Unit: "kPa"}}}
	if got := cautions(&c, p); !slices.Contains(got, CautionVacuum) {
		t.Errorf("a vacuum program, a round at +80 kPa: %v", got)
	}
	p.Pressure.Value = 80
	if got := cautions(&c, p); slices.Contains(got, CautionVacuum) {
		t.Errorf("a pressure program: %v", got)
	}
}
