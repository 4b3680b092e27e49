package record

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"jointwalk/sync/journal"
)

func tagOf(code string) string { return code + string(CheckCharacter(code)) }

// rig is a second fixture, registered under a tag of its own, in the same log.
func (s *story) rig(id, tag string) func(kind Kind, base string, body any) string {
	as := func(kind Kind, base string, body any) string {
		event := s.writeBase(kind, "", base, body)
		s.events[len(s.events)-1].About.Fixture = id
		return event
	}
	as(FixtureRegistered, "", RegisteredBody{Name: "Second rig", Tag: tag})
	return as
}

// books are a book that read at once and one that reads when it is asked, of the same events in some order.
func books(t *testing.T, events []journal.Event) []*Book {
	t.Helper()
	at, later := NewBook(), NewBook()
	for _, e := range events {
		at.Add(e)
		line, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		if err := later.Later(line, nil); err != nil {
			t.Fatal(err)
		}
	}
	return []*Book{at, later}
}

// A label moves from one fixture to another by an edit; the one it left says which it carries, and each keeps its history.
func TestATagMovesToAnotherFixture(t *testing.T) {
	const second = "00000000-0000-5000-8000-00000000000e"
	first, other, fresh := tagOf("4K7Q2M9XTC"), tagOf("7ZZZZZZZZ1"), tagOf("7ZZZZZZZZ2")
	s := newStory(t)
	rig := s.rig(second, other)
	rig(FixtureEdited, "", FixtureEdit{Tag: &first})
	s.write(FixtureEdited, "", FixtureEdit{Tag: &fresh})
	backwards := slices.Clone(s.events)
	slices.Reverse(backwards)
	for _, events := range [][]journal.Event{s.events, backwards} {
		for n, b := range books(t, events) {
			for code, id := range map[string]string{first: second, other: second, fresh: fixtureID} {
				if f := b.FixtureByTag(code); f == nil || f.ID != id {
					t.Errorf("book %d: %s finds %+v", n, code, f)
				}
			}
			f, g := b.Fixture(fixtureID), b.Fixture(second)
			if f.Tag != fresh || len(f.Tags) != 2 || f.Tags[0].Code != first || g.Tag != first || len(g.Tags) != 2 || g.Tags[1].Given.Person != "person-a" {
				t.Errorf("book %d: %+v, %+v", n, f.Tags, g.Tags)
			}
		}
	}
}

// Taken back, the label is again on the fixture before; a fixture that goes takes its labels along.
func TestAMovedTagIsTakenBack(t *testing.T) {
	const second = "00000000-0000-5000-8000-00000000000e"
	first := tagOf("4K7Q2M9XTC")
	s := newStory(t)
	rig := s.rig(second, tagOf("7ZZZZZZZZ1"))
	moved := rig(FixtureEdited, "", FixtureEdit{Tag: &first})
	rig(Withdrawn, moved, Reason{Why: "undo"})
	for n, b := range books(t, s.events) {
		if f := b.FixtureByTag(first); f == nil || f.ID != fixtureID {
			t.Errorf("book %d: %+v", n, f)
		}
		if g := b.Fixture(second); g.Tag != tagOf("7ZZZZZZZZ1") || len(g.Tags) != 1 {
			t.Errorf("book %d: %+v", n, g)
		}
	}
	for n, b := range books(t, s.events[:len(s.events)-1]) {
		b.pages[second] = &page{seen: map[identity]*entry{}} // as DropSite leaves it, and worse
		delete(b.pages, second)
		if f := b.FixtureByTag(first); f == nil || f.ID != fixtureID {
			t.Errorf("book %d, without the fixture that had it: %+v", n, f)
		}
	}
}

func TestOnlyACodeIsGivenAsATag(t *testing.T) {
	for text, good := range map[string]bool{`{"tag":"` + tagOf("4K7Q2M9XTC") + `"}`: true, `{"tag":"4K7Q2M9XTC"}`: false, `{"tag":""}`: false, `{"tag":"https://x.example/T/` + tagOf("4K7Q2M9XTC") + `"}`: false, `{"tag":"4k7q2m9xtc` + string(CheckCharacter("4K7Q2M9XTC")) + `"}`: false} {
		if err := CheckBody(string(FixtureEdited), Version, []byte(text)); (err == nil) != good {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// A picture about the fixture itself is its photo; withdrawn, it stays with its hash and why.
func TestAFixtureHasAPhoto(t *testing.T) {
	s := newStory(t)
	photo := s.write(PictureAdded, fixtureID, Picture{Hash: strings.Repeat("ab", 32), Bytes: 10, Type: "image/jpeg", Width: 4, Height: 3})
	if f := s.fixture(); len(f.Photos) != 1 || f.Photos[0].Width != 4 || f.Photos[0].Withdrawn != nil {
		t.Errorf("%+v", f.Photos)
	}
	s.writeBase(Withdrawn, fixtureID, photo, Reason{Why: "a face"})
	if f := s.fixture(); len(f.Photos) != 1 || f.Photos[0].Withdrawn == nil || f.Photos[0].Why != "a face" {
		t.Errorf("%+v", f.Photos)
	}
	b := NewBook()
	for _, e := range s.events {
		b.Add(e)
	}
	about := journal.About{Site: "site-a", Fixture: fixtureID, Of: fixtureID}
	body := []byte(`{"hash":"` + strings.Repeat("ab", 32) + `","bytes":10,"type":"image/jpeg","width":4,"height":3}`)
	if err := Check(string(PictureAdded), body, about, "", b); err != nil {
		t.Error(err)
	}
	about.Of = "nothing"
	if err := Check(string(PictureAdded), body, about, "", b); err == nil {
		t.Error("a picture of nothing was let through")
	}
}
