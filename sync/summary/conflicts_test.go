package summary

import (
	"encoding/json"
	"testing"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// apart is the worked station on which two people, unaware of each other,
// renamed a joint and corrected a leak.
func apart(t *testing.T) *story {
	s := leaking(t)
	joint, look := s.joint("j1"), s.finding("l1").EventID
	for _, who := range []struct{ by, name string }{{"person-a", "Left nut"}, {"person-b", "Right nut"}} {
		s.by, s.log, s.seq = who.by, "log-"+who.by, 0
		s.writeBase(record.JointEdited, "j1", joint.Event, record.JointEdit{Name: &who.name, Seen: joint.Seen})
		s.writeBase(record.LookAmended, "l1", look, record.LookAmendment{Note: &who.name})
	}
	return s
}

func (s *story) joint(id string) JointCard {
	s.t.Helper()
	f := must[Fixture](s.t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID}))
	for _, j := range f.Joints {
		if j.ID == id {
			return j
		}
	}
	s.t.Fatalf("no joint %s", id)
	return JointCard{}
}

func (s *story) finding(id string) Finding {
	s.t.Helper()
	return must[Finding](s.t)(s.desk().Finding(FindingQuestion{ID: id}))
}

func TestConflictsAreListedWithTheirOwner(t *testing.T) {
	s := apart(t)
	all := must[Conflicts](t)(s.desk().Conflicts(ConflictsQuestion{Site: siteID})).Conflicts
	if len(all) != 2 {
		t.Fatalf("%d conflicts, want 2", len(all))
	}
	joint, look := all[0], all[1]
	if joint.Noun != "joint" || joint.Of != "j1" || joint.Field != "name" || joint.Name != "Right nut" || joint.FixtureName != "Worked station" {
		t.Errorf("joint: %+v", joint)
	}
	if joint.Owner != "person-a" || joint.OwnerName != "Somebody" || joint.Since.By != "person-b" || joint.Since.Time == "" {
		t.Errorf("owner and age: %+v", joint)
	}
	if string(joint.Sides[0].Value) != `"Left nut"` || string(joint.Sides[1].Value) != `"Right nut"` || joint.Sides[1].Event != joint.Base || len(joint.Seen) != 1 || joint.Seen[0] != joint.Sides[0].Event {
		t.Errorf("sides: %+v", joint)
	}
	if look.Noun != "look" || look.Of != "l1" || look.Field != "note" || look.Name != "Right nut" {
		t.Errorf("look: %+v", look)
	}
	if raw, err := json.Marshal(all); err != nil || !json.Valid(raw) {
		t.Error(err)
	}
}

func TestConflictsStandInTheirFixtureAndAtHome(t *testing.T) {
	s := apart(t)
	f := must[Fixture](t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID}))
	home := must[Home](t)(s.desk().Home(HomeQuestion{}))
	if len(f.Conflicts) != 2 || home.Sites[0].Fixtures[0].Conflicts != 2 {
		t.Errorf("fixture %d, home %+v", len(f.Conflicts), home.Sites[0].Fixtures)
	}
	if all := must[Conflicts](t)(s.desk().Conflicts(ConflictsQuestion{Site: "site-b"})); len(all.Conflicts) != 0 {
		t.Error("conflicts of another site")
	}
	blind := NewDesk(s.book, Names{Sites: []SiteName{{"site-b", "Elsewhere"}}})
	if all := must[Conflicts](t)(blind.Conflicts(ConflictsQuestion{})); len(all.Conflicts) != 0 {
		t.Error("conflicts of a site that the reader may not see")
	}
}

// What the card says settles it, does; what the joint's own card says does not.
func TestACardSettlesItsConflict(t *testing.T) {
	s := apart(t)
	name := "Middle nut"
	joint := s.joint("j1")
	s.by, s.log, s.seq = "person-c", "log-person-c", 0
	s.writeBase(record.JointEdited, "j1", joint.Event, record.JointEdit{Name: &name, Seen: joint.Seen})
	all := must[Conflicts](t)(s.desk().Conflicts(ConflictsQuestion{})).Conflicts
	if len(all) != 2 {
		t.Fatalf("an ordinary edit settled it: %+v", all)
	}
	s.writeBase(record.JointEdited, "j1", all[0].Base, record.JointEdit{Name: &name, Seen: all[0].Seen})
	if all = must[Conflicts](t)(s.desk().Conflicts(ConflictsQuestion{})).Conflicts; len(all) != 1 || all[0].Noun != "look" {
		t.Errorf("left: %+v", all)
	}
}

// Two phones added a joint of the same name: it stands as a conflict, at home and in the fixture too, until one of the two is
// renamed, as its card proposes, or retired.
func TestJointsOfOneNameAreAConflict(t *testing.T) {
	s := newStory(t)
	added := record.Joint{Name: "Port nut", Kind: "flared", Circuit: "test", Order: 7}
	s.write(record.JointAdded, "j8", record.Joint{Name: "Port nut (2)", Kind: "flared", Circuit: "test", Order: 8})
	s.by, s.log, s.seq = "person-b", "log-b", 0
	named := s.write(record.JointAdded, "j9", added)
	all := must[Conflicts](t)(s.desk().Conflicts(ConflictsQuestion{})).Conflicts
	home := must[Home](t)(s.desk().Home(HomeQuestion{})).Sites[0].Fixtures[0]
	if len(all) != 1 || home.Conflicts != 1 || len(must[Fixture](t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID})).Conflicts) != 1 {
		t.Fatalf("%d conflicts, %d at home, want one", len(all), home.Conflicts)
	}
	c := all[0]
	if c.Noun != "joint" || c.Field != "twin" || c.Name != "Port nut" || c.Of != "j9" || c.Owner != "person-a" || c.Since.By != "person-b" || c.Free != "Port nut (3)" {
		t.Errorf("%+v", c)
	}
	if len(c.Sides) != 2 || c.Sides[0].Joint.ID != "j1" || c.Sides[1].Joint.ID != "j9" || c.Sides[1].Event != named {
		t.Errorf("sides %+v", c.Sides)
	}
	second := c.Sides[1].Joint
	edit := s.writeBase(record.JointEdited, second.ID, second.Event, record.JointEdit{Name: &c.Free, Seen: second.Seen})
	left := func() int { return len(must[Conflicts](t)(s.desk().Conflicts(ConflictsQuestion{})).Conflicts) }
	if left() != 0 {
		t.Error("renamed, and still a conflict")
	}
	s.writeBase(record.Withdrawn, second.ID, edit, record.Reason{})
	if left() != 1 {
		t.Error("the renaming taken back, and no conflict")
	}
	s.writeBase(record.JointRetired, "j1", c.Sides[0].Joint.Event, record.Reason{Why: "twice"})
	if left() != 0 {
		t.Error("retired, and still a conflict")
	}
}

// A program, a name and a site in conflict are called by their fixture.
func TestWhatAConflictIsCalled(t *testing.T) {
	s := newStory(t)
	later := workedProgram()
	for i := range 2 {
		s.by, s.log, s.seq = "person-a", []string{"log-b", "log-c"}[i], 0
		later.Test = float64(20 + i)
		s.writeBase(record.ProgramSet, "", s.program, later)
		s.writeBase(record.FixtureMoved, "", "event-1", record.Move{Site: []string{"site-b", siteID}[i]})
	}
	for _, c := range must[Conflicts](t)(s.desk().Conflicts(ConflictsQuestion{})).Conflicts {
		if c.Name != "Worked station" || (c.Field != "program" && c.Field != "site") || len(c.Sides) != 2 {
			t.Errorf("%+v", c)
		}
	}
}

// A clock that is more than five minutes off is told, and never decides the
// order of a list.
func TestAClockThatIsOffIsTold(t *testing.T) {
	s := leaking(t)
	s.look("l2", "j2", record.Look{Result: record.Gross})
	order := func() string {
		out := ""
		for _, f := range must[Findings](t)(s.desk().Findings(FindingsQuestion{})).Findings {
			out += f.ID
		}
		return out
	}
	if got := order(); got != "l2l1" {
		t.Fatalf("newest first: %s", got)
	}
	for offset, want := range map[int64]int{0: 0, 299_000: 0, -300_000: 0, 301_000: 5, -301_000: -5, 86_400_000: 1440} {
		fresh := leaking(t)
		last := fresh.events[len(fresh.events)-1]
		fresh.book.AddReceived(last, journal.Receipt{N: 1, At: last.Time, Offset: offset, From: "d"})
		if got := fresh.finding("l1").Card.Seen; got.ClockOff != want || got.Time != last.Time {
			t.Errorf("%d ms off: %+v, want %d minutes and the device's own time", offset, got, want)
		}
	}
	last := s.events[len(s.events)-1]
	s.book.AddReceived(last, journal.Receipt{N: 1, At: last.Time, Offset: 3_600_000, From: "d"})
	if got := order(); got != "l1l2" {
		t.Errorf("l2 came from a clock an hour ahead, so it is the older one: %s", got)
	}
}

// Story, strip and rounds are shown in the corrected order too.
func TestListsFollowTheCorrectedTime(t *testing.T) {
	s := leaking(t)
	s.write(record.FindingMended, "l1", record.Mend{When: "later", Cause: "loose", Action: "tightened"})
	s.round("r2", worked())
	s.write(record.LookMade, "l9", record.Look{Round: "r2", Joint: "j1", Result: record.None, Stayed: true, Back: true})
	for _, e := range s.events {
		if e.Kind == string(record.FindingMended) || e.About.Of == "r2" || e.About.Of == "l9" {
			s.book.AddReceived(e, journal.Receipt{N: 1, At: e.Time, Offset: 7_200_000, From: "d"})
		}
	}
	if r := must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"})); r.Joints[0].Before != Ring {
		t.Errorf("before r1: %s; by the corrected time r2 was before it", r.Joints[0].Before)
	}
	f := must[Fixture](t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID}))
	if f.Rounds[0].ID != "r1" || f.Joints[0].History[0].Round != "r2" {
		t.Errorf("rounds %+v, history %+v", f.Rounds, f.Joints[0].History)
	}
	if story := s.finding("l1").Story; story[0].What != StepMended || story[2].What != StepSeen {
		t.Errorf("story %+v", story)
	}
}
