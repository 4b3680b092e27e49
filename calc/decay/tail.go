package decay

import (
	"math"

	"jointwalk/calc/fit"
	"jointwalk/calc/quantity"
)

// Settling is what the instrument read after one time of stabilising, the test time being the same for all of them.
type Settling struct {
	Stabilised quantity.Duration
	Drop       quantity.Drop
	// U is the standard uncertainty of the drop, zero where nobody knows it; known for all readings or for none.
	U quantity.Drop
}

// Tail is how a fill settles: a reading after the stabilise time t is Settled + Excess·exp(−t/τ). After a fill gas cools and
// seals creep, which looks like a leak that dies away; what is left is the leak, and what the temperature does.
type Tail struct {
	// Settled is the reading that no longer stabilising would change.
	Settled quantity.Drop
	// SettledU is its standard uncertainty, negative where the readings do not tell it: three of unknown uncertainty.
	SettledU quantity.Drop
	// Tau is the time constant, TauU its standard uncertainty, negative as SettledU.
	Tau, TauU quantity.Duration
	// Excess of a reading without any stabilising.
	Excess quantity.Drop
}

// TailOf fits a tail to three readings or more, in the order of their times. Errors are *quantity.Fault: those of fit.Settle,
// of which "not-falling", "too-slow", "too-fast" and "too-vague" mean that the readings do not determine a tail.
func TailOf(readings []Settling) (Tail, error) {
	points := make([]fit.Point, len(readings))
	for i, r := range readings {
		points[i] = fit.Point{X: float64(r.Stabilised), Y: float64(r.Drop), U: float64(r.U)}
	}
	t, err := fit.Settle(points)
	if err != nil {
		return Tail{}, err
	}
	return Tail{
		Settled: quantity.Drop(t.Level), SettledU: quantity.Drop(known(t.ULevel)), Excess: quantity.Drop(t.Amplitude),
		Tau: quantity.Duration(t.Tau), TauU: quantity.Duration(known(t.UTau)),
	}, nil
}

// known is an uncertainty, or −1 for one that nothing tells.
func known(u float64) float64 {
	if math.IsInf(u, 1) {
		return -1
	}
	return u
}

// Until is how long to stabilise so that a reading is off by no more than so much: τ ln(Excess/off); 0 where none is needed.
// Errors are *quantity.Fault: "not-positive" or "not-a-number" with the field "off".
func (t Tail) Until(off quantity.Drop) (quantity.Duration, error) {
	if err := quantity.Positive("off", float64(off)); err != nil {
		return 0, err
	}
	if t.Excess <= off {
		return 0, nil
	}
	return t.Tau * quantity.Duration(math.Log(float64(t.Excess/off))), nil
}
