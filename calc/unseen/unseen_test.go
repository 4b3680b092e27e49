package unseen_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/calc/unseen"
	"pgregory.net/rapid"
)

var station = gas.Ambient{Pressure: quantity.Atmosphere, Temperature: 296.15}

// good is a look of 30 s at a joint that could be seen well.
func good() unseen.Look {
	return unseen.Look{Time: 30, Sight: unseen.Close, Stayed: true, Around: true, Ambient: station}
}

// fataler is a test of any make.
type fataler interface {
	Helper()
	Fatal(...any)
}

func bound(t fataler, l unseen.Look) unseen.Bound {
	t.Helper()
	b, err := l.Bound()
	if err != nil {
		t.Fatal(err)
	}
	return b
}

func std0(q quantity.MolarFlow) float64 {
	v, _ := quantity.In(q, "std cm3/min@0C")
	return v
}

// The worked station: zero bubbles of 1 mm hemispheres in 30 s bound a leak at
// 3.0 v/T = 0.0014 std cm³/min. A consistency check, to the digits printed.
func TestWorkedStation(t *testing.T) {
	b := bound(t, good())
	if got := quantity.Number(std0(b.Upper), 2); got != "0.0014" {
		t.Errorf("got %s std cm³/min, want 0.0014", got)
	}
	if b.From != unseen.FromClock || b.Cannot != "" || b.Smallest != 1e-3 {
		t.Errorf("got %+v", b)
	}
	want := 2.995732 * math.Pi * 1e-9 / 12 / 30
	if math.Abs(float64(b.Volume)/want-1) > 1e-6 {
		t.Errorf("%v m³/s, want 3.0 v/T = %v", b.Volume, want)
	}
}

func TestSight(t *testing.T) {
	partly := good()
	partly.Sight = unseen.Partly
	if ratio := bound(t, partly).Upper / bound(t, good()).Upper; math.Abs(float64(ratio)-27) > 1e-9 {
		t.Errorf("bubbles of 3 mm hold 27 times as much as those of 1 mm, not %v", ratio)
	}
}

func TestCannotSay(t *testing.T) {
	for reason, spoil := range map[string]func(*unseen.Look){
		unseen.CannotSolutionLeft: func(l *unseen.Look) { l.Stayed = false },
		unseen.CannotBackHidden:   func(l *unseen.Look) { l.Around = false },
		unseen.CannotNoTime:       func(l *unseen.Look) { l.Time = 0 },
		unseen.CannotNoSight:      func(l *unseen.Look) { l.Sight = "" },
		unseen.CannotNoPressure:   func(l *unseen.Look) { l.Path = unseen.WetPath(-80e3) },
	} {
		l := good()
		spoil(&l)
		if b := bound(t, l); b != (unseen.Bound{Cannot: reason}) {
			t.Errorf("want only %s, got %+v", reason, b)
		}
	}
	if b := bound(t, unseen.Look{Ambient: station}); b.Cannot == "" {
		t.Error("a look of which nothing is known has a limit")
	}
}

// The worked station: at 14 kPa a solution of 28 mN/m keeps channels under 8 µm
// shut, about 0.001 std cm³/min. A consistency check: 8 to its digit, "about" taken as
// 15 %.
func TestPluggingFloor(t *testing.T) {
	path := unseen.WetPath(14e3)
	if got := quantity.Number(float64(path.Diameter(1))*1e6, 1); got != "8" {
		t.Errorf("channels under %s µm stay shut, want 8", got)
	}
	l := good()
	l.Path = path
	l.Time = 3600
	b := bound(t, l)
	if b.From != unseen.FromPlugging || math.Abs(std0(b.Upper)/0.001-1) > 0.15 {
		t.Errorf("got %v std cm³/min from %s, want about 0.001 from plugging", std0(b.Upper), b.From)
	}
	if math.Abs(float64(gas.Molar(b.Volume, station)/b.Upper)-1) > 1e-12 {
		t.Error("the volume flow is not that of the limit")
	}
	// A longer clock never beats it.
	l.Time = 1e6
	if again := bound(t, l); again.Upper != b.Upper {
		t.Errorf("a longer look lowers the floor to %v", again.Upper)
	}
	// At high pressure only hair-thin paths stay shut: the clock rules.
	l.Time = 30
	l.Path = unseen.WetPath(200e3)
	if b := bound(t, l); b.From != unseen.FromClock {
		t.Errorf("at 200 kPa the limit comes from %s", b.From)
	}
}

func TestLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := good()
		l.Time = quantity.Duration(rapid.Float64Range(1, 1e4).Draw(t, "time"))
		if rapid.Bool().Draw(t, "wet") {
			l.Path = unseen.WetPath(quantity.Gauge(rapid.Float64Range(1e3, 1e6).Draw(t, "p")))
		}
		short := bound(t, l)
		l.Time *= 2
		long := bound(t, l)
		if long.Upper > short.Upper || !(long.Upper > 0) {
			t.Fatalf("a longer look says %v after %v", long.Upper, short.Upper)
		}
		if l.Path == nil && math.Abs(float64(short.Upper/long.Upper)-2) > 1e-12 {
			t.Fatal("half the time is not twice the limit")
		}
	})
}

// Leaks at the limit are missed in 5 % of simulated looks, those at twice the
// limit in a quarter of a per cent: bubbles come at random, each of the smallest
// size that is seen.
func TestLimitIsMissedInFivePerCent(t *testing.T) {
	const looks = 200_000
	r := rand.New(rand.NewPCG(3, 14))
	upper := float64(bound(t, good()).Volume)
	const hemisphere = 2.0 / 3 * math.Pi * 0.5e-3 * 0.5e-3 * 0.5e-3
	for times, want := range map[float64]float64{1: 0.05, 2: 0.0025} {
		missed := 0
		for range looks {
			if r.ExpFloat64()*hemisphere/(times*upper) > 30 {
				missed++
			}
		}
		if got := float64(missed) / looks; math.Abs(got-want) > 4*math.Sqrt(want/looks) {
			t.Errorf("%v times the limit is missed in %v of the looks, want %v", times, got, want)
		}
	}
}

func TestFaults(t *testing.T) {
	nan := math.NaN()
	for field, spoil := range map[string]func(*unseen.Look){
		"time":                func(l *unseen.Look) { l.Time = -3 },
		"ambient-pressure":    func(l *unseen.Look) { l.Ambient.Pressure = 0 },
		"ambient-temperature": func(l *unseen.Look) { l.Ambient.Temperature = quantity.Temperature(nan) },
		"pressure":            func(l *unseen.Look) { l.Path = unseen.WetPath(quantity.Gauge(nan)) },
		"tension":             func(l *unseen.Look) { l.Path = unseen.WetPath(1e5); l.Path.Tension = 0 },
		"path-length":         func(l *unseen.Look) { l.Path = unseen.WetPath(1e5); l.Path.Length = -1 },
		"viscosity":           func(l *unseen.Look) { l.Path = unseen.WetPath(1e5); l.Path.Viscosity = nan },
	} {
		l := good()
		spoil(&l)
		b, err := l.Bound()
		var f *quantity.Fault
		if !errors.As(err, &f) || f.Field != field || b != (unseen.Bound{}) {
			t.Errorf("got %+v, %v, want a fault of %s", b, err, field)
		}
	}
}

func ExampleLook_Bound() {
	b, _ := unseen.Look{Time: 30, Sight: unseen.Close, Stayed: true, Around: true, Ambient: gas.Usual()}.Bound()
	p, _ := quantity.Print(b.Upper, "std cm3/min@0C", 2)
	fmt.Println("below", p.Number, p.Unit)
	b, _ = unseen.Look{Time: 30, Sight: unseen.Close, Stayed: false, Around: true, Ambient: gas.Usual()}.Bound()
	fmt.Println("cannot say:", b.Cannot)
	// Output:
	// below 0.0015 std cm3/min@0C
	// cannot say: solution-left
}
