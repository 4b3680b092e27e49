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
	type conversion func(t *testing.T) float64
	for id, convert := range map[string]conversion{
		// A pV-rate and the volume flow of its gas at 1 atm share a temperature.
		"unit-pa-atmcc": func(t *testing.T) float64 { return in[quantity.MolarFlow](t, 1, "Pa.m3/s@20C", "std cm3/s@20C") },
		"unit-pa-mbarl": func(t *testing.T) float64 { return in[quantity.MolarFlow](t, 1, "Pa.m3/s@20C", "mbar.L/s@20C") },
		"unit-atmcc-pa": func(t *testing.T) float64 { return in[quantity.MolarFlow](t, 1, "std cm3/s@0C", "Pa.m3/s@0C") },
		"unit-sccm-pa":  func(t *testing.T) float64 { return in[quantity.MolarFlow](t, 1, "std cm3/min@25C", "Pa.m3/s@25C") },
		"unit-psi-pa":   func(t *testing.T) float64 { return in[quantity.Gauge](t, 1, "psi", "Pa") },
		"unit-bar-psi":  func(t *testing.T) float64 { return in[quantity.Absolute](t, 1, "bar", "psi") },
		"unit-cfm-m3s":  func(t *testing.T) float64 { return in[quantity.VolumeFlow](t, 1, "ft3/min", "m3/s") },
		"unit-scfh-sccm": func(t *testing.T) float64 {
			return in[quantity.VolumeFlow](t, 1, "ft3/h", "cm3/min")
		},
		"unit-stdccs-mol": func(t *testing.T) float64 { return in[quantity.MolarFlow](t, 1, "std cm3/s@0C", "mol/s") },
		"unit-nist-hi":    func(t *testing.T) float64 { return in[quantity.MolarFlow](t, 1e-6, "mol/s", "std cm3/s@0C") },
		"unit-anr":        func(t *testing.T) float64 { return in[quantity.MolarFlow](t, 1, "std L/min@ANR", "mol/s") },
		"unit-milstd202-25C": func(t *testing.T) float64 {
			return in[quantity.MolarFlow](t, 1, "std cm3/s@25C", "mol/s")
		},
		"unit-molar-volume": func(t *testing.T) float64 { return in[quantity.MolarFlow](t, 60, "mol/s", "std L/min@0C") / 3600 },
	} {
		t.Run(id, func(t *testing.T) { published.One(t, id).Check(t, convert(t)) })
	}
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
