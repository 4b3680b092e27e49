package dome_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/bubble"
	"jointwalk/calc/dome"
	"jointwalk/calc/gas"
	"jointwalk/calc/laws"
	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

// station is the ambient of the worked station: 101.325 kPa, 23 °C.
var station = gas.Ambient{Pressure: quantity.Atmosphere, Temperature: 296.15}

const std0 = "std cm3/min@0C"

func joint11() dome.Grown {
	return dome.Grown{Cap: dome.Cap{Base: bubble.Size{Diameter: 10e-3, U: 0.5e-3}}, Time: 8, Clock: 0.3, Ambient: station}
}

func in(t testing.TB, q quantity.MolarFlow) float64 {
	t.Helper()
	v, err := quantity.In(q, std0)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func within(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.5g, want %.5g within %g", what, got, want, tolerance)
	}
}

// The worked station, derived by hand, within 2 %: a dome that reaches 10 mm (u 0.5) in 8.0 s (u 0.3).
func TestJoint11(t *testing.T) {
	e, err := joint11().Estimate()
	if err != nil {
		t.Fatal(err)
	}
	within(t, "median", in(t, e.Molar.Median), 1.80, 0.02)
	within(t, "low", in(t, e.Molar.Lo), 1.14, 0.02)
	within(t, "high", in(t, e.Molar.Hi), 2.77, 0.02)
}

// A hemisphere of 10 mm in 8 s is 32.7 mm³/s, 1.347e-6 mol/s (worked station, derived by hand).
func TestHemisphere(t *testing.T) {
	g := joint11()
	g.Base.U, g.Clock, g.Height = 0, 0, 5e-3
	e, err := g.Estimate()
	if err != nil {
		t.Fatal(err)
	}
	within(t, "volume flow", float64(e.Volume.Median)*1e9, 32.7, 0.002)
	within(t, "molar flow", float64(e.Molar.Median), 1.347e-6, 0.0005)
	if e.Molar.Lo != e.Molar.Hi || e.Dominant != "" {
		t.Errorf("nothing varies: %+v, %s", e.Molar, e.Dominant)
	}
}

// A cap's volume by slices, which know nothing of its formula.
func TestCapBySlices(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.Float64Range(3e-3, 20e-3).Draw(t, "base")
		h := rapid.Float64Range(0.2, 1.9).Draw(t, "height over radius") * d / 2
		r := (d*d/4 + h*h) / (2 * h) // of the sphere
		const slices = 20_000
		volume := 0.0
		for i := range slices {
			z := h * (float64(i) + 0.5) / slices // below the top
			volume += math.Pi * (2*r*z - z*z) * h / slices
		}
		g := dome.Grown{Cap: dome.Cap{Base: bubble.Size{Diameter: quantity.Length(d)}, Height: quantity.Length(h)}, Time: 1, Ambient: station}
		e, err := g.Estimate()
		if err != nil {
			t.Fatal(err)
		}
		if got := float64(e.Volume.Median); math.Abs(got/volume-1) > 1e-7 {
			t.Fatalf("%v, by slices %v", got, volume)
		}
	})
}

func anyCap(t *rapid.T) dome.Cap {
	d := quantity.Length(rapid.Float64Range(4e-3, 20e-3).Draw(t, "base"))
	c := dome.Cap{Base: bubble.Size{Diameter: d, U: d * quantity.Length(rapid.Float64Range(0.01, 0.1).Draw(t, "u"))}}
	if rapid.Bool().Draw(t, "height seen") {
		c.Height = d * quantity.Length(rapid.Float64Range(0.3, 0.6).Draw(t, "height"))
		c.HeightU = c.Height * quantity.Length(rapid.Float64Range(0.01, 0.1).Draw(t, "height u"))
	}
	return c
}

func TestLawsOfOneDome(t *testing.T) {
	laws.Hold(t, laws.Kind[dome.Grown]{
		Any: func(t *rapid.T) dome.Grown {
			time := quantity.Duration(rapid.Float64Range(2, 60).Draw(t, "time"))
			clock := time * quantity.Duration(rapid.Float64Range(0.01, 0.1).Draw(t, "clock"))
			return dome.Grown{Cap: anyCap(t), Time: time, Clock: clock, Ambient: laws.Ambient(t)}
		},
		At: func(g dome.Grown) gas.Ambient { return g.Ambient },
		More: map[string]func(*dome.Grown, float64){
			"base":     func(g *dome.Grown, f float64) { g.Base.Diameter *= quantity.Length(f) },
			"hurry":    func(g *dome.Grown, f float64) { g.Time /= quantity.Duration(f); g.Clock /= quantity.Duration(f) },
			"pressure": func(g *dome.Grown, f float64) { g.Ambient.Pressure *= quantity.Absolute(f) },
			"cold":     func(g *dome.Grown, f float64) { g.Ambient.Temperature /= quantity.Temperature(f) },
		},
		Doubt: map[string]func(*dome.Grown){
			dome.InputSize:  func(g *dome.Grown) { g.Base.U *= 2 },
			dome.InputClock: func(g *dome.Grown) { g.Clock *= 2 },
		},
		Scalings: map[string]laws.Scaling[dome.Grown]{
			"twice as wide and high": {Times: 8, By: func(g *dome.Grown) {
				g.Base.Diameter, g.Base.U, g.Height, g.HeightU = 2*g.Base.Diameter, 2*g.Base.U, 2*g.Height, 2*g.HeightU
			}},
			"twice the time": {Times: 0.5, By: func(g *dome.Grown) { g.Time, g.Clock = 2*g.Time, 2*g.Clock }},
		},
	})
}

func TestLawsOfBursts(t *testing.T) {
	laws.Hold(t, laws.Kind[dome.Bursting]{
		Any: func(t *rapid.T) dome.Bursting {
			time := quantity.Duration(rapid.Float64Range(5, 120).Draw(t, "time"))
			clock := time * quantity.Duration(rapid.Float64Range(0.01, 0.1).Draw(t, "clock"))
			count := bubble.Window(rapid.IntRange(2, 60).Draw(t, "n"), time, clock)
			return dome.Bursting{Cap: anyCap(t), Count: count, Ambient: laws.Ambient(t)}
		},
		At: func(b dome.Bursting) gas.Ambient { return b.Ambient },
		More: map[string]func(*dome.Bursting, float64){
			"base":  func(b *dome.Bursting, f float64) { b.Base.Diameter *= quantity.Length(f) },
			"count": func(b *dome.Bursting, _ float64) { b.Count.N++ },
		},
		Doubt: map[string]func(*dome.Bursting){
			dome.InputSize:  func(b *dome.Bursting) { b.Base.U *= 2 },
			dome.InputClock: func(b *dome.Bursting) { b.Count.Clock *= 2 },
		},
		Scalings: map[string]laws.Scaling[dome.Bursting]{
			"twice the time": {Times: 0.5, By: func(b *dome.Bursting) { b.Count.Time, b.Count.Clock = 2*b.Count.Time, 2*b.Count.Clock }},
		},
	})
}

// One dome is a train of one interval that bursts as it is.
func TestOneBurstIsOneDome(t *testing.T) {
	g := joint11()
	one, err := g.Estimate()
	if err != nil {
		t.Fatal(err)
	}
	burst := dome.Bursting{Cap: g.Cap, Count: bubble.Intervals(1, g.Time, g.Clock), Ambient: g.Ambient}
	train, err := burst.Estimate()
	if err != nil || math.Abs(float64(train.Molar.Median/one.Molar.Median)-1) > 1e-12 {
		t.Errorf("%v and %v, %v", one.Molar, train.Molar, err)
	}
}

func TestPasses(t *testing.T) {
	g := joint11()
	g.Passes = true
	e, err := g.Estimate()
	if err != nil || !e.AtLeast || len(e.Warnings) != 1 {
		t.Errorf("at least %v, %v, %v", e.AtLeast, e.Warnings, err)
	}
}

func TestFaults(t *testing.T) {
	for want, spoil := range map[string]func(*dome.Grown){
		"not-positive size":               func(g *dome.Grown) { g.Base.Diameter = 0 },
		"too-large size":                  func(g *dome.Grown) { g.Base.Diameter = 1 },
		"too-large size-uncertainty":      func(g *dome.Grown) { g.Base.U = 11e-3 },
		"not-a-number height":             func(g *dome.Grown) { g.Height = quantity.Length(math.Inf(1)) },
		"not-positive height":             func(g *dome.Grown) { g.Height = -1e-3 },
		"too-large height":                func(g *dome.Grown) { g.Height = 10.1e-3 },
		"not-positive height-uncertainty": func(g *dome.Grown) { g.Height, g.HeightU = 5e-3, -1e-3 },
		"not-positive time":               func(g *dome.Grown) { g.Time = 0 },
		"too-large clock":                 func(g *dome.Grown) { g.Clock = 9 },
		"not-positive ambient-pressure":   func(g *dome.Grown) { g.Ambient.Pressure = 0 },
	} {
		g := joint11()
		spoil(&g)
		_, err := g.Estimate()
		var fault *quantity.Fault
		if !errors.As(err, &fault) || fault.Code+" "+fault.Field != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

func ExampleGrown_Estimate() {
	e, err := joint11().Estimate()
	if err != nil {
		panic(err)
	}
	median, _ := quantity.Print(e.Molar.Median, std0, 3)
	fmt.Println(median.Number, std0+",", e.Dominant, "makes it wide")
	// Output: 1.80 std cm3/min@0C, height makes it wide
}

func ExampleBursting_Estimate() {
	b := dome.Bursting{Cap: dome.Cap{Base: bubble.Measured(8e-3)}, Count: bubble.Window(15, 30, bubble.ClockByHand), Ambient: station}
	e, err := b.Estimate()
	if err != nil {
		panic(err)
	}
	median, _ := quantity.Print(e.Molar.Median, std0, 2)
	fmt.Println(median.Number, std0)
	// Output: 3.7 std cm3/min@0C
}
