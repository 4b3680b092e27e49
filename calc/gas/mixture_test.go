package gas_test

import (
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/gas"
	"pgregory.net/rapid"
)

// mix is a mixture that must come about.
func mix(t rapid.TB, parts ...gas.Part) gas.Gas {
	t.Helper()
	g, err := gas.Mixture(parts)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// same fails the test unless two gases have the same properties.
func same(t rapid.TB, a, b gas.Gas, kelvin float64) {
	t.Helper()
	near(t, "viscosity", micro(t, a, kelvin), micro(t, b, kelvin), 1e-12)
	near(t, "molar mass", float64(a.MolarMass()), float64(b.MolarMass()), 1e-12)
	near(t, "heat ratio", a.HeatRatio(), b.HeatRatio(), 1e-12)
}

// A gas mixed with itself, alone or in shares, is the gas.
func TestMixtureOfOne(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g, kelvin := anyGas(t), rapid.Float64Range(250, 400).Draw(t, "T")
		x := rapid.Float64Range(0, 1).Draw(t, "x")
		same(t, mix(t, gas.Part{Gas: g, Fraction: 1}), g, kelvin)
		same(t, mix(t, gas.Part{Gas: g, Fraction: x}, gas.Part{Gas: g, Fraction: 1 - x}), g, kelvin)
	})
}

// The order of the parts does not matter, nor whether some were mixed before; mass and ratio lie between those of the parts.
// Viscosity need not: a mixture may have more than each of its parts.
func TestMixtureOfTwo(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, kelvin := anyGas(t), anyGas(t), rapid.Float64Range(250, 400).Draw(t, "T")
		x := rapid.Float64Range(0, 1).Draw(t, "x")
		ab := mix(t, gas.Part{Gas: a, Fraction: x}, gas.Part{Gas: b, Fraction: 1 - x})
		same(t, ab, mix(t, gas.Part{Gas: b, Fraction: 1 - x}, gas.Part{Gas: a, Fraction: x}), kelvin)
		half := []gas.Part{{Gas: a, Fraction: x / 2}, {Gas: b, Fraction: (1 - x) / 2}, {Gas: ab, Fraction: 0.5}}
		same(t, ab, mix(t, half...), kelvin)
		between(t, float64(ab.MolarMass()), float64(a.MolarMass()), float64(b.MolarMass()))
		between(t, ab.HeatRatio(), a.HeatRatio(), b.HeatRatio())
	})
}

func between(t rapid.TB, got, a, b float64) {
	t.Helper()
	if room := 1e-12 * got; got < min(a, b)-room || got > max(a, b)+room {
		t.Errorf("%g is not between %g and %g", got, a, b)
	}
}

// A trace of another gas changes little, and none nothing.
func TestTrace(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a, b, kelvin := anyGas(t), anyGas(t), rapid.Float64Range(250, 400).Draw(t, "T")
		near(t, "a trace", micro(t, mix(t, gas.Part{Gas: a, Fraction: 1 - 1e-9}, gas.Part{Gas: b, Fraction: 1e-9}), kelvin),
			micro(t, a, kelvin), 1e-6)
		same(t, a, mix(t, gas.Part{Gas: a, Fraction: 1}, gas.Part{Gas: b, Fraction: 0}), kelvin)
	})
}

// Forming gas has nearly nitrogen's viscosity. By the kinetic theory of a binary mixture (own reckoning of the first
// approximation, sizes 0.2827 and 0.3798 nm, wells 59.7 and 71.4 K, from memory) it has 17.79 µPa·s at 300 K.
func TestFormingGas(t *testing.T) {
	forming := of(t, gas.Forming)
	near(t, "forming gas", micro(t, forming, 300), 17.79, 0.01)
	same(t, forming, mix(t, gas.Part{Gas: of(t, gas.Hydrogen), Fraction: 0.05}, gas.Part{Gas: of(t, gas.Nitrogen), Fraction: 0.95}), 300)
}

func TestMoist(t *testing.T) {
	dry, err := gas.Moist(0)
	if err != nil {
		t.Fatal(err)
	}
	same(t, dry, of(t, gas.Air), 300)
	if dry.Code() != gas.MoistAir || mix(t, gas.Part{Gas: dry, Fraction: 1}).Code() != gas.Mixed {
		t.Errorf("codes %q, %q", dry.Code(), mix(t, gas.Part{Gas: dry, Fraction: 1}).Code())
	}
	rapid.Check(t, func(t *rapid.T) {
		x := rapid.Float64Range(0, 0.12).Draw(t, "x")
		a, _ := gas.Moist(x)
		b, _ := gas.Moist(x + 0.001)
		if a.MolarMass() <= b.MolarMass() || micro(t, a, 300) <= micro(t, b, 300) {
			t.Fatalf("at %g more water makes air no lighter, or no thinner", x)
		}
	})
}

func TestMixtureRefuses(t *testing.T) {
	air := of(t, gas.Air)
	for _, x := range []float64{-0.1, 1.1, math.NaN(), math.Inf(1)} {
		_, err := gas.Mixture([]gas.Part{{Gas: air, Fraction: x}, {Gas: air, Fraction: 1 - x}})
		refused(t, err, gas.CodeFraction, "fraction")
		_, err = gas.Moist(x)
		refused(t, err, gas.CodeFraction, "fraction")
	}
	for _, x := range []float64{0, 0.4, 0.4999, 0.5001} {
		_, err := gas.Mixture([]gas.Part{{Gas: air, Fraction: x}, {Gas: air, Fraction: 0.5}})
		refused(t, err, gas.CodeSum, "fraction")
	}
	_, err := gas.Mixture(nil)
	refused(t, err, gas.CodeSum, "fraction")
}

func ExampleMixture() {
	helium, _ := gas.Of(gas.Helium)
	air, _ := gas.Of(gas.Air)
	mixed, _ := gas.Mixture([]gas.Part{{Gas: helium, Fraction: 0.1}, {Gas: air, Fraction: 0.9}})
	mu, _ := mixed.Viscosity(293.15)
	fmt.Printf("%.2f g/mol, %.1f µPa·s\n", 1e3*float64(mixed.MolarMass()), 1e6*float64(mu))
	// Output: 26.47 g/mol, 18.4 µPa·s
}

func ExampleMoist() {
	moist, _ := gas.Moist(0.0169)
	fmt.Printf("%.4f g/mol\n", 1e3*float64(moist.MolarMass()))
	// Output: 28.7805 g/mol
}
