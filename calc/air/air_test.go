package air_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/air"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/testdata/published"
	"pgregory.net/rapid"
)

// pressure is that at an altitude that must be known.
func pressure(t rapid.TB, h air.Altitude) float64 {
	t.Helper()
	p, err := h.Pressure()
	if err != nil {
		t.Fatalf("%v m: %v", h, err)
	}
	return float64(p)
}

func TestPublishedPressures(t *testing.T) {
	for _, c := range published.Cases(t, "atm-geom-") {
		c.Check(t, pressure(t, air.Geometric(quantity.Length(c.In(t, "Z")))))
	}
	for _, c := range published.Cases(t, "atm-geopot-") {
		c.Check(t, pressure(t, air.Altitude(c.In(t, "H"))))
	}
}

func TestPublishedViscosity(t *testing.T) {
	c := published.One(t, "gas-ussa-mu0")
	mu, err := air.Viscosity(quantity.Temperature(c.In(t, "T")))
	if err != nil {
		t.Fatal(err)
	}
	c.Check(t, float64(mu))
}

// U.S. Standard Atmosphere 1976: 22632 Pa and 216.65 K where the layer ends, at 11 km (from memory).
func TestTopOfLayer(t *testing.T) {
	if p := pressure(t, air.Highest); math.Abs(p-22632) > 1 {
		t.Errorf("%.1f Pa at 11 km", p)
	}
	if kelvin, err := air.Highest.Temperature(); err != nil || math.Abs(float64(kelvin)-216.65) > 1e-9 {
		t.Errorf("%v K, %v at 11 km", kelvin, err)
	}
}

func TestSeaLevel(t *testing.T) {
	if p := pressure(t, air.Geometric(0)); p != float64(quantity.Atmosphere) {
		t.Errorf("%v Pa at sea level", p)
	}
}

// Pressure and temperature fall with altitude, and the slope of the pressure is the weight of the air: dp/dH = −ρ g₀.
func TestAirCarriesItsWeight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h := air.Altitude(rapid.Float64Range(float64(air.Lowest)+1, float64(air.Highest)-1).Draw(t, "H"))
		kelvin, err := h.Temperature()
		if err != nil {
			t.Fatal(err)
		}
		slope := (pressure(t, h+1) - pressure(t, h-1)) / 2
		weight := pressure(t, h) * 0.0289644 / (8.31432 * float64(kelvin)) * 9.80665
		if math.Abs(slope+weight) > 1e-6*weight {
			t.Fatalf("%v m: slope %v, weight %v Pa/m", h, slope, weight)
		}
		if above, err := (h + 1).Temperature(); err != nil || above >= kelvin {
			t.Fatalf("%v m: %v K, 1 m above %v K, %v", h, kelvin, above, err)
		}
	})
}

// The geopotential altitude is the lower one, by Z²/(r₀ + Z).
func TestGeometric(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		z := rapid.Float64Range(-5000, 11000).Draw(t, "Z")
		less := z - float64(air.Geometric(quantity.Length(z)))
		if want := z * z / (6356766 + z); math.Abs(less-want) > 1e-8 {
			t.Fatalf("%v m is %v m less, want %v", z, less, want)
		}
	})
}

// refused fails the test unless err is a fault of that code and field.
func refused(t rapid.TB, err error, code, field string) {
	t.Helper()
	var f *quantity.Fault
	if !errors.As(err, &f) || f.Code != code || f.Field != field {
		t.Errorf("got %v, want %s of %s", err, code, field)
	}
}

func TestAltitudeRefuses(t *testing.T) {
	for _, h := range []air.Altitude{
		air.Lowest - 0.1, air.Highest + 0.1, air.Geometric(-6.4e6), air.Geometric(1e9), air.Geometric(12000),
	} {
		_, err := h.Pressure()
		refused(t, err, quantity.CodeRange, "altitude")
		_, err = h.Temperature()
		refused(t, err, quantity.CodeRange, "altitude")
	}
	for _, h := range []air.Altitude{air.Altitude(math.NaN()), air.Altitude(math.Inf(-1)), air.Geometric(-6356766)} {
		_, err := h.Pressure()
		refused(t, err, quantity.CodeNotANumber, "altitude")
	}
	pressure(t, air.Lowest)
	pressure(t, air.Highest)
}

// Two published laws of one gas: where both hold they agree to 1 %.
func TestViscosityAgreesWithGas(t *testing.T) {
	dry, err := gas.Of(gas.Air)
	if err != nil {
		t.Fatal(err)
	}
	for kelvin := air.Coldest; kelvin <= air.Hottest; kelvin += 5 {
		standard, err := air.Viscosity(kelvin)
		if err != nil {
			t.Fatal(err)
		}
		other, err := dry.Viscosity(kelvin)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(float64(standard/other)-1) > 0.01 {
			t.Errorf("%v K: %v here, %v Pa·s there", kelvin, standard, other)
		}
	}
}

func TestViscosityRefuses(t *testing.T) {
	for kelvin, code := range map[quantity.Temperature]string{
		air.Coldest - 0.1: quantity.CodeRange, air.Hottest + 0.1: quantity.CodeRange, 0: quantity.CodeRange,
		quantity.Temperature(math.Inf(1)): quantity.CodeNotANumber,
	} {
		_, err := air.Viscosity(kelvin)
		refused(t, err, code, "temperature")
	}
}

func ExampleAltitude_Pressure() {
	p, _ := air.Geometric(1600).Pressure()
	fmt.Printf("%.1f kPa\n", 1e-3*float64(p))
	// Output: 83.5 kPa
}

func ExampleAltitude_Temperature() {
	kelvin, _ := air.Altitude(1600).Temperature()
	fmt.Printf("%.2f K\n", float64(kelvin))
	// Output: 277.75 K
}

func ExampleGeometric() {
	fmt.Printf("%.1f m\n", float64(air.Geometric(4000)))
	// Output: 3997.5 m
}

func ExampleViscosity() {
	mu, _ := air.Viscosity(288.15)
	fmt.Printf("%.2f µPa·s\n", 1e6*float64(mu))
	// Output: 17.89 µPa·s
}
