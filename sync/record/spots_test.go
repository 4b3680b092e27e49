package record

import "testing"

// Two spots of one joint were found in one round: what later looks say of each.
func TestSpotsOfOneJoint(t *testing.T) {
	quiet := Look{Round: "r2", Joint: "j1", Result: None, Seconds: 60, Stayed: true, Back: true}
	leak := Look{Round: "r2", Joint: "j1", Result: Leaks, Observation: train(9)}
	at := func(l Look, spot string) Look { l.Spot = spot; return l }
	cases := []struct {
		name          string
		then          func(*story)
		first, second FindingState
	}{
		{"as seen", func(*story) {}, Open, Open},
		{"one is mended on the spot", func(s *story) { s.mend("l1", "on-spot"); s.second("l3", "l1", "r1", None) }, OnSpot, Open},
		{"the other is mended on the spot", func(s *story) { s.mend("l2", "on-spot"); s.second("l3", "l2", "r1", None) }, Open, OnSpot},
		{"one is mended and still leaks", func(s *story) { s.mend("l1", "on-spot"); s.mend("l2", "later"); s.second("l3", "l1", "r1", Leaks) }, Open, Waiting},
		{"nothing seen in the same round closes neither", func(s *story) { s.look("l3", "r1", "j1", None) }, Open, Open},
		{"nothing seen at the joint in a later round closes both", func(s *story) { s.round("r2"); s.write(LookMade, "l3", quiet) }, Gone, Gone},
		{"seen partly in a later round closes neither", func(s *story) { s.round("r2"); s.look("l3", "r2", "j1", Partly) }, Open, Open},
		{"nothing seen at one spot in a later round closes that one", func(s *story) { s.round("r2"); s.write(LookMade, "l3", at(quiet, "2")) }, Open, Gone},
		{"a second look in a later round is about the finding it names", func(s *story) {
			s.mend("l1", "later")
			s.mend("l2", "later")
			s.round("r2")
			s.second("l3", "l2", "r2", None)
		}, Waiting, Gone},
		{"the first spot leaks in a later round", func(s *story) { s.round("r2"); s.write(LookMade, "l3", leak) }, SeenAgain, Open},
		{"the second spot leaks in a later round", func(s *story) { s.round("r2"); s.write(LookMade, "l3", at(leak, "2")) }, Open, SeenAgain},
		{"both leak in a later round", func(s *story) {
			s.round("r2")
			s.write(LookMade, "l3", leak)
			s.write(LookMade, "l4", at(leak, "2"))
		}, SeenAgain, SeenAgain},
		{"a third spot in a later round", func(s *story) { s.round("r2"); s.write(LookMade, "l3", at(leak, "3")) }, Open, Open},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := newStory(t)
			s.look("l1", "r1", "j1", Leaks)
			s.write(LookMade, "l2", Look{Round: "r1", Joint: "j1", Result: Leaks, Observation: train(3), Spot: "2"})
			c.then(s)
			f := s.fixture()
			if first, second := f.LookByID("l1").State(), f.LookByID("l2").State(); first != c.first || second != c.second {
				t.Errorf("states %s and %s, want %s and %s", first, second, c.first, c.second)
			}
		})
	}
}

// What was tried is corrected field by field; two people who say otherwise conflict.
func TestWhatWasTriedIsCorrected(t *testing.T) {
	s := newStory(t)
	event := s.write(LookMade, "l1", Look{Round: "r1", Joint: "j1", Result: Leaks, Observation: train(12), Wiped: "came-back", Vented: "stopped", Rewets: 1})
	other := s.elsewhere("log-b", "person-b")
	s.writeBase(LookAmended, "l1", event, LookAmendment{Vented: ptr("went-on")})
	other.writeBase(LookAmended, "l1", event, LookAmendment{Vented: ptr("not-tried"), Rewets: ptr(2)})
	s.events = append(s.events, other.events[len(other.events)-1])
	f := s.fixture()
	look := f.LookByID("l1")
	if look.Wiped != "came-back" || look.Rewets != 2 || look.Vented != "not-tried" {
		t.Errorf("wiped %s, vented %s, %d re-wets", look.Wiped, look.Vented, look.Rewets)
	}
	if c := f.Conflicting(); len(c) != 1 || c[0].Field != "vented" {
		t.Errorf("conflicts %+v, want one over vented", c)
	}
}
