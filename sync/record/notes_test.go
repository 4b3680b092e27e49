package record

import (
	"strings"
	"testing"

	"jointwalk/sync/journal"
)

var photoHash = strings.Repeat("ab", 32)

func TestAJointIsPinnedInAPhoto(t *testing.T) {
	s := newStory(t)
	s.write(PictureAdded, fixtureID, Picture{Hash: photoHash, Bytes: 10, Type: "image/jpeg", Width: 4, Height: 3})
	joint := s.fixture().Joints[0]
	first := s.writeBase(JointEdited, joint.ID, joint.Base, JointEdit{Pin: &Pin{Photo: photoHash, X: 0.25, Y: 0.5}})
	if pin := s.fixture().Joint(joint.ID).Pin; pin == nil || *pin != (Pin{photoHash, 0.25, 0.5}) {
		t.Errorf("%+v", pin)
	}
	s.writeBase(JointEdited, joint.ID, first, JointEdit{Pin: &Pin{}})
	if pin := s.fixture().Joint(joint.ID).Pin; pin == nil || pin.Photo != "" {
		t.Errorf("taken off: %+v", pin)
	}
}

// Two people who pin one joint apart stand in a conflict, as with every other field of a joint.
func TestPinsConflict(t *testing.T) {
	s := newStory(t)
	joint := s.fixture().Joints[0]
	other := s.elsewhere("log-b", "person-b")
	s.writeBase(JointEdited, joint.ID, joint.Base, JointEdit{Pin: &Pin{Photo: photoHash, X: 0.1}})
	other.writeBase(JointEdited, joint.ID, joint.Base, JointEdit{Pin: &Pin{Photo: photoHash, X: 0.9}})
	s.events = append(s.events, other.events[len(other.events)-1])
	if standing := s.fixture().Conflicting(); len(standing) != 1 || standing[0].Field != "pin" {
		t.Errorf("%+v", standing)
	}
}

func TestPinsAndArrowsStayInTheirPicture(t *testing.T) {
	picture := func(arrows string) string {
		return `{"hash":"` + photoHash + `","bytes":10,"type":"image/jpeg","width":4,"height":3,"arrows":[` + arrows + `]}`
	}
	const arrow = `{"fromX":0,"fromY":0.5,"x":1,"y":1}`
	for _, c := range []struct {
		kind Kind
		body string
		good bool
	}{
		{JointEdited, `{"pin":{"photo":"` + photoHash + `","x":0,"y":1}}`, true},
		{JointEdited, `{"pin":{"photo":"` + photoHash + `","x":0,"y":1.01}}`, false},
		{JointEdited, `{"pin":{"photo":"ab","x":0,"y":1}}`, false},
		{JointEdited, `{"pin":{"photo":"","x":0.5,"y":1}}`, false},
		{PictureAdded, picture(arrow), true},
		{PictureAdded, picture(`{"fromX":0,"fromY":0.5,"x":-0.1,"y":1}`), false},
		{PictureAdded, picture(strings.Repeat(arrow+",", MostArrows-1) + arrow), true},
		{PictureAdded, picture(strings.Repeat(arrow+",", MostArrows) + arrow), false},
		{NoteAdded, `{"text":"The nut is reached from below."}`, true},
		{NoteAdded, `{"text":" "}`, false},
	} {
		if err := CheckBody(string(c.kind), Version, []byte(c.body)); (err == nil) != c.good {
			t.Errorf("%s %s: %v", c.kind, c.body, err)
		}
	}
}

func TestNotes(t *testing.T) {
	s := newStory(t)
	joint := s.fixture().Joints[0].ID
	s.write(LookMade, "l1", Look{Round: "r1", Joint: joint, Result: Gross})
	for _, of := range []string{fixtureID, joint, "r1", "l1"} {
		note := s.write(NoteAdded, of, Noted{Text: "about " + of})
		if notes := s.fixture().Notes; notes[len(notes)-1].Of != of || notes[len(notes)-1].Text != "about "+of {
			t.Errorf("%s: %+v", of, notes)
		}
		if of != "l1" {
			s.writeBase(Withdrawn, of, note, Reason{})
		}
	}
	f := s.fixture()
	if len(f.Notes) != 1 {
		t.Errorf("withdrawn notes stay: %d", len(f.Notes))
	}
	story := f.LookByID("l1").Story
	if last, told := story[len(story)-1].Body.(*Noted); !told || last.Text != "about l1" {
		t.Errorf("not told in the look's story: %+v", story)
	}
	b := NewBook()
	for _, e := range s.events {
		b.Add(e)
	}
	about := journal.About{Site: "site-a", Fixture: fixtureID, Of: "nothing"}
	if err := Check(string(NoteAdded), []byte(`{"text":"x"}`), about, "", b); err == nil {
		t.Error("a note about nothing was let through")
	}
}
