package record

import (
	"slices"
	"testing"
)

// runs is a fixture with three joints on one run, one beside it, all seen tight in
// r1, and a leak at the first.
func runs(t *testing.T) *story {
	s := newStory(t)
	for _, id := range []string{"j3", "j4", "j5"} {
		s.write(JointAdded, id, Joint{Name: id, Kind: "compression", Circuit: "test", Order: 3, Run: map[string]string{"j3": "hose A", "j4": "hose A", "j5": "hose B"}[id]})
	}
	run := "hose A"
	s.writeBase(JointEdited, "j1", s.fixture().Joint("j1").Base, JointEdit{Run: &run})
	for _, id := range []string{"j2", "j3", "j4", "j5"} {
		s.look("tight-"+id, "r1", id, None)
	}
	s.look("l1", "r1", "j1", Leaks)
	return s
}

func movedBy(s *story, joint string) []string {
	f := s.fixture()
	var ids []string
	for _, j := range f.Moved(f.Joint(joint), "r1") {
		ids = append(ids, j.ID)
	}
	return ids
}

// Work on one joint of a run asks for another look at the others that were tight.
func TestWorkMovesItsRun(t *testing.T) {
	cases := []struct {
		name string
		then func(*story)
		want []string
	}{
		{"no repair yet", func(*story) {}, nil},
		{"a repair", func(s *story) { s.mend("l1", "later") }, []string{"j3", "j4"}},
		{"one looked at since", func(s *story) { s.mend("l1", "later"); s.look("l3", "r1", "j3", None) }, []string{"j4"}},
		{"work again since", func(s *story) {
			s.mend("l1", "later")
			s.look("l3", "r1", "j3", None)
			s.mend("l1", "later")
		}, []string{"j3", "j4"}},
		{"one leaks and stands already", func(s *story) { s.look("l3", "r1", "j3", Leaks); s.mend("l1", "later") }, []string{"j4"}},
		{"one was not reached: it is to be looked at anyway", func(s *story) { s.look("l3", "r1", "j3", NotReached); s.mend("l1", "later") }, []string{"j4"}},
		{"one retired", func(s *story) {
			s.mend("l1", "later")
			s.writeBase(JointRetired, "j3", s.fixture().Joint("j3").Base, Reason{})
		}, []string{"j4"}},
		{"the repair taken back", func(s *story) { id := s.mend("l1", "later"); s.writeBase(Withdrawn, "l1", id, Reason{}) }, nil},
		{"no run known", func(s *story) {
			none := ""
			s.writeBase(JointEdited, "j1", s.fixture().Joint("j1").Base, JointEdit{Run: &none})
			s.mend("l1", "later")
		}, nil},
	}
	for _, c := range cases {
		s := runs(t)
		c.then(s)
		if got := movedBy(s, "j1"); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// A joint that a round has not looked at yet comes anyway.
func TestWorkBeforeTheLookMovesNothing(t *testing.T) {
	s := runs(t)
	s.mend("l1", "later")
	s.round("r2")
	f := s.fixture()
	if got := f.Moved(f.Joint("j1"), "r2"); len(got) != 0 {
		t.Errorf("%d joints, want none", len(got))
	}
}

func TestSparesOfTheKindComeFirst(t *testing.T) {
	s := newStory(t)
	s.look("l1", "r1", "j1", Leaks)
	s.look("l2", "r1", "j2", Leaks)
	used := func(of, spare string) {
		s.write(FindingMended, of, Mend{When: "later", Cause: "seal-worn", Action: "seal-replaced", Spare: spare})
	}
	used("l1", "ferrule 6")
	used("l2", "rod seal 12")
	used("l1", "nut 6")
	used("l1", "ferrule 6")
	used("l1", "")
	f := s.fixture()
	if got, want := f.Spares("compression"), []string{"ferrule 6", "nut 6", "rod seal 12"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
	if got, want := f.Spares("rod-seal"), []string{"rod seal 12", "ferrule 6", "nut 6"}; !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}
