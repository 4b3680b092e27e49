package summary

import (
	"math"
	"slices"
	"testing"

	"jointwalk/calc/quantity"
	"jointwalk/sync/record"
)

func ml(value float64) *record.Amount { return &record.Amount{Value: value, Unit: "mL"} }

func overWater() *record.Observation {
	return &record.Observation{Medium: "water", How: "collected", Seconds: 60, Volume: ml(20), Size: record.Size{As: "none"}}
}

// The worked example of calc/collect (an open textbook of general chemistry, from memory): of 0.200 L over water at 26 °C and
// 750 torr, 725 torr are gas without vapour.
func TestGasCollectedOverWater(t *testing.T) {
	o := overWater()
	o.Volume = &record.Amount{Value: 0.2, Unit: "L"}
	s := scene{conditions: record.Conditions{
		Gas: "air", Ambient: record.Amount{Value: 26, Unit: "degC"}, Barometer: &record.Amount{Value: 750 * 0.13332237, Unit: "kPa"},
	}}
	e := sizeUp(o, s)
	if e.Figure == nil {
		t.Fatalf("%+v", e)
	}
	want := 725 * 133.32237 * 0.2e-3 / (8.314462618 * 299.15) / 60
	if got := e.Figure.MolPerSecond[0]; math.Abs(got/want-1) > 0.003 { // three printed digits
		t.Errorf("%g mol/s, want %g", got, want)
	}
}

// A level that stands higher inside holds less gas; one that was read is surer than one that was not.
func TestHeadAndVapourOfAMeasure(t *testing.T) {
	median := func(change func(*record.Observation)) (median, width float64) {
		o := overWater()
		change(o)
		m := sizeUp(o, scene{conditions: worked()}).Figure.MolPerSecond
		return m[0], m[2]/m[1] - 1
	}
	unread, wide := median(func(*record.Observation) {})
	level, narrow := median(func(o *record.Observation) { o.Head = &record.Amount{Value: 0, Unit: "mm"} })
	high, _ := median(func(o *record.Observation) { o.Head = &record.Amount{Value: 8, Unit: "in"} })
	if math.Abs(unread/level-1) > 1e-3 || narrow >= wide {
		t.Errorf("%g and %g, %g and %g", unread, level, wide, narrow)
	}
	if lost := 1 - high/level; math.Abs(lost-0.0203) > 0.002 { // 203.2 mm of water are 1.99 kPa of the 98.5 that are not vapour
		t.Errorf("a head of 8 in takes %g", lost)
	}
}

// A dome of half a sphere on 10 mm holds (2/3) π (5 mm)³ = 261.8 mm³ (any geometry handbook): grown in 8 s at 23 °C and
// 101.325 kPa that is pV/(RTt) = 1.346e-6 mol/s. Where its height was not seen, a hemisphere is the middle of what is taken, and
// less is known.
func TestADomeIsSized(t *testing.T) {
	o := record.Observation{Medium: "film", How: "dome", Seconds: 8, Size: record.Size{As: "diameter", Diameter: mm(10)}, Height: mm(5)}
	seen := sizeUp(&o, scene{conditions: worked(), circuit: "test"})
	o.Height = nil
	unseen := sizeUp(&o, scene{conditions: worked(), circuit: "test"})
	if seen.Figure == nil || unseen.Figure == nil {
		t.Fatalf("cannot say %q, %q", seen.CannotSay, unseen.CannotSay)
	}
	want := 101325 * 261.8e-9 / (8.314462618 * 296.15) / 8
	a, b := seen.Figure.MolPerSecond, unseen.Figure.MolPerSecond
	if math.Abs(a[0]/want-1) > 0.02 || math.Abs(b[0]/want-1) > 0.02 || b[2]/b[1] <= a[2]/a[1] || !seen.ByEye {
		t.Errorf("%v and %v, want %g", a, b, want)
	}
	o.Height = mm(11)
	if e := sizeUp(&o, scene{conditions: worked()}); e.CannotSay != "height-"+quantity.CodeTooLarge {
		t.Errorf("higher than it is wide: %+v", e)
	}
}

// Froth 2 mm high on a disc of 10 mm is 157.1 mm³, of which 0.64 to 0.90 are gas (calc/froth): in 60 s, by the gas law.
func TestFrothIsSized(t *testing.T) {
	o := record.Observation{Medium: "film", How: "froth", Seconds: 60, Size: record.Size{As: "diameter", Diameter: mm(10)}, Height: mm(2)}
	e := sizeUp(&o, scene{conditions: worked(), circuit: "test"})
	if e.Figure == nil || !slices.Contains(e.Warnings, "froth-collapses") || !e.ByEye {
		t.Fatalf("%+v", e)
	}
	whole := 101325 * 157.08e-9 / (8.314462618 * 296.15) / 60
	m := e.Figure.MolPerSecond
	if m[0] < 0.70*whole || m[0] > 0.84*whole || m[2]/m[1] < 1.5 {
		t.Errorf("%v, and the froth grew by %g", m, whole)
	}
	o.Height = nil
	if e := sizeUp(&o, scene{}); e.CannotSay != "height-"+quantity.CodeNotPositive {
		t.Errorf("%+v", e)
	}
}

// Only of what rests on bubbles sized by eye it says that bubbles measure roughly.
func TestByEyeIsTold(t *testing.T) {
	pointed, seen := record.Size{As: "picture", Picture: straightOn()}, record.Size{As: "ring", Diameter: mm(3)}
	for _, c := range []struct {
		how         string
		first, more record.Size
		want        bool
	}{
		{"ten", seen, seen, true}, {"ten", pointed, seen, true}, {"ten", seen, pointed, true}, {"ten", pointed, pointed, false},
		{"collected", record.Size{As: "none"}, record.Size{}, false}, {"class", record.Size{As: "none"}, record.Size{}, false},
	} {
		o := record.Observation{Medium: "film", How: c.how, Count: 12, Seconds: 20, Size: c.first, Volume: ml(20), Class: "string"}
		if c.more.As != "" {
			o.MoreSizes = []record.Size{c.more}
		}
		if e := sizeUp(&o, scene{conditions: worked()}); e.Figure == nil || e.ByEye != c.want {
			t.Errorf("%s by %s and %q: by eye %v, %s", c.how, c.first.As, c.more.As, e.ByEye, e.CannotSay)
		}
	}
}

// The classes' ends are calc/class's own: here only that each is sized, wide, and said to be judgement.
func TestAClassIsAWideFigure(t *testing.T) {
	last := 0.0
	for _, code := range record.Classes {
		e := sizeUp(&record.Observation{Medium: "film", How: "class", Class: code, Size: record.Size{As: "none"}}, scene{conditions: worked(), circuit: "test"})
		if e.Figure == nil || !slices.Contains(e.Warnings, "class-by-judgement") || slices.Contains(e.Warnings, WarnAtLeast) != (code == "blown-off") {
			t.Fatalf("%s: %+v", code, e)
		}
		m := e.Figure.MolPerSecond
		if m[0] <= last || m[2]/m[1] < 50 {
			t.Errorf("%s: %v", code, m)
		}
		last = m[0]
	}
	if e := sizeUp(&record.Observation{How: "class", Class: "weather"}, scene{}); e.CannotSay == "" {
		t.Errorf("%+v", e)
	}
	if e := sizeUp(&record.Observation{How: "collected", Medium: "water", Seconds: 1}, scene{}); e.CannotSay != "volume-"+quantity.CodeNotPositive {
		t.Errorf("%+v", e)
	}
}

// Each spot of a joint is a finding with a name of its own; the joint's mark is the gravest, its figure says how many leak and
// adds them up: two of joint 7's 0.345 std cm³/min are 0.69.
func TestSpotsOfAJointStandApart(t *testing.T) {
	s := leaking(t)
	joint := func() RoundJoint { return must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"})).Joints[0] }
	if j := joint(); len(j.Spots) != 1 || j.Spots[0].Spot != "" || j.NextSpot != "2" || j.Leaking != 1 || j.Together != "" {
		t.Errorf("one spot: %+v", j)
	}
	s.look("l2", "j1", record.Look{Result: record.Leaks, Spot: "2", Seconds: 20, Observation: joint7()})
	j := joint()
	if len(j.Spots) != 2 || j.Spots[0].Spot != "1" || j.Spots[0].Named != "" || j.Spots[1].Spot != "2" || j.NextSpot != "3" || j.Leaking != 2 {
		t.Errorf("two spots: %+v", j)
	}
	near(t, "together", j.Together, 0.69, 0.02)
	s.write(record.FindingMended, "l2", record.Mend{When: "on-spot", Cause: "loose", Action: "tightened"})
	s.write(record.LookMade, "l3", record.Look{Round: "r1", Joint: "j1", Result: record.None, Seconds: 60, Stayed: true, Back: true, Second: "l2"})
	if j := joint(); j.Finding != "l1" || j.Spots[1].State != "on-spot" || j.Mark != Drop || j.Leaking != 1 {
		t.Errorf("one mended: %+v", j)
	}
}

// Both spots count in what the fixture says, and in its list of joints; findings tell them apart.
func TestSpotsCountInTheSentence(t *testing.T) {
	s := leaking(t)
	s.look("l2", "j1", record.Look{Result: record.Leaks, Spot: "2", Seconds: 20, Observation: joint7()})
	f := must[Fixture](t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID}))
	near(t, "sum", f.Says[0].Args["sum"], 0.69, 0.02)
	if f.Says[0].Args["n"] != "1" || f.Joints[0].Standing != 2 {
		t.Errorf("says %+v, %d standing", f.Says[0], f.Joints[0].Standing)
	}
	if f.Findings[0].Spot != "1" || f.Findings[1].Spot != "2" {
		t.Errorf("findings %+v", f.Findings)
	}
	s.write(record.FindingReviewed, "l2", record.Review{Verdict: "accept"})
	f = must[Fixture](t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID}))
	near(t, "sum", f.Says[0].Args["sum"], 0.345, 0.02)
	s.write(record.FindingMended, "l1", record.Mend{When: "later", Cause: "loose", Action: "tightened"})
	s.write(record.FindingMended, "l2", record.Mend{When: "later", Cause: "loose", Action: "tightened"})
	f = must[Fixture](t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID}))
	if codes(f.Says) != SayWaiting+" "+SayNotLooked {
		t.Errorf("both mended: %s", codes(f.Says))
	}
}

// Of a joint's spots the worst decides how it is shown, in the round, on the fixture and at home: what leaks before what waits
// for its second look, and that before what was accepted, whichever was found last.
func TestTheWorstSpotDecides(t *testing.T) {
	s := leaking(t)
	s.look("l2", "j1", record.Look{Result: record.Leaks, Spot: "2", Seconds: 20, Observation: joint7()})
	shown := func(finding, state string, mark Mark, says string) {
		t.Helper()
		d := s.desk()
		r := must[Round](t)(d.Round(RoundQuestion{ID: "r1"}))
		f := must[Fixture](t)(d.Fixture(FixtureQuestion{ID: fixtureID}))
		home := must[Home](t)(d.Home(HomeQuestion{})).Sites[0].Fixtures[0]
		if j := r.Joints[0]; j.Finding != finding || j.State != state || j.Mark != mark || r.Says[1].Code != says {
			t.Errorf("round: %s %s %s, %s; want %s %s %s, %s", j.Finding, j.State, j.Mark, codes(r.Says), finding, state, mark, says)
		}
		if j := f.Joints[0]; j.Finding != finding || j.State != state || j.Mark != mark || f.Says[0].Code != says {
			t.Errorf("fixture: %s %s %s, %s; want %s %s %s, %s", j.Finding, j.State, j.Mark, codes(f.Says), finding, state, mark, says)
		}
		if home.Mark != mark || home.Says[0].Code != says {
			t.Errorf("home: %s, %s; want %s, %s", home.Mark, codes(home.Says), mark, says)
		}
	}
	s.write(record.FindingReviewed, "l2", record.Review{Verdict: "accept"})
	shown("l1", "open", Drop, SayLeaksShare)
	s.mendLater("")
	shown("l1", "waiting", Waiting, SayWaiting)
	s.look("l3", "j1", record.Look{Result: record.Leaks, Spot: "3", Seconds: 20, Observation: joint7()})
	shown("l3", "open", Drop, SayLeaksShare)
	s.look("l4", "j1", record.Look{Result: record.Gross, Spot: "4"})
	s.look("l5", "j1", record.Look{Result: record.Leaks, Spot: "5", Seconds: 20, Observation: joint7()})
	shown("l4", "open", Burst, SayGross)
}

// A round that is over says what it saw, though a later one stands for the leaks now.
func TestSpotsOfAnEarlierRound(t *testing.T) {
	s := leaking(t)
	s.look("l2", "j1", record.Look{Result: record.Leaks, Spot: "2", Seconds: 20, Observation: joint7()})
	s.round("r2", worked())
	s.write(record.LookMade, "l3", record.Look{Round: "r2", Joint: "j1", Result: record.Leaks, Stayed: true, Back: true, Observation: joint7()})
	r := must[Round](t)(s.desk().Round(RoundQuestion{ID: "r1"}))
	near(t, "sum", r.Says[1].Args["sum"], 0.69, 0.02)
	f := must[Fixture](t)(s.desk().Fixture(FixtureQuestion{ID: fixtureID}))
	near(t, "sum now, one of each", f.Says[0].Args["sum"], 0.69, 0.02)
}

// One bubble in a window is ± 1: the estimate says how many to count instead.
func TestItSaysHowFarToCount(t *testing.T) {
	few := joint7()
	few.How, few.Count, few.Seconds = "window", 1, 4
	e := sizeUp(few, scene{conditions: worked()})
	if e.Advice != "count-on" || e.CountTo < 2 {
		t.Fatalf("%s, count to %d", e.Advice, e.CountTo)
	}
	more := joint7()
	more.How, more.Count, more.Seconds = "window", e.CountTo, 4*float64(e.CountTo)
	if e := sizeUp(more, scene{conditions: worked()}); e.Advice == "count-on" || e.CountTo != 0 {
		t.Errorf("at that count: %s, count to %d", e.Advice, e.CountTo)
	}
}

func TestWhatGoesOnVentedIsNoLeakOfTheStation(t *testing.T) {
	s := newStory(t)
	s.round("r1", worked())
	s.look("l1", "j1", record.Look{Result: record.Leaks, Vented: "went-on", Rewets: 2, Seconds: 20, Observation: joint7()})
	f := must[Finding](t)(s.desk().Finding(FindingQuestion{ID: "l1"}))
	if f.Vented != "went-on" || f.Rewets != 2 || !slices.Equal(f.Estimate.Warnings, []string{WarnWentOn}) {
		t.Errorf("%+v", f)
	}
}
