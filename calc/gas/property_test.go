package gas_test

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"testing"

	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

// near fails the test when got is further from want than a relative tolerance.
func near(t rapid.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.9g, want %.9g ± %g (relative)", what, got, want, tolerance)
	}
}

// refused fails the test unless err is a fault of that code and field.
func refused(t rapid.TB, err error, code, field string) {
	t.Helper()
	var f *quantity.Fault
	if !errors.As(err, &f) || f.Code != code || f.Field != field {
		t.Errorf("got %v, want %s of %s", err, code, field)
	}
}

// anyGas is a gas of one to four parts.
func anyGas(t *rapid.T) gas.Gas {
	codes := rapid.SliceOfN(rapid.SampledFrom(gas.Codes()), 1, 4).Draw(t, "gases")
	weights := rapid.SliceOfN(rapid.Float64Range(0.001, 1), len(codes), len(codes)).Draw(t, "weights")
	sum := 0.0
	for _, w := range weights {
		sum += w
	}
	var parts []gas.Part
	for i, code := range codes {
		parts = append(parts, gas.Part{Gas: of(t, code), Fraction: weights[i] / sum})
	}
	return mix(t, parts...)
}

func TestCodes(t *testing.T) {
	for i, code := range gas.Codes() {
		if got := of(t, code).Code(); got != code || slices.Index(gas.Codes(), code) != i {
			t.Errorf("%q gives a gas of code %q, or is there twice", code, got)
		}
	}
	_, err := gas.Of("neon")
	refused(t, err, gas.CodeUnknown, "gas")
	var f *quantity.Fault
	if errors.As(err, &f) && f.Text != "neon" {
		t.Errorf("the fault does not say which: %v", f)
	}
	gas.Codes()[0] = "changed"
	if gas.Codes()[0] != gas.Air {
		t.Error("the list of codes can be changed from outside")
	}
}

// Ratios of heat capacities at 25 °C and low pressure: textbooks of thermodynamics, from memory; 5/3 is theory.
func TestHeatRatio(t *testing.T) {
	for code, want := range map[string]float64{
		gas.Air: 1.400, gas.Nitrogen: 1.400, gas.Oxygen: 1.395, gas.Hydrogen: 1.405, gas.CarbonDioxide: 1.289,
		gas.WaterVapour: 1.33, gas.Helium: 5.0 / 3, gas.Argon: 5.0 / 3,
	} {
		near(t, "heat ratio of "+code, of(t, code).HeatRatio(), want, 1e-3)
	}
}

// Molar masses in g/mol: IUPAC standard atomic weights, from memory.
func TestMolarMass(t *testing.T) {
	const h, c, n, o = 1.008, 12.011, 14.007, 15.999
	for code, want := range map[string]float64{
		gas.Nitrogen: 2 * n, gas.Oxygen: 2 * o, gas.Hydrogen: 2 * h, gas.CarbonDioxide: c + 2*o, gas.WaterVapour: 2*h + o,
		gas.Helium: 4.0026, gas.Argon: 39.95, gas.Forming: 0.05*2*h + 0.95*2*n,
		gas.Air: 0.78084*2*n + 0.20946*2*o + 0.00934*39.95 + 0.0004*(c+2*o),
	} {
		near(t, "molar mass of "+code, 1e3*float64(of(t, code).MolarMass()), want, 1e-4)
	}
}

func TestPermeates(t *testing.T) {
	want := []string{gas.Helium, gas.CarbonDioxide, gas.Forming, gas.Hydrogen}
	for _, code := range gas.Codes() {
		if got := of(t, code).Permeates(); got != slices.Contains(want, code) {
			t.Errorf("%s permeates: %v", code, got)
		}
	}
	none := mix(t, gas.Part{Gas: of(t, gas.Helium), Fraction: 0}, gas.Part{Gas: of(t, gas.Air), Fraction: 1})
	if none.Permeates() {
		t.Error("air without helium permeates for its helium")
	}
}

func TestViscosityGrowsWithTemperature(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGas(t)
		cold, hot := g.Limits()
		a := rapid.Float64Range(float64(cold), float64(hot)-1).Draw(t, "T")
		b := rapid.Float64Range(a+1, float64(hot)).Draw(t, "warmer")
		if !(micro(t, g, a) < micro(t, g, b)) {
			t.Fatalf("%g K: %g, %g K: %g µPa·s", a, micro(t, g, a), b, micro(t, g, b))
		}
	})
}

func TestViscosityRefuses(t *testing.T) {
	for code, coldest := range map[string]float64{gas.Helium: 100, gas.Air: 100, gas.CarbonDioxide: 200, gas.WaterVapour: 250} {
		g := of(t, code)
		cold, hot := g.Limits()
		if float64(cold) != coldest || hot != 500 {
			t.Errorf("%s is known from %v to %v K", code, cold, hot)
		}
		micro(t, g, float64(cold))
		micro(t, g, float64(hot))
		for _, out := range []quantity.Temperature{cold - 0.01, hot + 0.01} {
			_, err := g.Viscosity(out)
			refused(t, err, quantity.CodeRange, "temperature")
			var f *quantity.Fault
			if errors.As(err, &f) && (f.Min != coldest || f.Max != 500) {
				t.Errorf("%s is said to be known from %v to %v K", code, f.Min, f.Max)
			}
		}
		_, err := g.Viscosity(quantity.Temperature(math.NaN()))
		refused(t, err, quantity.CodeNotANumber, "temperature")
	}
}

func TestNoGas(t *testing.T) {
	for name, use := range map[string]func(){
		"code":     func() { gas.Gas{}.Code() },
		"mass":     func() { gas.Gas{}.MolarMass() },
		"mixture":  func() { _, _ = gas.Mixture([]gas.Part{{Fraction: 1}}) },
		"path":     func() { gas.FreePath(0, 0.029, 300, 1e5, gas.Plain) },
		"path NaN": func() { gas.FreePath(1.8e-5, 0.029, quantity.Temperature(math.NaN()), 1e5, gas.Plain) },
	} {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("a caller's mistake went through")
				}
			}()
			use()
		})
	}
}

func ExampleGas_Viscosity() {
	helium, _ := gas.Of(gas.Helium)
	mu, _ := helium.Viscosity(298.15)
	fmt.Printf("%.2f µPa·s\n", 1e6*float64(mu))
	// Output: 19.82 µPa·s
}

func ExampleGas_HeatRatio() {
	forming, _ := gas.Of(gas.Forming)
	fmt.Printf("%.3f, %.2f g/mol, permeates: %v\n", forming.HeatRatio(), 1e3*float64(forming.MolarMass()), forming.Permeates())
	// Output: 1.400, 26.71 g/mol, permeates: true
}
