package record

import (
	"slices"
	"testing"
)

// Two joints of one name are told where two devices gave it, however they came to it; one that was renamed or retired is none
// of them.
func TestTwins(t *testing.T) {
	nut := func(s *story, of string) {
		s.write(JointAdded, of, Joint{Name: "Port nut", Kind: "compression", Circuit: "test", Order: 3})
	}
	rename := func(s *story, of, name string) {
		s.writeBase(JointEdited, of, s.fixture().Joint(of).Base, JointEdit{Name: &name})
	}
	onB := func(s *story) { s.log, s.seq = "log-b", 0 }
	retire := func(s *story, of string) string {
		return s.writeBase(JointRetired, of, s.fixture().Joint(of).Base, Reason{})
	}
	for _, c := range []struct {
		name string
		then func(*story)
		want []string
	}{
		{"one of each", func(s *story) {}, nil},
		{"twice on one device", func(s *story) { nut(s, "j3") }, nil},
		{"added on another", func(s *story) { onB(s); nut(s, "j3") }, []string{"j1", "j3"}},
		{"three", func(s *story) { nut(s, "j3"); onB(s); nut(s, "j4") }, []string{"j1", "j3", "j4"}},
		{"renamed to it on another", func(s *story) { onB(s); rename(s, "j2", "Port nut") }, []string{"j1", "j2"}},
		{"both renamed to it", func(s *story) { nut(s, "j3"); onB(s); rename(s, "j1", "A"); rename(s, "j1", "Port nut") }, []string{"j1", "j3"}},
		{"something else edited", func(s *story) {
			onB(s)
			nut(s, "j3")
			order := 9.0
			s.writeBase(JointEdited, "j3", "", JointEdit{Order: &order})
		}, []string{"j1", "j3"}},
		{"renamed since", func(s *story) { onB(s); nut(s, "j3"); rename(s, "j3", "Port nut (2)") }, nil},
		{"retired since", func(s *story) { onB(s); nut(s, "j3"); retire(s, "j1") }, nil},
		{"brought back", func(s *story) {
			onB(s)
			nut(s, "j3")
			s.writeBase(Withdrawn, "j1", retire(s, "j1"), Reason{})
		}, []string{"j1", "j3"}},
	} {
		s := newStory(t)
		c.then(s)
		var got []string
		for _, twins := range s.fixture().Twins() {
			for _, j := range twins {
				got = append(got, j.ID)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
