package summary

import (
	"slices"
	"strings"
	"testing"

	"jointwalk/sync/record"
)

// pinned is a story whose joints are pinned in a photo of 400 × 300: the third beside the top left corner, the first far to the
// right of it, the second below it.
func pinned(t *testing.T) (s *story, hash string) {
	s, hash = newStory(t), strings.Repeat("ab", 32)
	s.write(record.PictureAdded, fixtureID, record.Picture{Hash: hash, Bytes: 10, Type: "image/jpeg", Width: 400, Height: 300})
	for joint, at := range map[string][2]float64{"j1": {0.9, 0.1}, "j2": {0.1, 0.6}, "j3": {0.1, 0.1}} {
		s.write(record.JointEdited, joint, record.JointEdit{Pin: &record.Pin{Photo: hash, X: at[0], Y: at[1]}})
	}
	s.round("r1", worked())
	return s, hash
}

func walks(t *testing.T, s *story) []int {
	t.Helper()
	round, err := s.desk().Round(RoundQuestion{"r1"})
	if err != nil {
		t.Fatal(err)
	}
	var places []int
	for _, j := range round.Joints {
		places = append(places, j.Walk)
	}
	return places
}

// From j3 it is 150 pixels down to j2 and 320 across to j1.
func TestTheWalkGoesToTheNearestPin(t *testing.T) {
	s, hash := pinned(t)
	if got := walks(t, s); !slices.Equal(got, []int{3, 2, 1}) {
		t.Errorf("%v", got)
	}
	s.write(record.JointEdited, "j2", record.JointEdit{Pin: &record.Pin{}})
	if got := walks(t, s); !slices.Equal(got, []int{2, 0, 1}) {
		t.Errorf("without the second: %v", got)
	}
	s.write(record.JointRetired, "j3", record.Reason{})
	if got := walks(t, s); !slices.Equal(got, []int{1, 0}) {
		t.Errorf("without the third: %v", got)
	}
	fixture, err := s.desk().Fixture(FixtureQuestion{fixtureID})
	if err != nil || fixture.Joints[0].Pin == nil || fixture.Joints[0].Pin.Photo != hash || fixture.Joints[1].Pin != nil {
		t.Errorf("%+v, %v", fixture.Joints, err)
	}
}

// Pins belong to the photo in which they were set: a newer one has none yet.
func TestAnotherPhotoHasNoPins(t *testing.T) {
	s, _ := pinned(t)
	s.write(record.PictureAdded, fixtureID, record.Picture{Hash: strings.Repeat("cd", 32), Bytes: 10, Type: "image/jpeg", Width: 400, Height: 300})
	if got := walks(t, s); !slices.Equal(got, []int{0, 0, 0}) {
		t.Errorf("%v", got)
	}
}

func TestNotesStandWhereTheyBelong(t *testing.T) {
	s := newStory(t)
	s.round("r1", worked())
	s.round("r2", worked())
	for _, of := range []string{fixtureID, "j1", "r1", "r2"} {
		s.write(record.NoteAdded, of, record.Noted{Text: of})
	}
	s.look("l1", "j2", record.Look{Round: "r1", Result: record.Gross})
	s.write(record.NoteAdded, "l1", record.Noted{Text: "l1"})
	texts := func(notes []NoteCard) (all []string) {
		for _, n := range notes {
			all = append(all, n.Text)
		}
		return all
	}
	fixture, err := s.desk().Fixture(FixtureQuestion{fixtureID})
	if got := texts(fixture.Notes); err != nil || !slices.Equal(got, []string{"j1", fixtureID}) {
		t.Errorf("fixture: %v, %v", got, err)
	}
	round, err := s.desk().Round(RoundQuestion{"r1"})
	if got := texts(round.Notes); err != nil || !slices.Equal(got, []string{"l1", "r1", "j1"}) {
		t.Errorf("round: %v, %v", got, err)
	}
	if n := round.Notes[0]; n.JointName != "Upper seal" || n.Of != "l1" {
		t.Errorf("%+v", n)
	}
	finding, err := s.desk().Finding(FindingQuestion{"l1"})
	if last := finding.Story[len(finding.Story)-1]; err != nil || last.What != StepNote || last.Note != "l1" {
		t.Errorf("%+v, %v", last, err)
	}
}
