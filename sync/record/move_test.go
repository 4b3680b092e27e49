package record

import (
	"testing"

	"jointwalk/sync/journal"
)

func move(s *story, site string) string {
	return s.write(FixtureMoved, "", Move{Site: site})
}

func TestAFixtureStandsWhereItWasMoved(t *testing.T) {
	s := newStory(t)
	move(s, "site-b")
	s.look("l1", "r1", "j1", None) // a phone that had not heard of it yet
	if got := s.fixture().Site; got != "site-b" {
		t.Errorf("site %s", got)
	}
	id := move(s, "site-c")
	if f := s.fixture(); f.Site != "site-c" || f.Base != id {
		t.Errorf("site %s, a further edit starts from %s, want %s", f.Site, f.Base, id)
	}
	s.writeBase(Withdrawn, "", id, Reason{})
	if got := s.fixture().Site; got != "site-b" {
		t.Errorf("the second move taken back: site %s", got)
	}
}

func TestMovesTo(t *testing.T) {
	s := newStory(t)
	move(s, "site-b")
	for i, e := range s.events {
		want := ""
		if i == len(s.events)-1 {
			want = "site-b"
		}
		if got := MovesTo(e); got != want {
			t.Errorf("%s moves to %q, want %q", e.Kind, got, want)
		}
	}
	e := s.events[len(s.events)-1]
	if e.V++; MovesTo(e) != "" {
		t.Error("a later form is not understood")
	}
	if e.V, e.Body = 1, []byte(`{"site":7}`); MovesTo(e) != "" {
		t.Error("a body that cannot be read moves nothing")
	}
	expectFault(t, CheckBody(string(FixtureMoved), 1, []byte(`{}`)), Missing, "site")
}

// A site that is left takes along what stands there now, and nothing else.
func TestDropSiteForgetsWhatStandsThereNow(t *testing.T) {
	b := NewBook()
	add := func(s *story, fixture string) {
		for _, e := range s.events {
			e.About.Fixture, e.Log = fixture, "log-"+fixture
			b.Add(e)
		}
	}
	came, stayed, left := newStory(t), newStory(t), newStory(t)
	for i := range came.events {
		came.events[i].About.Site = "site-z"
	}
	move(came, "site-a")
	move(left, "site-b")
	add(came, "came")
	add(stayed, "stayed")
	add(left, "left")
	b.Add(journal.Event{V: 1, ID: "x", Log: "log-x", Seq: 1, Tick: 1, Kind: string(JointRetired), About: journal.About{Site: "site-a", Fixture: "unregistered"}})
	b.DropSite("site-a")
	if all := b.Fixtures(); len(all) != 1 || all[0].ID != "left" || len(b.pages) != 1 {
		t.Errorf("%d fixtures, %d pages are left", len(all), len(b.pages))
	}
}
