package unseen

import (
	"math"
	"testing"

	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
)

func watched(seconds float64, path *Path) Look {
	return Look{Time: quantity.Duration(seconds), Sight: Close, Stayed: true, Around: true,
		Ambient: gas.Ambient{Pressure: quantity.Atmosphere, Temperature: 296.15}, Path: path}
}

func together(t *testing.T, looks ...Look) Bound {
	t.Helper()
	b, err := Together(looks)
	if err != nil || b.Cannot != "" {
		t.Fatalf("no bound: %v %s", err, b.Cannot)
	}
	return b
}

// The worked station: 14 joints, 30 s each, hemispheres of 1 mm, nothing seen:
// the sum is below 3.0·v/T = 0.0014 std cm³/min (0 °C), two printed digits.
// Derived by hand from the Poisson limit for zero, −ln 0.05 = 2.996.
func TestSumOfWorkedStation(t *testing.T) {
	looks := make([]Look, 14)
	for i := range looks {
		looks[i] = watched(30, nil)
	}
	b := together(t, looks...)
	got, err := quantity.In(b.Upper, "std cm3/min@0C")
	if err != nil || math.Abs(got-0.0014) > 0.00005 {
		t.Errorf("sum %.5f std cm3/min, want 0.0014 (%v)", got, err)
	}
}

func TestOneJointIsItsOwnBound(t *testing.T) {
	for _, pressure := range []quantity.Gauge{14e3, 200e3} {
		look := watched(30, WetPath(pressure))
		alone, err := look.Bound()
		if err != nil {
			t.Fatal(err)
		}
		if got := together(t, look); math.Abs(float64(got.Upper/alone.Upper)-1) > 1e-12 || got.From != alone.From {
			t.Errorf("at %v Pa: together %v from %s, alone %v from %s", pressure, got.Upper, got.From, alone.Upper, alone.From)
		}
	}
}

func TestShortestLookDecidesTheClock(t *testing.T) {
	mixed, short := together(t, watched(300, nil), watched(10, nil)), together(t, watched(10, nil))
	if mixed.Upper != short.Upper {
		t.Errorf("mixed %v, shortest alone %v", mixed.Upper, short.Upper)
	}
}

// Plugged paths add up: ten joints at 14 kPa may hide ten floors, however long
// one looks.
func TestPluggedPathsAddUp(t *testing.T) {
	path := WetPath(14e3)
	looks := make([]Look, 10)
	for i := range looks {
		looks[i] = watched(86400, path)
	}
	b := together(t, looks...)
	if want := 10 * looks[0].plugged(); math.Abs(float64(b.Upper/want)-1) > 1e-12 || b.From != FromPlugging {
		t.Errorf("together %v from %s, want %v", b.Upper, b.From, want)
	}
}

func TestOneThatCannotSaySpeaksForAll(t *testing.T) {
	gone := watched(30, nil)
	gone.Stayed = false
	if b, err := Together([]Look{watched(30, nil), gone}); err != nil || b.Cannot != CannotSolutionLeft {
		t.Errorf("bound %+v, %v", b, err)
	}
	defer func() {
		if recover() == nil {
			t.Error("no looks must panic")
		}
	}()
	Together(nil)
}
