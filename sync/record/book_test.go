package record

import (
	"encoding/json"
	"testing"

	"jointwalk/sync/journal"
	"pgregory.net/rapid"
)

func TestFoldKeepsNounsApart(t *testing.T) {
	s := newStory(t)
	s.look("l1", "r1", "j1", Leaks)
	s.look("l2", "r1", "j2", NotReached)
	f := s.fixture()
	if f.Name != "Valve body rig" || f.Site != "site-a" || len(f.Joints) != 2 || len(f.Rounds) != 1 {
		t.Fatalf("fixture %q, site %q, %d joints, %d rounds", f.Name, f.Site, len(f.Joints), len(f.Rounds))
	}
	if got := len(f.Round("r1").Looks); got != 2 {
		t.Errorf("round has %d looks, want 2", got)
	}
	if got := f.Joint("j1").Looks[0].ID; got != "l1" {
		t.Errorf("first look of j1 is %s", got)
	}
	if f.OpenRound() == nil || f.OpenRound().ID != "r1" {
		t.Error("r1 should be open")
	}
}

func TestRoundEnds(t *testing.T) {
	s := newStory(t)
	s.write(RoundEnded, "r1", RoundEnd{PutBack: []string{"guard"}})
	f := s.fixture()
	if f.OpenRound() != nil || f.Round("r1").Ended == nil || f.Round("r1").End.PutBack[0] != "guard" {
		t.Errorf("round not ended: %+v", f.Round("r1"))
	}
}

func TestEditsReplaceOnlyWhatTheyName(t *testing.T) {
	s := newStory(t)
	name, circuit := "Inlet nut", "supply"
	s.write(FixtureEdited, "", FixtureEdit{Name: &name})
	s.write(JointEdited, "j1", JointEdit{Circuit: &circuit})
	s.write(JointRetired, "j2", Reason{Why: "clamp removed"})
	f := s.fixture()
	if f.Name != "Inlet nut" || f.Place != "Hall 2" {
		t.Errorf("fixture %q at %q", f.Name, f.Place)
	}
	if j := f.Joint("j1"); j.Name != "Port nut" || j.Circuit != "supply" {
		t.Errorf("joint %+v", j.Joint)
	}
	if !f.Joint("j2").Retired {
		t.Error("j2 should be retired")
	}
}

func TestJointsStandInPlaceOrder(t *testing.T) {
	s := newStory(t)
	s.write(JointAdded, "j3", Joint{Name: "Between", Kind: "gasket", Circuit: "test", Order: 1.5})
	before := 0.5
	s.write(JointEdited, "j2", JointEdit{Order: &before})
	var order string
	for _, j := range s.fixture().Joints {
		order += j.ID
	}
	if order != "j2j1j3" {
		t.Errorf("order %s, want j2j1j3", order)
	}
}

func TestProgramVersionsStay(t *testing.T) {
	s := newStory(t)
	p := Program{Gas: "air", Pressure: Amount{200, "kPa"}, Volume: Amount{200, "cm3"}, Test: 10, Allowance: 0.1,
		LimitRate: &Rate{2, "std cm3/min", "0C"}, ShowUnit: "std cm3/min", ShowRef: "0C"}
	first := s.write(ProgramSet, "", p)
	p.Test = 20
	s.write(ProgramSet, "", p)
	f := s.fixture()
	if f.Program().Test != 20 || f.ProgramVersion(first).Test != 10 {
		t.Errorf("program in force %v s, first %v s", f.Program().Test, f.ProgramVersion(first).Test)
	}
}

func TestUnknownKindsAndNewerVersionsAreSkipped(t *testing.T) {
	s := newStory(t)
	later := s.events[1]
	later.Seq, later.Tick, later.Kind, later.Body = 90, 90, "joint-painted", json.RawMessage(`{"colour":"blue"}`)
	newer := s.events[1]
	newer.Seq, newer.Tick, newer.V, newer.About.Of = 91, 91, Version+1, "j9"
	s.events = append(s.events, later, newer)
	if f := s.fixture(); len(f.Joints) != 2 {
		t.Errorf("%d joints, want 2", len(f.Joints))
	}
	if err := CheckBody("joint-painted", 1, []byte(`{}`)); err != nil {
		t.Errorf("an unknown kind must pass: %v", err)
	}
}

func TestAddTwiceIsANoOp(t *testing.T) {
	s := newStory(t)
	b := NewBook()
	for _, e := range s.events {
		if !b.Add(e) || b.Add(e) {
			t.Fatal("first Add must say new, second must not")
		}
	}
	if b.Add(journal.Event{Log: "x", Seq: 1}) {
		t.Error("an event about no fixture is not kept")
	}
}

// Any order of arrival, with repeats and questions in between, must end in
// the same state as the order of writing.
func TestFoldingIsTheSameInAnyOrder(t *testing.T) {
	s := newStory(t)
	s.look("l1", "r1", "j1", Leaks)
	s.mend("l1", "on-spot")
	s.second("l2", "l1", "r1", None)
	undone := s.look("l3", "r1", "j2", Gross)
	s.writeBase(Withdrawn, "l3", undone, Reason{Why: "undo"})
	s.write(RoundEnded, "r1", RoundEnd{})
	s.round("r2")
	s.look("l4", "r2", "j1", Leaks)
	s.write(FindingReviewed, "l4", Review{Verdict: "look-again"})
	want := digest(t, s.fixture())
	rapid.Check(t, func(rt *rapid.T) {
		b := NewBook()
		for _, i := range rapid.Permutation(indexes(len(s.events))).Draw(rt, "order") {
			b.Add(s.events[i])
			if rapid.Bool().Draw(rt, "ask") {
				b.Fixture(fixtureID)
			}
			if rapid.Bool().Draw(rt, "again") {
				b.Add(s.events[i])
			}
		}
		if got := digest(t, b.Fixture(fixtureID)); got != want {
			rt.Fatalf("state differs:\n%s\n%s", got, want)
		}
	})
}

func indexes(n int) []int {
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	return all
}

// digest is the whole exported state as JSON, seconds by id only.
func digest(t *testing.T, f *FixtureState) string {
	t.Helper()
	out := map[string]any{"fixture": f.Name, "programs": f.Programs}
	for _, l := range f.Looks {
		var seconds []string
		for _, s := range l.Again {
			seconds = append(seconds, s.ID)
		}
		out[l.ID] = []any{l.Look, l.State(), l.Withdrawn, l.SeenAgain, seconds, l.Story}
	}
	for _, j := range f.Joints {
		out[j.ID] = []any{j.Joint, j.Retired, len(j.Looks)}
	}
	for _, r := range f.Rounds {
		out[r.ID] = []any{r.RoundStart, r.Ended, len(r.Looks)}
	}
	raw, err := json.Marshal(out)
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}

func TestTagsFindTheirFixture(t *testing.T) {
	s := newStory(t)
	b := NewBook()
	for _, e := range s.events {
		b.Add(e)
	}
	tag := b.Fixture(fixtureID).Tag
	if f := b.FixtureByTag(tag); f == nil || f.ID != fixtureID {
		t.Error("tag does not find its fixture")
	}
	if b.FixtureByTag("0000000000X") != nil {
		t.Error("an unknown tag finds nothing")
	}
	s.look("l1", "r1", "j1", None)
	b.Add(s.events[len(s.events)-1])
	if b.FixtureOfRound("r1") == nil || b.FixtureOfLook("l1") == nil || b.FixtureOfLook("nothing") != nil {
		t.Error("rounds and looks find their fixture")
	}
	b.DropSite("site-a")
	if b.Fixture(fixtureID) != nil || len(b.Fixtures()) != 0 {
		t.Error("a dropped site leaves nothing")
	}
}
