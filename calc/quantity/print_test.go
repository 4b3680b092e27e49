package quantity_test

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

func TestNumber(t *testing.T) {
	for _, c := range []struct {
		v      float64
		digits int
		want   string
	}{
		{0.345, 3, "0.345"},
		{0.34449, 3, "0.344"},
		{0.3, 3, "0.300"},
		{0.3, 1, "0.3"},
		{12, 3, "12.0"},
		{123456, 3, "123000"},
		{999999, 6, "999999"},
		{999999.9, 3, "1.00e6"},
		{1e6, 2, "1.0e6"},
		{9.996, 3, "10.0"},
		{0.09996, 3, "0.100"},
		{0.0001, 2, "0.00010"},
		{0.00009999, 2, "0.00010"},
		{0.00009949, 2, "9.9e-5"},
		{7.43584e-7, 3, "7.44e-7"},
		{-80, 2, "-80"},
		{0, 3, "0"},
		{183.14, 4, "183.1"},
	} {
		if got := quantity.Number(c.v, c.digits); got != c.want {
			t.Errorf("%v to %d digits: got %q, want %q", c.v, c.digits, got, c.want)
		}
	}
}

func TestNumberPanics(t *testing.T) {
	for _, c := range []struct {
		v      float64
		digits int
	}{{1, 0}, {1, 16}, {math.NaN(), 3}, {math.Inf(1), 3}} {
		func() {
			defer func() {
				if s, _ := recover().(string); !strings.HasPrefix(s, "quantity: ") {
					t.Errorf("Number(%v, %d) did not panic with the package's name", c.v, c.digits)
				}
			}()
			quantity.Number(c.v, c.digits)
		}()
	}
}

func TestNumberIsClose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(1e-9, 1e9).Draw(t, "v")
		digits := rapid.IntRange(1, 15).Draw(t, "digits")
		s := quantity.Number(v, digits)
		back, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(back-v) > v*0.5000001*math.Pow(10, float64(1-digits)) {
			t.Fatalf("%v became %q", v, s)
		}
		if plain := back >= 1e-4 && back < 1e6; plain == strings.Contains(s, "e") {
			t.Fatalf("%v: exponent in the wrong place: %q", v, s)
		}
	})
}

func TestPosition(t *testing.T) {
	for v, want := range map[float64]float64{
		0.001: 0, 0.01: 0.2, 0.1: 0.4, 1: 0.6, 10: 0.8, 100: 1, 1e5: 1, 1e-9: 0, 0: 0, -1: 0,
		math.Inf(1): 1, math.Inf(-1): 0,
	} {
		if got := quantity.Position(v); math.Abs(got-want) > 1e-12 {
			t.Errorf("Position(%v) = %v, want %v", v, got, want)
		}
	}
	if quantity.Position(math.NaN()) != 0 {
		t.Error("NaN stands somewhere on the bar")
	}
	rapid.Check(t, func(t *rapid.T) {
		a, b := rapid.Float64().Draw(t, "a"), rapid.Float64().Draw(t, "b")
		if a <= b && quantity.Position(a) > quantity.Position(b) {
			t.Fatal("the bar runs backwards")
		}
	})
}

// roundTrips checks every unit of a type: In undoes From, Parse reads Print.
func roundTrips[Q quantity.Quantity](t *testing.T, kind quantity.Kind) {
	for _, code := range quantity.UnitsOf(kind) {
		if quantity.NeedsReference(code) {
			code += "@21.1C"
		}
		rapid.Check(t, func(t *rapid.T) {
			v := rapid.Float64Range(1e-3, 1e3).Draw(t, "v")
			q, err := quantity.From[Q](v, code)
			if err != nil {
				t.Fatal(err)
			}
			back, err := quantity.In(q, code)
			if err != nil || math.Abs(back-v) > 1e-12*(v+500) {
				t.Fatalf("%v %s came back as %v, %v", v, code, back, err)
			}
			p, _ := quantity.Print(q, code, 15)
			read, err := quantity.Parse[Q](strings.Replace(p.Number, ".", ",", 1), p.Unit)
			if err != nil || math.Abs(float64(read-q)) > 1e-12*math.Abs(float64(q)) {
				t.Fatalf("%v printed %q read %v, %v", q, p.Number, read, err)
			}
		})
	}
}

func TestRoundTrips(t *testing.T) {
	roundTrips[quantity.Length](t, quantity.KindLength)
	roundTrips[quantity.Volume](t, quantity.KindVolume)
	roundTrips[quantity.VolumeFlow](t, quantity.KindVolumeFlow)
	roundTrips[quantity.MolarFlow](t, quantity.KindLeakRate)
	roundTrips[quantity.Absolute](t, quantity.KindPressure)
	roundTrips[quantity.Gauge](t, quantity.KindPressure)
	roundTrips[quantity.Drop](t, quantity.KindPressure)
	roundTrips[quantity.Temperature](t, quantity.KindTemperature)
	roundTrips[quantity.Duration](t, quantity.KindDuration)
}

func TestReferencesAndGauge(t *testing.T) {
	for _, r := range quantity.References() {
		if _, err := quantity.Parse[quantity.MolarFlow]("1", "std cm3/min@"+r.Code); err != nil {
			t.Errorf("%s is offered and not read: %v", r.Code, err)
		}
	}
	if quantity.NeedsReference("mol/s") || quantity.NeedsReference("std cm3/s@0C") || quantity.NeedsReference("x") {
		t.Error("a reference is asked for where none is wanted")
	}
	if got := quantity.Gauge(200e3).Absolute(quantity.Atmosphere); got != 301325 {
		t.Errorf("200 kPa gauge is %v absolute", got)
	}
	if got := quantity.Absolute(301325).Gauge(quantity.Atmosphere); got != 200e3 {
		t.Errorf("301.325 kPa is %v gauge", got)
	}
}

func TestPositive(t *testing.T) {
	for v, code := range map[float64]string{0: "not-positive", -1: "not-positive", math.Inf(1): "not-a-number"} {
		f := fault(t, quantity.Positive("size", v))
		if f.Code != code || f.Field != "size" || f.Error() != code+" size" {
			t.Errorf("%v: got %v", v, f)
		}
	}
	expect(t, quantity.Positive("size", math.NaN()), quantity.CodeNotANumber)
	if quantity.Positive("size", 1e-9) != nil {
		t.Error("a small value is above zero")
	}
}

func ExampleParse() {
	quarter, _ := quantity.Parse[quantity.Length]("1/4", "in")
	p, _ := quantity.Print(quarter, "mm", 3)
	fmt.Println(p.Number, p.Unit)
	_, err := quantity.Parse[quantity.Length]("3", "kPa")
	fmt.Println(err)
	// Output:
	// 6.35 mm
	// unit-kind [kPa]: wanted length, got pressure
}

func ExampleIn() {
	limit, _ := quantity.Parse[quantity.MolarFlow]("2,00", "std cm3/min@0C")
	there, _ := quantity.In(limit, "std cm3/min@20C")
	fmt.Printf("%.3g mol/s is %.3f at 20 °C\n", float64(limit), there)
	// Output: 1.49e-06 mol/s is 2.146 at 20 °C
}
