package record

import "testing"

// What became of a finding, by what happened after it.
func TestFindingStates(t *testing.T) {
	cases := []struct {
		name string
		then func(*story)
		want FindingState
	}{
		{"as seen", func(*story) {}, Open},
		{"mended, not looked at again", func(s *story) { s.mend("l1", "later") }, Waiting},
		{"a repair closes nothing, even on the spot", func(s *story) { s.mend("l1", "on-spot") }, Waiting},
		{"mended on the spot and seen tight", func(s *story) { s.mend("l1", "on-spot"); s.second("l2", "l1", "r1", None) }, OnSpot},
		{"mended later and seen tight", func(s *story) { s.mend("l1", "later"); s.second("l2", "l1", "r1", None) }, Gone},
		{"mended and still leaking", func(s *story) { s.mend("l1", "on-spot"); s.second("l2", "l1", "r1", Gross) }, Open},
		{"seen partly is no second look", func(s *story) { s.mend("l1", "on-spot"); s.second("l2", "l1", "r1", Partly) }, Waiting},
		{"tight before the repair counts for nothing", func(s *story) { s.second("l2", "l1", "r1", None); s.mend("l1", "later") }, Waiting},
		{"tight in a later round", func(s *story) { s.mend("l1", "later"); s.round("r2"); s.look("l2", "r2", "j1", None) }, Gone},
		{"leaks again in a later round", func(s *story) { s.mend("l1", "later"); s.round("r2"); s.look("l2", "r2", "j1", Leaks) }, SeenAgain},
		{"amended to a leak, and tight in a later round", func(s *story) {
			s.writeBase(Withdrawn, "l1", "a5", Reason{})
			id := s.look("l9", "r1", "j1", None)
			leaks := Gross
			s.writeBase(LookAmended, "l9", id, LookAmendment{Result: &leaks})
			s.round("r2")
			s.look("l2", "r2", "j1", None)
		}, Gone},
		{"another joint's look says nothing", func(s *story) { s.round("r2"); s.look("l2", "r2", "j2", None) }, Open},
		{"accepted as it is", func(s *story) { s.write(FindingReviewed, "l1", Review{Verdict: "accept"}) }, Accepted},
		{"asked to look again", func(s *story) { s.write(FindingReviewed, "l1", Review{Verdict: "look-again"}) }, Open},
		{"a repair taken back", func(s *story) { id := s.mend("l1", "later"); s.writeBase(Withdrawn, "l1", id, Reason{}) }, Open},
		{"a second look taken back", func(s *story) {
			s.mend("l1", "on-spot")
			id := s.second("l2", "l1", "r1", None)
			s.writeBase(Withdrawn, "l2", id, Reason{})
		}, Waiting},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := newStory(t)
			s.look("l1", "r1", "j1", Leaks)
			c.then(s)
			look := s.fixture().LookByID("l1")
			if amended := s.fixture().LookByID("l9"); amended != nil {
				look = amended
			}
			if got := look.State(); got != c.want {
				t.Errorf("state %s, want %s", got, c.want)
			}
		})
	}
}

// "Nothing seen" with the solution gone or the back hidden is no second look.
func TestSecondLookMustHaveSeen(t *testing.T) {
	for _, look := range []Look{
		{Result: None, Seconds: 60, Stayed: false, Back: true},
		{Result: None, Seconds: 60, Stayed: true, Back: false},
	} {
		s := newStory(t)
		s.look("l1", "r1", "j1", Leaks)
		s.mend("l1", "on-spot")
		look.Round, look.Joint, look.Second = "r1", "j1", "l1"
		s.write(LookMade, "l2", look)
		if got := s.fixture().LookByID("l1").State(); got != Waiting {
			t.Errorf("stayed %v, back %v: state %s, want waiting", look.Stayed, look.Back, got)
		}
	}
}

// "Nothing seen" closes a repair only where the joint was wetted under pressure: a
// gap that filled before may be dry above and leak later.
func TestSecondLookIsWettedUnderPressure(t *testing.T) {
	round := func(s *story, id, wetted string) {
		s.write(RoundStarted, id, RoundStart{Conditions: Conditions{Gas: "air", Pressure: Amount{200, "kPa"}, Ambient: Amount{23, "degC"}, Solution: "film", Wetted: wetted}})
	}
	for _, c := range []struct {
		round, asked string
		result       Result
		want         FindingState
		obstacle     string
	}{
		{"after", "", None, OnSpot, ""},
		{"after", "after", None, OnSpot, ""},
		{"after", "before", None, Waiting, WetBefore},
		{"after", "vented", None, Waiting, WetVented},
		{"before", "", None, Waiting, WetBefore},
		{"before", "after", None, OnSpot, ""},
		{"after", "before", Gross, Open, WetBefore}, // a leak that shows is a leak
	} {
		s := newStory(t)
		round(s, "rx", c.round)
		s.look("l1", "rx", "j1", Leaks)
		s.mend("l1", "on-spot")
		s.write(LookMade, "l2", Look{Round: "rx", Joint: "j1", Result: c.result, Seconds: 60, Stayed: true, Back: true, Second: "l1", Wetted: c.asked})
		f := s.fixture()
		if got := f.LookByID("l1").State(); got != c.want {
			t.Errorf("round %q, asked %q, %s: state %s, want %s", c.round, c.asked, c.result, got, c.want)
		}
		if got := f.LookByID("l2").Obstacle(); got != c.obstacle {
			t.Errorf("round %q, asked %q: obstacle %q, want %q", c.round, c.asked, got, c.obstacle)
		}
	}
	s := newStory(t)
	s.look("l1", "r1", "j1", Leaks)
	s.mend("l1", "later")
	round(s, "r2", "before")
	s.look("l2", "r2", "j1", None)
	if got := s.fixture().LookByID("l1").State(); got != Waiting {
		t.Errorf("a later round wetted before pressure: state %s, want waiting", got)
	}
}

func TestAmendmentCorrectsAndKeepsTheStory(t *testing.T) {
	s := newStory(t)
	event := s.look("l1", "r1", "j1", Leaks)
	s.writeBase(LookAmended, "l1", event, LookAmendment{Observation: train(24), Why: "miscounted"})
	look := s.fixture().LookByID("l1")
	if look.Observation.Count != 24 {
		t.Errorf("count %d, want 24", look.Observation.Count)
	}
	first, ok := look.Story[0].Body.(*Look)
	if !ok || first.Observation.Count != 12 || len(look.Story) != 2 {
		t.Errorf("the first observation must stay in the story: %+v", look.Story)
	}
}

func TestWithdrawnLookLeavesItsJoint(t *testing.T) {
	s := newStory(t)
	event := s.look("l1", "r1", "j1", Leaks)
	s.writeBase(Withdrawn, "l1", event, Reason{Why: "undo"})
	f := s.fixture()
	if len(f.Joint("j1").Looks) != 0 || len(f.Round("r1").Looks) != 0 {
		t.Error("a withdrawn look still counts")
	}
	if look := f.LookByID("l1"); look == nil || !look.Withdrawn || look.Stands() {
		t.Error("a withdrawn look stays findable and does not stand")
	}
}

func TestSecondLookIsNoFindingOfItsOwn(t *testing.T) {
	s := newStory(t)
	s.look("l1", "r1", "j1", Leaks)
	s.second("l2", "l1", "r1", Gross)
	f := s.fixture()
	if !f.LookByID("l1").OwnFinding() || f.LookByID("l2").OwnFinding() {
		t.Error("the leak is one finding")
	}
	if !f.LookByID("l1").Stands() {
		t.Error("a leak that still leaks stands")
	}
}

func TestNewestLookIsTheSizedOne(t *testing.T) {
	s := newStory(t)
	s.look("l1", "r1", "j1", Leaks)
	s.second("l2", "l1", "r1", Gross)
	if got := s.fixture().LookByID("l1").Newest().ID; got != "l1" {
		t.Errorf("newest %s: a second look without a size does not size the finding", got)
	}
	s.write(LookMade, "l3", Look{Round: "r1", Joint: "j1", Result: Leaks, Seconds: 20, Stayed: true, Back: true, Second: "l1", Observation: train(3)})
	if got := s.fixture().LookByID("l1").Newest().ID; got != "l3" {
		t.Errorf("newest %s, want l3", got)
	}
}

// What a round found stays what it was when a later round sizes a leak at the
// same joint.
func TestALaterRoundDoesNotResizeAFinding(t *testing.T) {
	s := newStory(t)
	s.look("l1", "r1", "j1", Leaks)
	s.round("r2")
	s.write(LookMade, "l2", Look{Round: "r2", Joint: "j1", Result: Leaks, Seconds: 20, Stayed: true, Back: true, Observation: train(3)})
	f := s.fixture()
	if got := f.LookByID("l1"); got.State() != SeenAgain || got.Newest().ID != "l1" {
		t.Errorf("state %s, newest %s, want seen-again and l1", got.State(), got.Newest().ID)
	}
}
