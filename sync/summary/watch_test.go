package summary

import (
	"fmt"
	"strconv"
	"testing"

	"jointwalk/sync/record"
	"pgregory.net/rapid"
)

func (s *story) watch(joints ...string) Watch {
	s.t.Helper()
	return must[Watch](s.t)(s.desk().Watch(WatchQuestion{Round: "r1", Joints: joints, Back: true}))
}

// at is the step of a time.
func (w Watch) at(t *testing.T, seconds int) WatchStep {
	t.Helper()
	for _, step := range w.Steps {
		if step.Seconds == seconds {
			return step
		}
	}
	t.Fatalf("no step of %d s", seconds)
	return WatchStep{}
}

// The worked station: after 30 s no bubble bounds the sum at 0.0014 std cm³/min (derived, two printed digits), which is 0.07 % of
// the limit of 2.00. The allowance of 0.2 is shown by the first second; the eye needs one at each of the two joints.
func TestWatchingTheWorkedStation(t *testing.T) {
	s := newStory(t)
	s.round("r1", worked())
	w := s.watch("j1", "j3")
	if w.Counted != 1 || w.Left != 1 || w.Cannot != "" || w.Enough != 2 || w.Unit != "std cm3/min" {
		t.Errorf("%+v", w)
	}
	step := w.at(t, 30)
	near(t, "group", step.High, 0.0014, 0.05)
	near(t, "share", step.Share, 0.07, 0.05)
}

// What was seen before counts with its own time, and what was seen partly with a larger bubble: 3 mm instead of 1 is 27 times the
// volume.
func TestWatchingGoesOnFromWhatWasSeen(t *testing.T) {
	s := newStory(t)
	s.round("r1", worked())
	s.write(record.LookMade, "l1", record.Look{Round: "r1", Joint: "j1", Result: record.Partly, Sight: "partly", Seconds: 30, Stayed: true, Back: true})
	w := s.watch("j2")
	near(t, "group", w.at(t, 30).High, 0.0014, 0.05)
	near(t, "round", w.at(t, 30).All, 27*0.0014, 0.05)
	if again := s.watch("j1", "j2"); again.at(t, 30).All != again.at(t, 30).High || again.Left != 0 {
		t.Errorf("looked at again, it counts as it is now: %+v", again.at(t, 30))
	}
}

// A tight allowance takes longer; one below what plugged paths may hide, and a joint seen from one side, cannot be shown.
func TestWatchingSaysHowLongAndWhyNot(t *testing.T) {
	s := newStory(t)
	tight := workedProgram()
	tight.LimitRate = &record.Rate{Value: 0.0144, Unit: "std cm3/min", Ref: "0C"}
	s.program = s.write(record.ProgramSet, "", tight)
	s.round("r1", worked())
	if w := s.watch("j1"); w.Cannot != "" || w.Enough < 29 || w.Enough > 32 {
		t.Errorf("%+v; want 30 s", w)
	}
	tight.LimitRate.Value = 1e-7
	s.program = s.write(record.ProgramSet, "", tight)
	s.round("r1b", worked())
	if w := must[Watch](t)(s.desk().Watch(WatchQuestion{Round: "r1b", Joints: []string{"j1"}, Back: true})); w.Cannot != "bubbles-cannot-show" || w.Enough != 0 || len(w.Steps) == 0 {
		t.Errorf("%+v", w)
	}
	if w := must[Watch](t)(s.desk().Watch(WatchQuestion{Round: "r1", Joints: []string{"j1"}})); w.Cannot != "back-not-seen" || len(w.Steps) != 0 {
		t.Errorf("%+v", w)
	}
	if w := s.watch("j3"); w.Counted != 0 || len(w.Steps) != 0 || w.Cannot != "" {
		t.Errorf("not on the test side: %+v", w)
	}
}

// What was seen partly widens the bound and is told so; of what was not seen all around nothing is said, and the rest is.
func TestSeenPartlyWeakensTheBound(t *testing.T) {
	s := newStory(t)
	s.round("r1", worked())
	s.look("l1", "j1", record.Look{Result: record.None, Seconds: 30})
	s.write(record.LookMade, "l2", record.Look{Round: "r1", Joint: "j2", Result: record.Partly, Sight: "partly", Seconds: 30, Stayed: true, Back: true})
	r := must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"}))
	if u := r.Unseen; u == nil || u.Joints != 2 || u.Weak != 1 || u.Beside != 0 {
		t.Fatalf("%+v", u)
	}
	near(t, "bound", r.Unseen.High, 27*0.0014, 0.05)
	s.write(record.LookMade, "l3", record.Look{Round: "r1", Joint: "j2", Result: record.Partly, Seconds: 30, Stayed: true})
	r = must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"}))
	if u := r.Unseen; u == nil || u.Joints != 1 || u.Weak != 0 || u.Beside != 1 {
		t.Fatalf("%+v", u)
	}
	near(t, "bound of the other", r.Unseen.High, 0.0014, 0.05)
	f := must[Fixture](t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID}))
	if marks := f.Joints[1].History; len(marks) != 2 || marks[0].Mark != Half || marks[1].Mark != Half {
		t.Errorf("%+v", marks)
	}
}

// An earlier look of 10 s where 30 are needed is told; the joints that are left still need 30, and so does it.
func TestWatchingTellsWhichLooksWereTooShort(t *testing.T) {
	s := newStory(t)
	tight := workedProgram()
	tight.LimitRate = &record.Rate{Value: 0.0144, Unit: "std cm3/min", Ref: "0C"}
	s.program = s.write(record.ProgramSet, "", tight)
	s.round("r1", worked())
	s.look("l1", "j1", record.Look{Result: record.None, Seconds: 10})
	if w := s.watch("j2"); w.Cannot != "earlier-look-short" || w.Short != 1 || w.Enough < 29 || w.Enough > 32 {
		t.Errorf("%+v", w)
	}
	if w := s.watch("j1", "j2"); w.Cannot != "" || w.Short != 0 || w.Enough < 29 || w.Enough > 32 {
		t.Errorf("looked at again: %+v", w)
	}
	s.look("l2", "j1", record.Look{Result: record.None, Seconds: 60})
	if w := s.watch("j2"); w.Cannot != "" || w.Short != 0 {
		t.Errorf("long enough: %+v", w)
	}
}

// A joint that bubbles is sized: the clock neither bounds it nor leaves it for later, whatever was seen there before.
func TestWatchingLeavesOutWhatBubbles(t *testing.T) {
	s := newStory(t)
	s.round("r1", worked())
	watch := func() Watch {
		return must[Watch](t)(s.desk().Watch(WatchQuestion{Round: "r1", Joints: []string{"j1"}, Bubbling: []string{"j2"}, Back: true}))
	}
	if w := watch(); w.Counted != 1 || w.Left != 0 {
		t.Errorf("%+v", w)
	}
	s.look("l1", "j2", record.Look{Result: record.None, Seconds: 2})
	if w := watch(); w.at(t, 30).All != w.at(t, 30).High {
		t.Errorf("%+v", w.at(t, 30))
	}
}

// What the clock promises is what the round says once the looks are saved, and enough is within the allowance.
func TestAWatchKeepsItsPromise(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := newStory(t)
		p := workedProgram()
		p.LimitRate = &record.Rate{Value: rapid.Float64Range(0.005, 2).Draw(rt, "limit"), Unit: "std cm3/min", Ref: "0C"}
		s.program = s.write(record.ProgramSet, "", p)
		s.round("r1", worked())
		if rapid.Bool().Draw(rt, "earlier") {
			s.look("l1", "j1", record.Look{Result: record.None, Seconds: rapid.Float64Range(1, 100).Draw(rt, "seconds")})
		}
		w := s.watch("j2")
		step := w.Steps[rapid.IntRange(0, len(w.Steps)-1).Draw(rt, "step")]
		save := func(id string, seconds int) *Unseen {
			s.look(id, "j2", record.Look{Result: record.None, Seconds: float64(seconds)})
			return must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"})).Unseen
		}
		if u := save("l2", step.Seconds); u.High != step.All || u.Share != step.Share {
			rt.Fatalf("promised %+v, the round says %+v", step, u)
		}
		if w.Enough == 0 {
			rt.Fatalf("%+v: half an hour shows a ten thousandth of the worked station's limit", w)
		}
		high, _ := strconv.ParseFloat(save("l3", w.Enough).High, 64)
		if allowance := p.LimitRate.Value * p.Allowance; w.Short == 0 && high > allowance*1.005 { // three printed digits
			rt.Fatalf("%v after %d s, above %v", high, w.Enough, allowance)
		}
	})
}

// A look that says less tells why, wherever its mark stands; one that is called partly weakens the bound, whatever else is told.
func TestALookThatSaysLessTellsWhy(t *testing.T) {
	s := newStory(t)
	s.round("r1", worked())
	for _, c := range []struct {
		look record.Look
		less string
		mark Mark
		weak int
	}{
		{record.Look{Result: record.None, Back: true}, "solution-left", Half, 0},
		{record.Look{Result: record.None, Stayed: true}, "back-not-seen", Half, 0},
		{record.Look{Result: record.Partly, Stayed: true, Back: true, Sight: "partly"}, "partly", Half, 1},
		{record.Look{Result: record.Partly, Stayed: true, Back: true}, "partly", Half, 1},
		{record.Look{Result: record.None, Stayed: true, Back: true}, "", Ring, 0},
		{record.Look{Result: record.NotReached, Why: "hot"}, "", Dash, 0},
	} {
		c.look.Round, c.look.Joint, c.look.Seconds = "r1", "j1", 30
		s.write(record.LookMade, fmt.Sprintf("l%d", s.tick), c.look)
		r := must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"}))
		card := must[Fixture](t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID})).Joints[0]
		last := card.History[len(card.History)-1]
		if j := r.Joints[0]; j.Less != c.less || card.Less != c.less || last.Less != c.less || j.Mark != c.mark || last.Mark != c.mark {
			t.Errorf("%+v: in the round %q, on the card %q, in the strip %+v", c.look, j.Less, card.Less, last)
		}
		if r.Unseen != nil && r.Unseen.Weak != c.weak {
			t.Errorf("%+v: %+v", c.look, r.Unseen)
		}
	}
}

func TestAGrossLeakTellsItsSign(t *testing.T) {
	s := newStory(t)
	s.round("r1", worked())
	s.look("l1", "j1", record.Look{Result: record.Gross, Sign: "heard"})
	r := must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"}))
	f := must[Finding](t)(s.desk().Finding(FindingQuestion{ID: "l1"}))
	if r.Joints[0].Sign != "heard" || r.Findings[0].Sign != "heard" || len(f.Story[0].Codes) != 2 {
		t.Errorf("%+v %+v", r.Joints[0], f.Story[0])
	}
}
