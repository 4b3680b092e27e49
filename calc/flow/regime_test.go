package flow_test

import (
	"testing"

	"jointwalk/calc/flow"
	"jointwalk/calc/quantity"
)

// The limits of Kn are those of several texts, 2300 and 4000 of Re from memory: a step to either side of each.
func TestRegime(t *testing.T) {
	c := between(110, 100, 293.15)
	perKn := flow.Knudsen(1, c)
	perRe := flow.Reynolds(1e-3, 1, c.Gas)
	for _, row := range []struct {
		kn, re float64
		want   string
	}{
		{10.01, 1e-3, flow.RegimeMolecular}, {9.99, 1e-3, flow.RegimeTransition},
		{0.101, 1e-3, flow.RegimeTransition}, {0.099, 1e-3, flow.RegimeSlip},
		{0.0101, 1e-3, flow.RegimeSlip}, {0.0099, 1e-3, flow.RegimeLaminar},
		{perKn / 1e-3, 2299, flow.RegimeLaminar}, {perKn / 1e-3, 2301, flow.RegimeUnsettled},
		{perKn / 1e-3, 3999, flow.RegimeUnsettled}, {perKn / 1e-3, 4001, flow.RegimeTurbulent},
	} {
		d := quantity.Length(perKn / row.kn)
		n := quantity.MolarFlow(row.re / perRe * float64(d) / 1e-3)
		r := must[flow.Regime](t)(flow.RegimeOf(d, n, c))
		within(t, "Kn", r.Knudsen, row.kn, 1e-12)
		within(t, "Re", r.Reynolds, row.re, 1e-12)
		if r.Code != row.want || r.Choked {
			t.Errorf("Kn %v, Re %v: want %s, got %+v", row.kn, row.re, row.want, r)
		}
	}
}

// The critical ratio of air is 0.5283 (textbooks of gas dynamics, from memory).
func TestChoked(t *testing.T) {
	for low, want := range map[float64]bool{52.7: true, 52.9: false} {
		if r := must[flow.Regime](t)(flow.RegimeOf(1e-5, limit, between(100, low, 293.15))); r.Choked != want {
			t.Errorf("%v to 100: got %+v", low, r)
		}
	}
}

// The slip range has 7 to 70 % more than Laminar, as its code says: derived, 1 + Kn·64/(3π).
func TestSlip(t *testing.T) {
	c := between(110, 100, 293.15)
	for kn, more := range map[float64]float64{0.01: 1.07, 0.1: 1.68} {
		h := flow.Channel{Diameter: quantity.Length(flow.Knudsen(1, c) / kn), Length: 1}
		within(t, "slip", molar(t)(h.Sum(c))/molar(t)(h.Laminar(c)), more, 0.005)
	}
}
