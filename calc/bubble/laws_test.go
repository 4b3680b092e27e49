package bubble_test

import (
	"math"
	"testing"

	"jointwalk/calc/bubble"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

// anyTrain is a train as people meet them.
func anyTrain(t *rapid.T) bubble.Train {
	d := quantity.Length(rapid.Float64Range(0.5e-3, 15e-3).Draw(t, "diameter"))
	clock := quantity.Duration(rapid.Float64Range(0, 0.5).Draw(t, "clock"))
	time := quantity.Duration(rapid.Float64Range(3, 120).Draw(t, "time"))
	n := rapid.IntRange(1, 200).Draw(t, "n")
	count := bubble.Intervals(n, time, clock)
	if rapid.Bool().Draw(t, "window") {
		count = bubble.Window(n, time, clock)
	}
	return bubble.Train{
		Medium:  rapid.SampledFrom([]bubble.Medium{bubble.Film, bubble.Water}).Draw(t, "medium"),
		Count:   count,
		Size:    bubble.Size{Diameter: d, U: d * quantity.Length(rapid.Float64Range(0, 0.4).Draw(t, "u"))},
		Ambient: gas.Ambient{Pressure: quantity.Absolute(rapid.Float64Range(7e4, 1.1e5).Draw(t, "p")), Temperature: quantity.Temperature(rapid.Float64Range(260, 320).Draw(t, "T"))},
	}
}

func mustEstimate(t *rapid.T, train bubble.Train) bubble.Estimate {
	e, err := train.Estimate()
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func TestLawOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		e := mustEstimate(t, anyTrain(t))
		if !(0 < e.Molar.Lo && e.Molar.Lo <= e.Molar.Median && e.Molar.Median <= e.Molar.Hi) || math.IsInf(float64(e.Molar.Hi), 0) {
			t.Fatalf("disordered: %+v", e.Molar)
		}
	})
}

// What grows with an input grows at every figure.
func TestLawMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		small := anyTrain(t)
		grow := 1 + rapid.Float64Range(0.001, 1).Draw(t, "grow")
		for name, more := range map[string]func(*bubble.Train){
			"size":     func(b *bubble.Train) { b.Size.Diameter *= quantity.Length(grow) },
			"count":    func(b *bubble.Train) { b.Count.N++ },
			"pressure": func(b *bubble.Train) { b.Ambient.Pressure *= quantity.Absolute(grow) },
			"hurry":    func(b *bubble.Train) { b.Count.Time /= quantity.Duration(grow) },
			"cold":     func(b *bubble.Train) { b.Ambient.Temperature /= quantity.Temperature(grow) },
		} {
			large := small
			more(&large)
			a, b := mustEstimate(t, small).Molar, mustEstimate(t, large).Molar
			if !(b.Median > a.Median && b.Lo > a.Lo && b.Hi > a.Hi) {
				t.Fatalf("%s: more of it turns %+v into %+v", name, a, b)
			}
		}
	})
}

// Twice the size is eight times the flow, exactly; twice the count in twice the
// time is the same.
func TestLawScaling(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		one := anyTrain(t)
		two := one
		two.Size.Diameter *= 2
		two.Size.U *= 2
		a, b := mustEstimate(t, one).Molar, mustEstimate(t, two).Molar
		for _, pair := range [][2]quantity.MolarFlow{{a.Lo, b.Lo}, {a.Median, b.Median}, {a.Hi, b.Hi}} {
			if math.Abs(float64(pair[1]/pair[0])/8-1) > 1e-12 {
				t.Fatalf("twice the size: %+v and %+v", a, b)
			}
		}
	})
}

// The unit in which a person reads changes nothing.
func TestLawUnits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		mm := rapid.Float64Range(0.5, 15).Draw(t, "mm")
		train := anyTrain(t)
		read := func(v float64, unit string) quantity.MolarFlow {
			d, err := quantity.Parse[quantity.Length](quantity.Number(v, 15), unit)
			if err != nil {
				t.Fatal(err)
			}
			train.Size = bubble.Measured(d)
			return mustEstimate(t, train).Molar.Median
		}
		a := read(mm, "mm")
		for unit, v := range map[string]float64{"cm": mm / 10, "m": mm / 1000, "in": mm / 25.4} {
			if b := read(v, unit); math.Abs(float64(b/a)-1) > 1e-12 {
				t.Fatalf("%v mm gives %v, in %s %v", mm, a, unit, b)
			}
		}
	})
}

// Doubling any input's uncertainty widens the interval; what it adds may be less
// than the set's resolution, so nothing narrower than that is asked.
func TestLawWidthGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sure := anyTrain(t)
		sure.Size.U = sure.Size.Diameter * quantity.Length(rapid.Float64Range(0.01, 0.2).Draw(t, "size u"))
		sure.Count.Clock = sure.Count.Time * quantity.Duration(rapid.Float64Range(0.01, 0.1).Draw(t, "clock u"))
		before := mustEstimate(t, sure)
		for input, unsure := range map[string]func(*bubble.Train){
			bubble.InputSize:  func(b *bubble.Train) { b.Size.U *= 2 },
			bubble.InputClock: func(b *bubble.Train) { b.Count.Clock *= 2 },
		} {
			train := sure
			unsure(&train)
			after := mustEstimate(t, train)
			if spanOf(after) < 0.98*spanOf(before) {
				t.Fatalf("doubled doubt of the %s narrows %v to %v", input, spanOf(before), spanOf(after))
			}
			if part(before, input) > 20 && spanOf(after) < 1.1*spanOf(before) {
				t.Fatalf("the %s makes %v %% and doubling it does nothing", input, part(before, input))
			}
			if part(after, input) <= part(before, input) {
				t.Fatalf("the %s does not gain in the budget", input)
			}
		}
	})
}

// A film's bubble holds at most a sphere and at least half of one.
func TestLawShape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		film, water := anyTrain(t), bubble.Train{}
		film.Medium = bubble.Film
		water = film
		water.Medium = bubble.Water
		ratio := mustEstimate(t, film).Molar.Median / mustEstimate(t, water).Molar.Median
		if ratio <= 0.5 || ratio >= 1 {
			t.Fatalf("a film's bubble is %v of a sphere", ratio)
		}
	})
}

func BenchmarkEstimate(b *testing.B) {
	taps := joint7()
	taps.Count = bubble.Taps(tapsOf(0.3, 5, 1, 0.2, 4, 0.6, 0.4, 4.5, 1, 2, 3, 0.5), 0.15)
	window := joint7()
	window.Count = bubble.Window(12, 20, 0.3)
	for name, train := range map[string]bubble.Train{"window": window, "random taps": taps} {
		b.Run(name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := train.Estimate(); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
