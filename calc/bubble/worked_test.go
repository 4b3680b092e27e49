package bubble_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"jointwalk/calc/bubble"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/calc/share"
)

// station is the ambient of the worked station: 101.325 kPa, 23 °C.
var station = gas.Ambient{Pressure: quantity.Atmosphere, Temperature: 296.15}

const std0 = "std cm3/min@0C"

// joint7 is joint 7 of the worked station: 12 intervals in 20.0 s (u 0.3), 3.0 mm (u 0.3).
func joint7() bubble.Train {
	return bubble.Train{
		Medium:  bubble.Film,
		Count:   bubble.Intervals(12, 20, 0.3),
		Size:    bubble.Size{Diameter: 3e-3, U: 0.3e-3},
		Ambient: station,
	}
}

func estimate(t testing.TB, train bubble.Train) bubble.Estimate {
	t.Helper()
	e, err := train.Estimate()
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// within fails when got is further than a share of want from it.
func within(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.5g, want %.5g within %g", what, got, want, tolerance)
	}
}

// The worked station is derived by hand: a consistency check, within 2 %.
func TestJoint7(t *testing.T) {
	window := joint7()
	window.Count = bubble.Window(12, 20, 0.3)
	taps := joint7()
	var at []quantity.Duration
	for i := range 13 {
		at = append(at, 5+quantity.Duration(i)*20/12)
	}
	taps.Count = bubble.Taps(at, 0.3)
	for name, train := range map[string]bubble.Train{"intervals": joint7(), "window": window, "taps": taps} {
		e := estimate(t, train)
		in := func(q quantity.MolarFlow) float64 { v, _ := quantity.In(q, std0); return v }
		within(t, name+" median", in(e.Molar.Median), 0.345, 0.02)
		within(t, name+" low", in(e.Molar.Lo), 0.16, 0.02)
		within(t, name+" high", in(e.Molar.Hi), 0.67, 0.02)
		if e.Dominant != bubble.InputSize || e.Advice != bubble.AdviceSizeAgain {
			t.Errorf("%s: %s dominates, advice %s", name, e.Dominant, e.Advice)
		}
	}
}

// A sphere of joint 7 gives 8.48 mm³/s or 0.469 std cm³/min.
func TestJoint7AsSphere(t *testing.T) {
	train := joint7()
	train.Medium = bubble.Water
	e := estimate(t, train)
	within(t, "sphere", float64(e.Volume.Median)*1e9, 8.48, 0.002)
	v, _ := quantity.In(e.Molar.Median, std0)
	within(t, "sphere", v, 0.469, 0.002)
}

func TestJoint7ShareOfLimit(t *testing.T) {
	limit, _ := quantity.Parse[quantity.MolarFlow]("2.00", std0)
	e := estimate(t, joint7())
	f, err := share.Of(e.Molar, limit)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "median", f.Median, 0.345/2, 0.02)
	within(t, "low", f.Lo, 0.08, 0.02)
	within(t, "high", f.Hi, 0.335, 0.02)
}

func TestSampleIsTheFigure(t *testing.T) {
	e := estimate(t, joint7())
	within(t, "median", e.Sample.Quantile(0.5), float64(e.Molar.Median), 1e-12)
	within(t, "low", e.Sample.Quantile(0.025), float64(e.Molar.Lo), 1e-12)
	within(t, "high", e.Sample.Quantile(0.975), float64(e.Molar.Hi), 1e-12)
	within(t, "rate", e.Rate, 0.6, 1e-12)
}

func TestBudgetOfJoint7(t *testing.T) {
	e := estimate(t, joint7())
	var names []string
	total := 0.0
	for _, p := range e.Budget {
		names = append(names, p.Input)
		total += p.Percent
	}
	if !slices.Equal(names, []string{"size", "shape", "count", "clock"}) {
		t.Errorf("the budget has %v", names)
	}
	within(t, "total", total, 100, 1e-12)
	// By hand: ln d³ has about (3 × 0.1)² (1 + …) of variance, ln of 0.5 to 1 has
	// 1 − 2 ln² 2 = 0.0391, ln t (0.3/20)².
	within(t, "shape over size", e.Budget[1].Percent/e.Budget[0].Percent, 0.0391/0.0923, 0.02)
	within(t, "clock over shape", e.Budget[3].Percent/e.Budget[1].Percent, 0.000225/0.0391, 0.02)
}

func TestAdvice(t *testing.T) {
	few := joint7()
	few.Count = bubble.Window(2, 3, 0.3)
	few.Size.U = 0.1e-3
	if e := estimate(t, few); e.Advice != bubble.AdviceCountOn || e.Dominant != bubble.InputCount {
		t.Errorf("two in a window: %s, %s", e.Advice, e.Dominant)
	}
	hasty := joint7()
	hasty.Count = bubble.Intervals(2, 1, 0.5)
	if e := estimate(t, hasty); e.Advice != bubble.AdviceCountOn || e.Dominant != bubble.InputClock {
		t.Errorf("half a second of doubt in one: %s, %s", e.Advice, e.Dominant)
	}
	sure := joint7()
	sure.Size.U = 0.05e-3
	if e := estimate(t, sure); e.Advice != bubble.AdviceEnough || e.Dominant != bubble.InputShape {
		t.Errorf("only the shape is left: %s, %s", e.Advice, e.Dominant)
	}
	narrow := sure
	narrow.Medium = bubble.Water
	if e := estimate(t, narrow); e.Advice != bubble.AdviceEnough {
		t.Errorf("±10 %% is enough, advice %s", e.Advice)
	}
	exact := bubble.Train{Medium: bubble.Water, Count: bubble.Intervals(10, 20, 0), Size: bubble.Size{Diameter: 3e-3}, Ambient: station}
	e := estimate(t, exact)
	if e.Advice != bubble.AdviceEnough || e.Dominant != "" || e.Molar.Lo != e.Molar.Hi {
		t.Errorf("nothing varies: %s, %q, %+v", e.Advice, e.Dominant, e.Molar)
	}
}

func TestWarnings(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*bubble.Train)
		want   []string
	}{
		"none":        {func(*bubble.Train) {}, nil},
		"three":       {func(b *bubble.Train) { b.Count = bubble.Intervals(30, 10, 0.3) }, nil},
		"fast":        {func(b *bubble.Train) { b.Count = bubble.Intervals(31, 10, 0.3) }, []string{"too-fast-for-an-eye"}},
		"few":         {func(b *bubble.Train) { b.Count = bubble.Window(4, 20, 0.3) }, []string{"few-bubbles"}},
		"vague":       {func(b *bubble.Train) { b.Size = bubble.Measured(1e-3) }, []string{"size-vague"}},
		"rough":       {func(b *bubble.Train) { b.Count = bubble.Intervals(5, 2, 0.3) }, []string{"clock-rough"}},
		"few and all": {func(b *bubble.Train) { b.Count = bubble.Intervals(4, 1, 0.3) }, []string{"too-fast-for-an-eye", "few-bubbles", "clock-rough"}},
	} {
		train := joint7()
		c.change(&train)
		if got := estimate(t, train).Warnings; !slices.Equal(got, c.want) {
			t.Errorf("%s: got %v, want %v", name, got, c.want)
		}
	}
}

func ExampleTrain_Estimate() {
	e, err := joint7().Estimate()
	if err != nil {
		panic(err)
	}
	number := func(q quantity.MolarFlow, digits int) string {
		p, _ := quantity.Print(q, std0, digits)
		return p.Number
	}
	fmt.Println(number(e.Molar.Median, 3), "from", number(e.Molar.Lo, 2), "to", number(e.Molar.Hi, 2), std0)
	fmt.Printf("%s makes %.0f %% of it: %s\n", e.Dominant, e.Budget[0].Percent, e.Advice)
	// Output:
	// 0.345 from 0.16 to 0.66 std cm3/min@0C
	// size makes 70 % of it: size-again
}

// Counting on to CountTo leaves the size, not the count, as what the width comes from; a tenth fewer would not.
func TestCountTo(t *testing.T) {
	for name, c := range map[string]bubble.Count{
		"window": bubble.Window(2, 8, 0.3),
		"clock":  bubble.Intervals(1, 0.6, 0.3),
		"taps":   bubble.Taps([]quantity.Duration{0, 1, 3, 4, 8}, 0.15),
	} {
		few := bubble.Train{Medium: bubble.Film, Count: c, Size: bubble.Size{Diameter: 3e-3, U: 0.15e-3}, Ambient: gas.Usual()}
		e := estimate(t, few)
		if e.Advice != bubble.AdviceCountOn || e.CountTo <= c.N {
			t.Errorf("%s: %s, count to %d", name, e.Advice, e.CountTo)
			continue
		}
		more := few
		more.Count = c
		more.Count.N, more.Count.Time = e.CountTo, c.Time*quantity.Duration(e.CountTo)/quantity.Duration(c.N)
		if c.Way != bubble.ByTaps {
			if e := estimate(t, more); e.Advice == bubble.AdviceCountOn || e.CountTo != 0 {
				t.Errorf("%s: counted to %d it is still %s", name, more.Count.N, e.Advice)
			}
		}
	}
}
