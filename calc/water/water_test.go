package water_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/quantity"
	"jointwalk/calc/water"
	"jointwalk/testdata/published"
	"pgregory.net/rapid"
)

// The three properties as numbers, each with its range.
var properties = map[string]struct {
	lo, hi quantity.Temperature
	at     func(quantity.Temperature) (float64, error)
}{
	"tension": {water.Supercooled, water.Critical, func(t quantity.Temperature) (float64, error) {
		sigma, err := water.Tension(t)
		return float64(sigma), err
	}},
	"pressure": {water.Freezing, water.Critical, func(t quantity.Temperature) (float64, error) {
		p, err := water.SaturationPressure(t)
		return float64(p), err
	}},
	"density": {water.Freezing, water.Boiling, water.Density},
}

// at is a property where it must be known.
func at(t rapid.TB, name string, kelvin quantity.Temperature) float64 {
	t.Helper()
	value, err := properties[name].at(kelvin)
	if err != nil {
		t.Fatalf("%s at %v K: %v", name, kelvin, err)
	}
	return value
}

func TestPublishedTensions(t *testing.T) {
	for _, c := range published.Cases(t, "bub-iapws-") {
		c.Check(t, at(t, "tension", quantity.Temperature(c.In(t, "T"))))
	}
}

func TestPublishedProperties(t *testing.T) {
	for _, row := range []struct {
		name            string
		kelvin          quantity.Temperature
		want, tolerance float64
		source          string
	}{
		{"pressure", 273.16, 611.657, 2e-6, "IAPWS SR1-86(1992), check value, from memory"},
		{"pressure", 373.1243, 101325, 2e-5, "IAPWS SR1-86(1992), check value, from memory"},
		{"pressure", 647.096, 22.064e6, 1e-9, "IAPWS SR1-86(1992), check value, from memory"},
		{"density", 273.16, 999.789, 1e-6, "IAPWS SR1-86(1992), check value, from memory"},
		{"density", 373.1243, 958.365, 1e-6, "IAPWS SR1-86(1992), check value, from memory"},
		// Another formulation of the same: the two agree to better than 0.03 %.
		{"pressure", 300, 3536.58941, 3e-4, "IAPWS-IF97, region 4, check value, from memory"},
		{"pressure", 500, 2.63889776e6, 3e-4, "IAPWS-IF97, region 4, check value, from memory"},
		// Under air of 101.325 kPa, and not under its own vapour alone: 0.005 % denser.
		{"density", 273.15, 999.843, 1e-4, "Metrologia 38 (2001) 301–309, from memory"},
		{"density", 293.15, 998.207, 1e-4, "Metrologia 38 (2001) 301–309, from memory"},
		{"density", 298.15, 997.047, 1e-4, "Metrologia 38 (2001) 301–309, from memory"},
		{"density", 313.15, 992.216, 1e-4, "Metrologia 38 (2001) 301–309, from memory"},
	} {
		if got := at(t, row.name, row.kelvin); !(math.Abs(got-row.want) <= row.tolerance*row.want) {
			t.Errorf("%s at %v K: got %.9g, want %.9g ± %g (relative); %s", row.name, row.kelvin, got, row.want, row.tolerance, row.source)
		}
	}
}

func TestTensionEndsAtTheCriticalPoint(t *testing.T) {
	if got := at(t, "tension", water.Critical); got != 0 {
		t.Errorf("%v N/m at the critical point", got)
	}
}

// Warmer water has less tension and more vapour.
func TestMonotony(t *testing.T) {
	for name, sign := range map[string]float64{"tension": -1, "pressure": 1} {
		rapid.Check(t, func(t *rapid.T) {
			lo, hi := float64(properties[name].lo), float64(properties[name].hi)
			a := rapid.Float64Range(lo, hi-0.1).Draw(t, "T")
			b := rapid.Float64Range(a+0.1, hi).Draw(t, "warmer")
			if before, after := at(t, name, quantity.Temperature(a)), at(t, name, quantity.Temperature(b)); sign*(after-before) <= 0 {
				t.Fatalf("%s: %v at %v K, %v at %v K", name, before, a, after, b)
			}
		})
	}
}

// Water is densest at 4 °C (3.98 °C: Metrologia 38 (2001) 301–309, from memory).
func TestDensestAtFourDegrees(t *testing.T) {
	best := water.Freezing
	for kelvin := water.Freezing; kelvin < water.Boiling; kelvin += 0.01 {
		if at(t, "density", kelvin) > at(t, "density", best) {
			best = kelvin
		}
	}
	if celsius := float64(best - quantity.ZeroCelsius); math.Abs(celsius-3.98) > 0.1 {
		t.Errorf("densest at %.2f °C", celsius)
	}
}

// The slope of the vapour pressure gives the heat of vaporisation (Clausius–Clapeyron, vapour taken as an ideal gas):
// 2454 kJ/kg at 20 °C, steam tables, from memory.
func TestHeatOfVaporisation(t *testing.T) {
	const kelvin, mass = 293.15, 0.01801528
	slope := (math.Log(at(t, "pressure", kelvin+0.01)) - math.Log(at(t, "pressure", kelvin-0.01))) / 0.02
	if heat := quantity.GasConstant * kelvin * kelvin * slope / mass; math.Abs(heat/2.454e6-1) > 2e-3 {
		t.Errorf("%.0f kJ/kg, want 2454", heat/1e3)
	}
}

func TestRefuses(t *testing.T) {
	for name, p := range properties {
		at(t, name, p.lo)
		at(t, name, p.hi)
		for kelvin, code := range map[quantity.Temperature]string{
			p.lo - 0.001: quantity.CodeRange, p.hi + 0.001: quantity.CodeRange, -1: quantity.CodeRange,
			quantity.Temperature(math.Inf(1)): quantity.CodeNotANumber,
		} {
			_, err := p.at(kelvin)
			var f *quantity.Fault
			if !errors.As(err, &f) || f.Code != code || f.Field != "temperature" {
				t.Errorf("%s at %v K: got %v, want %s", name, kelvin, err, code)
			}
		}
	}
}

func ExampleTension() {
	sigma, _ := water.Tension(293.15)
	fmt.Printf("%.2f mN/m\n", 1e3*float64(sigma))
	// Output: 72.74 mN/m
}

func ExampleSaturationPressure() {
	p, _ := water.SaturationPressure(296.15)
	fmt.Printf("%.3f kPa\n", 1e-3*float64(p))
	// Output: 2.811 kPa
}

func ExampleDensity() {
	density, _ := water.Density(296.15)
	fmt.Printf("%.1f kg/m³\n", density)
	// Output: 997.5 kg/m³
}
