package quantity_test

import (
	"strings"
	"testing"

	"jointwalk/calc/quantity"
	"jointwalk/testdata/published"
)

// in converts a number of one unit to another of the same type.
func in[Q quantity.Quantity](t *testing.T, v float64, from, to string) float64 {
	t.Helper()
	q, err := quantity.From[Q](v, from)
	if err != nil {
		t.Fatal(err)
	}
	out, err := quantity.In(q, to)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func TestPublishedConversions(t *testing.T) {
	for _, c := range []struct {
		published.Case
		got float64
	}{
		// A pV-rate and the volume flow of its gas at 1 atm share a temperature.
		{published.One(t, "unit-pa-atmcc"), in[quantity.MolarFlow](t, 1, "Pa.m3/s@20C", "atm.cm3/s@20C")},
		{published.One(t, "unit-pa-mbarl"), in[quantity.MolarFlow](t, 1, "Pa.m3/s@20C", "mbar.L/s@20C")},
		{published.One(t, "unit-pa-torrl"), in[quantity.MolarFlow](t, 1, "Pa.m3/s@20C", "Torr.L/s@20C")},
		{published.One(t, "unit-torrl-pa"), in[quantity.MolarFlow](t, 1, "Torr.L/s@0C", "Pa.m3/s@0C")},
		{published.One(t, "unit-atmcc-pa"), in[quantity.MolarFlow](t, 1, "std cm3/s@0C", "Pa.m3/s@0C")},
		{published.One(t, "unit-sccm-pa"), in[quantity.MolarFlow](t, 1, "std cm3/min@25C", "Pa.m3/s@25C")},
		{published.One(t, "unit-psi-pa"), in[quantity.Gauge](t, 1, "psi", "Pa")},
		{published.One(t, "unit-bar-psi"), in[quantity.Absolute](t, 1, "bar", "psi")},
		{published.One(t, "unit-bar-torr"), in[quantity.Absolute](t, 1, "bar", "Torr")},
		{published.One(t, "unit-cfm-m3s"), in[quantity.VolumeFlow](t, 1, "ft3/min", "m3/s")},
		{published.One(t, "unit-scfh-sccm"), in[quantity.VolumeFlow](t, 1, "ft3/h", "cm3/min")},
		{published.One(t, "unit-ft3yr-ccs"), in[quantity.VolumeFlow](t, 1, "ft3/yr", "cm3/s")},
		{published.One(t, "unit-ft3yr365-ccs"), in[quantity.Volume](t, 1, "ft3", "cm3") / in[quantity.Duration](t, 365, "d", "s")},
		{published.One(t, "unit-stdccs-mol"), in[quantity.MolarFlow](t, 1, "std cm3/s@0C", "mol/s")},
		{published.One(t, "unit-nist-hi"), in[quantity.MolarFlow](t, 1e-6, "mol/s", "std cm3/s@0C")},
		{published.One(t, "unit-anr"), in[quantity.MolarFlow](t, 1, "std L/min@ANR", "mol/s")},
		{published.One(t, "unit-milstd202-25C"), in[quantity.MolarFlow](t, 1, "std cm3/s@25C", "mol/s")},
		{published.One(t, "unit-molar-volume"), in[quantity.MolarFlow](t, 60, "mol/s", "std L/min@0C") / 3600},
	} {
		c.Check(t, c.got)
	}
}

// A mass flow in kg/min of a gas whose molar mass is said in g/mol.
func TestPublishedMassFlow(t *testing.T) {
	c := published.One(t, "unit-cfr-massflow")
	mass := quantity.MolarMass(in[quantity.MolarMass](t, c.In(t, "M"), "g/mol", "kg/mol"))
	c.Check(t, float64(mass.Flow(c.In(t, "m")/60)))
}

func TestPublishedReferences(t *testing.T) {
	codes := map[string]string{"70F": "21.1C"}
	for _, c := range published.Cases(t, "unit-sccm-mol-") {
		reference := strings.TrimPrefix(c.ID, "unit-sccm-mol-")
		if other, ok := codes[reference]; ok {
			reference = other
		}
		c.Check(t, in[quantity.MolarFlow](t, c.In(t, "Q"), "std cm3/min@"+reference, "mol/s"))
	}
}
