package gas_test

import (
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

// U.S. Standard Atmosphere 1976 at sea level, 288.15 K and 101325 Pa: 1.2250 kg/m³ and 458.94 m/s (from memory).
func TestAirAtSeaLevel(t *testing.T) {
	air := of(t, gas.Air)
	density, err := air.Density(288.15, quantity.Atmosphere)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "density", density, 1.2250, 1e-4)
	speed, err := air.MeanSpeed(288.15)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean speed", speed, 458.94, 1e-4)
}

// λ p does not depend on p, and λ is what its other form (μ/p) √(π R T/(2 M)) says.
func TestFreePath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		g := anyGas(t)
		kelvin := quantity.Temperature(rapid.Float64Range(250, 400).Draw(t, "T"))
		p := quantity.Absolute(rapid.Float64Range(1, 1e6).Draw(t, "p"))
		path, err := g.MeanFreePath(kelvin, p)
		if err != nil {
			t.Fatal(err)
		}
		mu := 1e-6 * micro(t, g, float64(kelvin))
		near(t, "mean free path", float64(path), mu/float64(p)*math.Sqrt(math.Pi*gas.R*float64(kelvin)/(2*float64(g.MolarMass()))), 1e-12)
		half, err := g.MeanFreePath(kelvin, p/2)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "at half the pressure", float64(half), 2*float64(path), 1e-12)
		density, _ := g.Density(kelvin, p)
		speed, _ := g.MeanSpeed(kelvin)
		near(t, "viscosity back", gas.Plain*density*speed*float64(path), mu, 1e-12)
	})
}

func TestMotionRefuses(t *testing.T) {
	air := of(t, gas.Air)
	for field, state := range map[string]gas.Ambient{
		"temperature": {Pressure: 1e5, Temperature: 0},
		"pressure":    {Pressure: quantity.Absolute(math.Inf(1)), Temperature: 300},
	} {
		code := map[string]string{"temperature": quantity.CodeNotPositive, "pressure": quantity.CodeNotANumber}[field]
		_, err := air.Density(state.Temperature, state.Pressure)
		refused(t, err, code, field)
		_, err = air.MeanFreePath(state.Temperature, state.Pressure)
		refused(t, err, code, field)
	}
	_, err := air.MeanSpeed(-1)
	refused(t, err, quantity.CodeNotPositive, "temperature")
	_, err = air.MeanFreePath(600, 1e5)
	refused(t, err, quantity.CodeRange, "temperature")
}

func ExampleGas_MeanFreePath() {
	air, _ := gas.Of(gas.Air)
	path, _ := air.MeanFreePath(293.15, quantity.Atmosphere)
	fmt.Printf("%.1f nm\n", 1e9*float64(path))
	// Output: 65.3 nm
}

func ExampleFreePath() {
	// Of hard spheres, with a viscosity from elsewhere.
	path := gas.FreePath(1.8192e-5, 28.9656e-3, 293.15, quantity.Atmosphere, gas.HardSphere)
	fmt.Printf("%.1f nm\n", 1e9*float64(path))
	// Output: 65.4 nm
}

func ExampleGas_Density() {
	argon, _ := gas.Of(gas.Argon)
	density, _ := argon.Density(293.15, 301325)
	fmt.Printf("%.2f kg/m³\n", density)
	// Output: 4.94 kg/m³
}

func ExampleGas_MeanSpeed() {
	helium, _ := gas.Of(gas.Helium)
	speed, _ := helium.MeanSpeed(293.15)
	fmt.Printf("%.0f m/s\n", speed)
	// Output: 1245 m/s
}
