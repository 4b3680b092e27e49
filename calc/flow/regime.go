package flow

import (
	"math"

	"jointwalk/calc/quantity"
)

// The codes of a Regime.
const (
	// RegimeMolecular: Kn above 10, molecules meet the wall and hardly each other.
	RegimeMolecular = "molecular"
	// RegimeTransition: Kn 0.1 to 10.
	RegimeTransition = "transition"
	// RegimeSlip: Kn 0.01 to 0.1, laminar with gas that slips along the wall: 7 to 70 % more than Laminar, by Sum.
	RegimeSlip = "slip"
	// RegimeLaminar: Kn below 0.01 and Re below 2300.
	RegimeLaminar = "laminar"
	// RegimeUnsettled: Kn below 0.01 and Re 2300 to 4000, laminar and turbulent by turns.
	RegimeUnsettled = "unsettled"
	// RegimeTurbulent: Kn below 0.01 and Re above 4000.
	RegimeTurbulent = "turbulent"
)

// Regime is the way in which a gas flows. The limits of Kn are those of several texts, the limits of Re for pipes are from
// memory.
type Regime struct {
	// Code is one of the codes above.
	Code string
	// Knudsen and Reynolds are the numbers Kn and Re that decided.
	Knudsen, Reynolds float64
	// Choked says that p2/p1 is at or below the critical ratio: were the path a short hole, a still lower p2 would make no
	// difference.
	Choked bool
}

// RegimeOf is the regime of a flow n through a diameter d. Errors are Condition.Check's and a *quantity.Fault of the field
// "diameter" or "rate".
func RegimeOf(d quantity.Length, n quantity.MolarFlow, c Condition) (Regime, error) {
	if err := c.Check(); err != nil {
		return Regime{}, err
	}
	if err := quantity.Positive("diameter", float64(d)); err != nil {
		return Regime{}, err
	}
	if err := quantity.Positive("rate", float64(n)); err != nil {
		return Regime{}, err
	}
	high, low := c.ends()
	r := Regime{Knudsen: Knudsen(d, c), Reynolds: Reynolds(d, n, c.Gas)}
	r.Choked = low/high <= Critical(c.Gas.HeatRatio, 0)
	r.Code = code(r.Knudsen, r.Reynolds)
	return r, nil
}

func code(kn, re float64) string {
	switch {
	case kn > 10:
		return RegimeMolecular
	case kn >= 0.1:
		return RegimeTransition
	case kn >= 0.01:
		return RegimeSlip
	case re > 4000:
		return RegimeTurbulent
	case re >= 2300:
		return RegimeUnsettled
	default:
		return RegimeLaminar
	}
}

// Knudsen is Kn = λ/r, the mean free path at the mean of both pressures over the radius, as in Knudsen's Z. Some texts take
// the diameter and get half of it. It is no number for a condition that Check refuses.
func Knudsen(d quantity.Length, c Condition) float64 { return c.freePath() / (float64(d) / 2) }

// Reynolds is Re = 4 M n/(π d μ) (40 CFR 1065.640). It is no number for a gas without viscosity.
func Reynolds(d quantity.Length, n quantity.MolarFlow, g Gas) float64 {
	return 4 * float64(g.MolarMass) * float64(n) / (math.Pi * float64(d) * float64(g.Viscosity))
}
