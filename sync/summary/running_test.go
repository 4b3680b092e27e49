package summary

import (
	"slices"
	"testing"
	"time"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

const hour = 3600_000

// at is a time of the story in ms since 1970: minute n, as the events' ticks are.
func at(t *testing.T, minute int) int64 {
	t.Helper()
	when, err := time.Parse(journal.TimeLayout, "2026-03-01T10:00:00.000Z")
	if err != nil {
		t.Fatal(err)
	}
	return when.Add(time.Duration(minute) * time.Minute).UnixMilli()
}

// A round counts as left open a day after the last thing that was done in it.
func TestLeftOpen(t *testing.T) {
	s := leaking(t)
	last := at(t, int(s.tick))
	for _, c := range []struct {
		now  int64
		left bool
	}{{0, false}, {last, false}, {last + 24*hour, false}, {last + 24*hour + 1, true}, {last + 100*hour, true}} {
		d := s.desk()
		d.Now = c.now
		r := must[Round](t)(d.Round(RoundQuestion{ID: "r1"}))
		f := must[Fixture](t)(d.Fixture(FixtureQuestion{ID: fixtureID}))
		if got := r.Left != nil; got != c.left || (f.Running[0].Left != nil) != c.left {
			t.Errorf("%d h after the last look: left %v, want %v", (c.now-last)/hour, got, c.left)
		}
		if r.Left != nil && r.Left.Time != s.events[len(s.events)-1].Time {
			t.Errorf("left since %s, want the last look's time", r.Left.Time)
		}
	}
}

// What a round that was left open for days says once it is closed.
func TestClosedLate(t *testing.T) {
	s := leaking(t)
	s.tick += 30 * 60
	s.late("r1", "forgotten before the weekend", "2026-03-03T10:00:00.000Z")
	r := must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"}))
	if r.Left == nil || r.Ended == nil || r.EndNote != "forgotten before the weekend" {
		t.Errorf("left %v, ended %v, note %q", r.Left, r.Ended, r.EndNote)
	}
}

// late ends a round at a time of its own.
func (s *story) late(round, note, when string) {
	s.t.Helper()
	s.write(record.RoundEnded, round, record.RoundEnd{PutBack: []string{}, Note: note})
	s.events[len(s.events)-1].Time = when
	s.book = record.NewBook()
	for _, e := range s.events {
		s.book.Add(e)
	}
}

func TestGivenUpBeforeAnyLook(t *testing.T) {
	s := newStory(t)
	s.round("r1", worked())
	says := func() []Phrase { return must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"})).Says }
	if got := says(); got[0].Code != SayRoundOpen {
		t.Errorf("open: %v", got)
	}
	s.write(record.RoundEnded, "r1", record.RoundEnd{PutBack: []string{}})
	if got := says(); len(got) != 1 || got[0].Code != SayGivenUp {
		t.Errorf("ended: %v", got)
	}
}

// A round keeps the program that it began with, and says while it is open that there
// is another.
func TestProgramChangedDuringARound(t *testing.T) {
	s := leaking(t)
	round := func() Round { return must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"})) }
	if r := round(); r.Changed != nil || r.Program.ID != s.program {
		t.Errorf("unchanged: %+v, program %s", r.Changed, r.Program.ID)
	}
	p := workedProgram()
	p.LimitRate.Value = 4
	s.write(record.ProgramSet, "", p)
	r := round()
	if r.Changed == nil || r.Changed.Name != "Somebody" || r.Program.ID != s.program || r.Program.Limit != "2.00" {
		t.Errorf("changed: %+v, program %+v", r.Changed, r.Program)
	}
	s.write(record.RoundEnded, "r1", record.RoundEnd{PutBack: []string{}})
	if r := round(); r.Changed != nil {
		t.Error("a round that is over has nothing to keep")
	}
}

// mendLater mends the leak of leaking.
func (s *story) mendLater(spare string) {
	s.write(record.FindingMended, "l1", record.Mend{When: "later", Vented: true, Cause: "seal-worn", Action: "seal-replaced", Spare: spare})
}

// A repair that waits for its second look stands out wherever its joint or finding is.
func TestWaitingStandsOut(t *testing.T) {
	s := leaking(t)
	s.look("l2", "j2", record.Look{Result: record.Gross})
	s.mendLater("seal 6")
	s.round("r2", worked())
	d := s.desk()
	home := must[Home](t)(d.Home(HomeQuestion{})).Sites[0].Fixtures[0]
	if home.Waiting != 1 || home.Mark != Burst || home.Says[1].Code != SayWaiting {
		t.Errorf("home: %d waiting, mark %s, says %+v", home.Waiting, home.Mark, home.Says)
	}
	joint := must[Round](t)(d.Round(RoundQuestion{ID: "r2"})).Joints[0]
	if joint.Waits != "l1" || joint.Mark != Blank || joint.Finding != "" {
		t.Errorf("in a later round: %+v", joint)
	}
	found := must[Findings](t)(d.Findings(FindingsQuestion{Only: "waiting"})).Findings
	if len(found) != 1 || found[0].ID != "l1" || found[0].State != "waiting" || found[0].Mark != Waiting {
		t.Errorf("waiting findings: %+v", found)
	}
	f := must[Finding](t)(d.Finding(FindingQuestion{ID: "l1"}))
	if last := f.Story[len(f.Story)-1]; last.Spare != "seal 6" || !slices.Equal(f.Spares, []string{"seal 6"}) {
		t.Errorf("spare: %+v, proposed %v", last, f.Spares)
	}
	s.write(record.LookMade, "l3", record.Look{Round: "r2", Joint: "j1", Result: record.None, Seconds: 60, Stayed: true, Back: true})
	d = s.desk()
	if joint := must[Round](t)(d.Round(RoundQuestion{ID: "r2"})).Joints[0]; joint.Waits != "" || joint.Mark != Ring {
		t.Errorf("closed by the later round's look: %+v", joint)
	}
	if n := must[Home](t)(d.Home(HomeQuestion{})).Sites[0].Fixtures[0].Waiting; n != 0 {
		t.Errorf("%d waiting, want none", n)
	}
}

// A second look at which nothing was seen, but which closes nothing, says why.
func TestWhyASecondLookClosesNothing(t *testing.T) {
	for _, c := range []struct {
		look record.Look
		want string
	}{
		{record.Look{Stayed: true, Back: true, Wetted: "before"}, record.WetBefore},
		{record.Look{Stayed: true, Back: true, Wetted: "vented"}, record.WetVented},
		{record.Look{Back: true, Wetted: "after"}, record.RanOff},
		{record.Look{Stayed: true, Wetted: "after"}, record.NotAround},
		{record.Look{Stayed: true, Back: true, Wetted: "after", Sight: "partly"}, record.NotClose},
		{record.Look{Stayed: true, Back: true, Wetted: "after"}, ""},
	} {
		s := leaking(t)
		s.mendLater("")
		c.look.Round, c.look.Joint, c.look.Result, c.look.Seconds, c.look.Second = "r1", "j1", record.None, 60, "l1"
		s.write(record.LookMade, "l2", c.look)
		f := must[Finding](t)(s.desk().Finding(FindingQuestion{ID: "l1"}))
		codes := f.Story[len(f.Story)-1].Codes
		want, state := []string{"none"}, "gone"
		if c.want != "" {
			want, state = []string{"none", c.want}, "waiting"
		}
		if !slices.Equal(codes, want) || f.Card.Obstacle != c.want || f.Card.State != state {
			t.Errorf("%+v: codes %v, obstacle %q, state %s; want %v", c.look, codes, f.Card.Obstacle, f.Card.State, want)
		}
	}
}

// A look with the gap perhaps full of solution bounds less, and is shown as seen
// partly.
func TestWettedBeforeBoundsLess(t *testing.T) {
	bound := func(wetted string) (*Unseen, Mark) {
		s := newStory(t)
		low := worked() // at 10 kPa it is the plug that limits, not the eye
		low.Pressure.Value = 10
		s.round("r1", low)
		s.look("l1", "j1", record.Look{Result: record.None, Seconds: 60, Wetted: wetted})
		r := must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"}))
		return r.Unseen, r.Joints[0].Mark
	}
	after, ring := bound("after")
	before, half := bound("before")
	if after.High == "" || before.High == after.High || ring != Ring || half != Half {
		t.Errorf("after %+v %s, before %+v %s", after, ring, before, half)
	}
}

func TestMovedIsTold(t *testing.T) {
	s := leaking(t)
	hose := "hose A"
	for _, id := range []string{"j1", "j2"} {
		s.writeBase(record.JointEdited, id, s.book.Fixture(fixtureID).Joint(id).Base, record.JointEdit{Run: &hose})
	}
	s.look("l2", "j2", record.Look{Result: record.None, Seconds: 60})
	s.mendLater("")
	joints := must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"})).Joints
	if !slices.Equal(joints[0].Moved, []string{"j2"}) || joints[1].Moved != nil {
		t.Errorf("moved %v and %v", joints[0].Moved, joints[1].Moved)
	}
	if run := must[Fixture](t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID})).Joints[0].Run; run != hose {
		t.Errorf("run %q", run)
	}
}

// Of a fixture with a leak and a repair that waits, the repair is told first: it is
// nearest to being closed, and forgotten soonest.
func TestWaitingIsToldBeforeLeaks(t *testing.T) {
	s := leaking(t)
	s.look("l2", "j2", record.Look{Result: record.Leaks, Seconds: 20, Observation: joint7()})
	s.mendLater("")
	says := must[Fixture](t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID})).Says
	if says[0].Code != SayWaiting || says[1].Code != SayLeaksShare {
		t.Errorf("says %+v", says)
	}
}
