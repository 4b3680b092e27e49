package summary

import (
	"math"
	"slices"
	"strconv"
	"testing"

	"jointwalk/calc/bubble"
	"jointwalk/sync/record"
	"jointwalk/testdata/published"
)

func near(t *testing.T, what, got string, want, tolerance float64) {
	t.Helper()
	value, err := strconv.ParseFloat(got, 64)
	if err != nil || math.Abs(value-want) > tolerance*math.Abs(want) {
		t.Errorf("%s %q, want %v within %v", what, got, want, tolerance)
	}
}

// Joint 7 of the worked station: median 0.345, 95 % 0.16 to 0.67 std cm³/min
// (0 °C); of a limit of 2.00 that is 17 %, of the allowance of 0.20 172 %.
// Derived by hand; 2 %, and what the printed digits allow.
func TestJointSevenOfTheWorkedStation(t *testing.T) {
	s := leaking(t)
	e := must[EstimateAnswer](t)(s.desk().Estimate(EstimateQuestion{Round: "r1", Joint: "j1", Observation: *joint7()})).Estimate
	if e.CannotSay != "" || e.Figure == nil {
		t.Fatalf("cannot say: %s", e.CannotSay)
	}
	near(t, "median", e.Figure.Median, 0.345, 0.02)
	near(t, "low", e.Figure.Low, 0.16, 0.03)
	near(t, "high", e.Figure.High, 0.67, 0.02)
	near(t, "share of the limit", e.Share.Median, 17.25, 0.02)
	near(t, "share of the allowance", e.OfAllowance.Median, 172.5, 0.02)
	if e.Figure.Unit != "std cm3/min" || e.Figure.Ref != "0C" {
		t.Errorf("unit %s at %s", e.Figure.Unit, e.Figure.Ref)
	}
	if e.Dominant != "size" {
		t.Errorf("dominant %s: a tenth of the size is three tenths of the volume", e.Dominant)
	}
}

// The limit's and the allowance's ticks on a log scale from 0.001 to 100: five
// decades, so 2.00 stands at (log 2 + 3)/5 and 0.20 a fifth before it.
func TestBarPositions(t *testing.T) {
	s := leaking(t)
	bar := must[Finding](t)(s.desk().Finding(FindingQuestion{ID: "l1"})).Card.Figure.Bar
	want := (math.Log10(2) + 3) / 5
	if math.Abs(bar.Limit-want) > 1e-12 || math.Abs(bar.Limit-bar.Allowance-0.2) > 1e-12 {
		t.Errorf("limit %v, allowance %v, want %v and 0.2 before", bar.Limit, bar.Allowance, want)
	}
	if !(bar.Low < bar.Median && bar.Median < bar.High) {
		t.Errorf("bar %+v is out of order", bar)
	}
}

// ISO 5208 prints leakage in mm³/s beside bubbles per second of 5 mm (bubbles
// under water). Each row goes in as a person would enter it, and the flow on
// the screen must be the printed one, within the row's tolerance or three
// printed digits; rows too fast for an eye must say so.
func TestValveStandardRows(t *testing.T) {
	for _, c := range published.Cases(t, "bub-iso5208-") {
		rate := c.In(t, "bubble_rate")
		count := max(100, int(60*rate)) // a minute at least, so that the hand on the clock adds nothing
		o := record.Observation{Medium: "water", How: "ten", Count: count, Seconds: float64(count) / rate,
			Size: record.Size{As: "diameter", Diameter: mm(c.In(t, "bubble_diameter"))}}
		e := sizeUp(&o, scene{conditions: worked(), circuit: "test"})
		if e.Flow == nil {
			t.Errorf("%s: cannot say %s", c.ID, e.CannotSay)
			continue
		}
		near(t, c.ID, e.Flow.Median, c.Expected.Number(t), math.Max(c.RelTol, 0.005))
		if tooFast := slices.Contains(e.Warnings, "too-fast-for-an-eye"); tooFast != (rate > 3) {
			t.Errorf("%s at %v a second: too fast %v", c.ID, rate, tooFast)
		}
	}
}

// Three bubbles alike narrow the answer and leave its middle; what else could narrow it is said. A ring tells more than
// millimetres by eye. A bubble of 3/16 inch is one of 4.7625 mm (an inch is 25.4 mm, exactly).
func TestSizesOfSeveralBubbles(t *testing.T) {
	at := scene{conditions: worked(), circuit: "test"}
	span := func(e Estimate) float64 { return e.Figure.MolPerSecond[2] / e.Figure.MolPerSecond[1] }
	of := func(change func(*record.Observation)) Estimate {
		o := joint7()
		change(o)
		return sizeUp(o, at)
	}
	one := of(func(*record.Observation) {})
	three := of(func(o *record.Observation) { o.MoreSizes = []record.Size{o.Size, o.Size} })
	ring := of(func(o *record.Observation) { o.Size.As = "ring" })
	near(t, "the middle of three", three.Figure.Median, 0.345, 0.02)
	if !(span(three) < span(one) && span(ring) < span(one)) {
		t.Errorf("spans: one %v, three %v, ring %v", span(one), span(three), span(ring))
	}
	if one.Advice != bubble.AdviceSizeAgain || three.Advice != bubble.AdviceSizeBetter {
		t.Errorf("advice %s, %s", one.Advice, three.Advice)
	}
	inch := of(func(o *record.Observation) { o.Size.Diameter = &record.Amount{Value: 3.0 / 16, Unit: "in"} })
	metric := of(func(o *record.Observation) { o.Size.Diameter = mm(4.7625) })
	if inch.Figure.Median != metric.Figure.Median {
		t.Errorf("3/16 in is %s, 4.7625 mm %s", inch.Figure.Median, metric.Figure.Median)
	}
}

func TestBadObservationsSayWhy(t *testing.T) {
	for want, change := range map[string]func(*record.Observation){
		"size-not-positive":  func(o *record.Observation) { o.Size.Diameter = mm(0) },
		"size-not-a-number":  func(o *record.Observation) { o.Size.Diameter = mm(math.NaN()) },
		"size-too-large":     func(o *record.Observation) { o.MoreSizes = []record.Size{{As: "ring", Diameter: mm(101)}} },
		"unit-kind":          func(o *record.Observation) { o.Size.Diameter = &record.Amount{Value: 3, Unit: "kPa"} },
		"tube-not-positive":  func(o *record.Observation) { o.Size = record.Size{As: "tube", Share: 0.5} },
		"time-not-positive":  func(o *record.Observation) { o.Seconds = 0 },
		"count-not-positive": func(o *record.Observation) { o.Count = 0 },
		"count-way-unknown":  func(o *record.Observation) { o.How = "guess" },
		"count-too-few-taps": func(o *record.Observation) { o.How, o.Taps = "taps", []float64{1} },
	} {
		o := joint7()
		change(o)
		if e := sizeUp(o, scene{conditions: worked()}); e.CannotSay != want || e.Figure != nil {
			t.Errorf("cannot say %q, want %q", e.CannotSay, want)
		}
	}
}

func TestTheSceneWarns(t *testing.T) {
	program := workedProgram()
	vacuum := workedProgram()
	vacuum.Pressure.Value = -80
	cases := []struct {
		want    string
		scene   scene
		change  func(*record.Conditions)
		program *record.Program
	}{
		{WarnReferenceSide, scene{circuit: "reference"}, nil, &program},
		{WarnHidesLeaks, scene{circuit: "control"}, nil, &program},
		{WarnOtherCircuit, scene{circuit: "clamp"}, nil, &program},
		{WarnPassesFilm, scene{circuit: "test"}, func(c *record.Conditions) { c.Gas = "helium" }, &program},
		{WarnGasDiffers, scene{circuit: "test"}, func(c *record.Conditions) { c.Gas = "nitrogen" }, &program},
		{WarnPressureDiffers, scene{circuit: "test"}, func(c *record.Conditions) { c.Pressure.Value = 150 }, &program},
		{WarnDirection, scene{circuit: "test"}, func(c *record.Conditions) { c.Pressure.Value = 80 }, &vacuum},
	}
	for _, c := range cases {
		c.scene.conditions, c.scene.program = worked(), c.program
		if c.change != nil {
			c.change(&c.scene.conditions)
		}
		if e := sizeUp(joint7(), c.scene); !slices.Contains(e.Warnings, c.want) {
			t.Errorf("warnings %v, want %s", e.Warnings, c.want)
		}
	}
	if e := sizeUp(joint7(), scene{conditions: worked(), program: &program, circuit: "test"}); len(e.Warnings) != 0 {
		t.Errorf("the worked scene has nothing to warn of: %v", e.Warnings)
	}
}

// Only the test side adds to the instrument's reading.
func TestOnlyTheTestSideHasAShare(t *testing.T) {
	program := workedProgram()
	for _, circuit := range record.Circuits {
		e := sizeUp(joint7(), scene{conditions: worked(), program: &program, circuit: circuit})
		if has := e.Share != nil; has != (circuit == "test") {
			t.Errorf("%s: share %v", circuit, e.Share)
		}
	}
}

// 183.1 Pa in 10 s in 200 cm³ at 23 °C is 2.00 std cm³/min (0 °C): the worked
// station's limit as a drop, derived by hand.
func TestLimitAsADrop(t *testing.T) {
	program := workedProgram()
	program.LimitRate, program.LimitDrop = nil, &record.Amount{Value: 183.1, Unit: "Pa"}
	y := yardOf(&program, ambientOf(worked()))
	near(t, "limit", y.number(y.limit), 2.00, 0.002)
	near(t, "allowance", y.number(y.allowance), 0.200, 0.002)
}

func TestPercentsKeepTheirDigits(t *testing.T) {
	for part, want := range map[float64]string{0.0033: "0.33", 0.0612: "6.1", 0.1725: "17", 1.725: "173", 0.0995: "10", 12.5: "1250"} {
		if got := percent(part); got != want {
			t.Errorf("percent of %v is %s, want %s", part, got, want)
		}
	}
}

// The budget's parts are whole percents of one whole.
func TestBudgetAddsUp(t *testing.T) {
	e := sizeUp(joint7(), scene{conditions: worked()})
	sum := 0
	for _, p := range e.Budget {
		sum += p.Percent
	}
	if sum < 98 || sum > 102 {
		t.Errorf("budget %v adds up to %d %%", e.Budget, sum)
	}
}
