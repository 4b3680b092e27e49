package gas_test

import (
	"math"
	"strings"
	"testing"

	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/testdata/published"
	"pgregory.net/rapid"
)

// symbols are the gases as the published cases write them.
var symbols = map[string]string{
	"air": gas.Air, "N2": gas.Nitrogen, "O2": gas.Oxygen, "He": gas.Helium, "Ar": gas.Argon,
	"CO2": gas.CarbonDioxide, "H2": gas.Hydrogen, "H2O": gas.WaterVapour,
}

// of is the gas of a code that must be known.
func of(t rapid.TB, code string) gas.Gas {
	t.Helper()
	g, err := gas.Of(code)
	if err != nil {
		t.Fatalf("%q: %v", code, err)
	}
	return g
}

// micro is a viscosity in µPa·s.
func micro(t rapid.TB, g gas.Gas, kelvin float64) float64 {
	t.Helper()
	mu, err := g.Viscosity(quantity.Temperature(kelvin))
	if err != nil {
		t.Fatalf("%s at %g K: %v", g.Code(), kelvin, err)
	}
	return 1e6 * float64(mu)
}

func TestPublishedViscosities(t *testing.T) {
	for _, cases := range [][]published.Case{
		published.Cases(t, "gas-crc-"),
		published.Cases(t, "gas-lj-"),
	} {
		for _, c := range cases {
			c.Check(t, micro(t, of(t, symbols[strings.Split(c.ID, "-")[2]]), c.In(t, "T")))
		}
	}
	// At 1.773 kg/m³, that is 100 kPa, the table has 15.02; the law is for zero density.
	c := published.One(t, "gas-co2-300")
	c.Check(t, micro(t, of(t, gas.CarbonDioxide), c.In(t, "T")))
}

// Rows that have no case, with half a unit of their last digit and 0.5 % for the spread between sources.
func TestViscositiesOfTables(t *testing.T) {
	for _, row := range []struct {
		code         string
		kelvin, want float64
		digit        float64
		source       string
	}{
		// Table Viscosity of Gases, newer edition.
		{gas.Helium, 200, 15.1, 0.1, "CRC Handbook of Chemistry and Physics"},
		{gas.Helium, 400, 24.3, 0.1, "CRC Handbook of Chemistry and Physics"},
		{gas.Oxygen, 200, 14.7, 0.1, "CRC Handbook of Chemistry and Physics"},
		{gas.Oxygen, 300, 20.7, 0.1, "CRC Handbook of Chemistry and Physics"},
		{gas.Oxygen, 400, 25.8, 0.1, "CRC Handbook of Chemistry and Physics"},
		{gas.Hydrogen, 200, 6.8, 0.1, "CRC Handbook of Chemistry and Physics"},
		{gas.Hydrogen, 400, 10.9, 0.1, "CRC Handbook of Chemistry and Physics"},
		{gas.CarbonDioxide, 200, 10.1, 0.1, "CRC Handbook of Chemistry and Physics"},
		{gas.CarbonDioxide, 400, 19.7, 0.1, "CRC Handbook of Chemistry and Physics"},
		{gas.WaterVapour, 300, 9.8, 0.1, "CRC Handbook of Chemistry and Physics"},
		{gas.WaterVapour, 400, 13.4, 0.1, "CRC Handbook of Chemistry and Physics"},
		{gas.WaterVapour, 500, 17.3, 0.1, "CRC Handbook of Chemistry and Physics"},
		// The fit of helium rests on this one, so this asks only whether it is a fit.
		{gas.Helium, 100, 9.6, 0.1, "NIST Standard Reference Database 134, helium-4"},
		{gas.Helium, 250, 17.6, 0.1, "NIST Standard Reference Database 134, helium-4"},
		{gas.Helium, 273.15, 18.7, 0.1, "NIST Standard Reference Database 134, helium-4"},
		{gas.Helium, 325, 21.0, 0.1, "NIST Standard Reference Database 134, helium-4"},
		{gas.Helium, 500, 28.3, 0.1, "NIST Standard Reference Database 134, helium-4"},
		// Zero density, 25 °C, from memory.
		{gas.Helium, 298.15, 19.83, 0.01, "recommended viscosities of dilute gases at 25 °C (2012), J. Phys. Chem. Ref. Data 41"},
		{gas.Nitrogen, 298.15, 17.75, 0.01, "J. Phys. Chem. Ref. Data 41 (2012)"},
		{gas.Argon, 298.15, 22.57, 0.01, "J. Phys. Chem. Ref. Data 41 (2012)"},
		{gas.Hydrogen, 298.15, 8.90, 0.01, "Int. J. Thermophys. 28 (2007) 1085"},
	} {
		got := micro(t, of(t, row.code), row.kelvin)
		if room := row.digit/2 + 0.005*row.want; !(math.Abs(got-row.want) <= room) {
			t.Errorf("%s at %g K: got %.3f, want %.3f ± %.3f µPa·s; %s", row.code, row.kelvin, got, row.want, room, row.source)
		}
	}
}

func TestPublishedMoistAir(t *testing.T) {
	c := published.One(t, "gas-M-moist")
	for code, name := range map[string]string{gas.Air: "M_dry", gas.WaterVapour: "M_h2o"} {
		if got := 1e3 * float64(of(t, code).MolarMass()); math.Abs(got-c.In(t, name)) > 1e-9 {
			t.Errorf("%s has %v g/mol, the worked example takes %v", code, got, c.In(t, name))
		}
	}
	moist, err := gas.Moist(c.In(t, "x_h2o"))
	if err != nil {
		t.Fatal(err)
	}
	c.Check(t, 1e3*float64(moist.MolarMass()))
}

// The case gives the viscosity and defines the mean free path with the factor of hard spheres.
func TestPublishedFreePath(t *testing.T) {
	c := published.One(t, "gas-mfp-20C")
	air, kelvin := of(t, gas.Air), quantity.Temperature(c.In(t, "T"))
	c.Check(t, float64(gas.FreePath(quantity.Viscosity(c.In(t, "mu")), air.MolarMass(), kelvin, quantity.Atmosphere, gas.HardSphere)))
	own, err := air.MeanFreePath(kelvin, quantity.Atmosphere)
	if err != nil {
		t.Fatal(err)
	}
	c.Check(t, float64(own)*gas.Plain/gas.HardSphere)
}
