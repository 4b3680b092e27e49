package decay_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/decay"
	"jointwalk/calc/quantity"
	"jointwalk/testdata/published"
	"pgregory.net/rapid"
)

func within(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.6g, want %.6g within %g", what, got, want, tolerance)
	}
}

// 1 L that loses 1 kPa in 60 s at 20 °C: consistency checks.
func TestOneLitre(t *testing.T) {
	c := published.One(t, "pd-1L-1kPa-sccm0")
	test := decay.Test{
		Volume:      quantity.Volume(c.In(t, "V") * 1e-3),
		Time:        quantity.Duration(c.In(t, "dt")),
		Temperature: quantity.Temperature(c.In(t, "T")),
	}
	drop := quantity.Drop(c.In(t, "dp"))
	n, err := test.Rate(drop)
	if err != nil {
		t.Fatal(err)
	}
	at0, _ := quantity.In(n, "std cm3/min@0C")
	c.Check(t, at0)
	at20, _ := quantity.In(n, "std cm3/min@20C")
	published.One(t, "pd-1L-1kPa-sccm20").Check(t, at20)
	q, err := test.Throughput(drop)
	if err != nil {
		t.Fatal(err)
	}
	published.One(t, "pd-1L-1kPa").Check(t, q)
}

func TestHundredCubicCentimetres(t *testing.T) {
	c := published.One(t, "pd-100cc-0.1psi")
	drop, err := quantity.From[quantity.Drop](c.In(t, "dp"), "psi")
	if err != nil {
		t.Fatal(err)
	}
	volume, _ := quantity.From[quantity.Volume](c.In(t, "V"), "cm3")
	test := decay.Test{Volume: volume, Time: quantity.Duration(c.In(t, "dt")), Temperature: 293.15}
	n, err := test.Rate(drop)
	if err != nil {
		t.Fatal(err)
	}
	// atm·cm³/min of a gas is its std cm³/min at its own temperature.
	v, _ := quantity.In(n, "std cm3/min@20C")
	c.Check(t, v)
}

// The worked station: air at 23 °C in 200 cm³, test 10 s. Derived by hand, a
// consistency check, within 2 % or the digits printed.
func station() decay.Test { return decay.Test{Volume: 200e-6, Time: 10, Temperature: 296.15} }

func TestWorkedStation(t *testing.T) {
	for unit, pascals := range map[string]float64{"std cm3/min@0C": 183.1, "std cm3/min@20C": 170.6} {
		limit, err := quantity.Parse[quantity.MolarFlow]("2.00", unit)
		if err != nil {
			t.Fatal(err)
		}
		drop, err := station().Drop(limit)
		if err != nil {
			t.Fatal(err)
		}
		within(t, unit, float64(drop), pascals, 5e-4)
	}
	n, err := station().Rate(183.1)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "limit", float64(n), 1.487e-6, 5e-4)
	q, _ := station().Throughput(183.1)
	within(t, "limit as pV", q, 3.662e-3, 5e-4)
}

// The instrument alone: 4 Pa in 10 s in 15 cm³ are 0.3 Pa at the station.
func TestInstrumentAlone(t *testing.T) {
	alone := station()
	alone.Volume = 15e-6
	n, err := alone.Rate(4)
	if err != nil {
		t.Fatal(err)
	}
	v, _ := quantity.In(n, "std cm3/min@0C")
	within(t, "instrument", v, 0.0033, 0.02)
	drop, _ := station().Drop(n)
	within(t, "at the station", float64(drop), 0.3, 0.02)
}

func TestDropUndoesRate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		test := decay.Test{
			Volume:      quantity.Volume(rapid.Float64Range(1e-6, 1).Draw(t, "V")),
			Time:        quantity.Duration(rapid.Float64Range(0.1, 1e4).Draw(t, "t")),
			Temperature: quantity.Temperature(rapid.Float64Range(200, 400).Draw(t, "T")),
		}
		drop := quantity.Drop(rapid.Float64Range(1e-6, 1e5).Draw(t, "drop"))
		if rapid.Bool().Draw(t, "rise") {
			drop = -drop
		}
		n, err := test.Rate(drop)
		if err != nil {
			t.Fatal(err)
		}
		if (n > 0) != (drop > 0) {
			t.Fatalf("a drop of %v leaks %v", drop, n)
		}
		back, err := test.Drop(n)
		if err != nil || math.Abs(float64(back-drop)) > 1e-12*math.Abs(float64(drop)) {
			t.Fatalf("%v came back as %v, %v", drop, back, err)
		}
		test.Volume *= 2
		if twice, _ := test.Rate(drop); math.Abs(float64(twice-2*n)) > 1e-12*math.Abs(float64(n)) {
			t.Fatal("twice the volume is not twice the leak")
		}
	})
}

func TestFaults(t *testing.T) {
	for field, test := range map[string]decay.Test{
		"volume":      {Time: 10, Temperature: 300},
		"time":        {Volume: 1e-4, Time: -1, Temperature: 300},
		"temperature": {Volume: 1e-4, Time: 10},
	} {
		n, err := test.Rate(10)
		fault(t, err, field)
		drop, err := test.Drop(1e-6)
		fault(t, err, field)
		if n != 0 || drop != 0 {
			t.Errorf("%s: a fault comes with a number", field)
		}
	}
	_, err := station().Rate(quantity.Drop(math.NaN()))
	fault(t, err, "value")
	_, err = station().Drop(quantity.MolarFlow(math.Inf(1)))
	fault(t, err, "value")
}

func fault(t *testing.T, err error, field string) {
	t.Helper()
	var f *quantity.Fault
	if !errors.As(err, &f) || f.Field != field {
		t.Errorf("got %v, want a fault of %s", err, field)
	}
}

func ExampleTest_Rate() {
	limit, _ := decay.Test{Volume: 200e-6, Time: 10, Temperature: 296.15}.Rate(183.1)
	p, _ := quantity.Print(limit, "std cm3/min@0C", 3)
	fmt.Println(p.Number, p.Unit)
	// Output: 2.00 std cm3/min@0C
}
