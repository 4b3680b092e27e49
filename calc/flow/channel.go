package flow

import (
	"math"

	"jointwalk/calc/quantity"
)

// UsualLength of a leak's channel, where nobody knows it: 5 mm. Judgement: common practice, no source. A laminar diameter
// goes with its fourth root: twice the length makes it 19 % wider.
const UsualLength quantity.Length = 5e-3

// Channel is a round straight channel, much longer than wide.
type Channel struct {
	Diameter, Length quantity.Length
}

// Laminar is the flow of a gas that sticks to the wall, π d⁴ (p1² − p2²)/(256 μ L R T). Good for Knudsen numbers below 0.01,
// where Sum is up to 7 % above it, and Reynolds numbers below 2300. The errors of all four flows are Condition.Check's and a
// *quantity.Fault of the field "diameter" or "path-length".
func (h Channel) Laminar(c Condition) (quantity.MolarFlow, error) { return h.checked(c, h.laminar(c)) }

// Molecular is the flow of molecules that meet the wall and hardly each other, π d³ v̄ (p1 − p2)/(12 L R T). Good for
// Knudsen numbers above 10. Errors as Laminar.
func (h Channel) Molecular(c Condition) (quantity.MolarFlow, error) {
	return h.checked(c, h.molecular(c))
}

// Sum is Laminar plus Molecular: right at both ends, in between up to 15 % above Transition.
// Errors as Laminar.
func (h Channel) Sum(c Condition) (quantity.MolarFlow, error) { return h.checked(c, h.sum(c)) }

// Transition is Laminar plus Z times Molecular, which follows measured flows through the range between. With Z going from
// 1 in narrow to 0.81 in wide channels it never exceeds Sum. Errors as Laminar.
func (h Channel) Transition(c Condition) (quantity.MolarFlow, error) {
	wide := float64(h.Diameter) / 2 / c.freePath()
	z := (1 + 2.507*wide) / (1 + 3.095*wide)
	return h.checked(c, h.laminar(c)+z*h.molecular(c))
}

// LaminarChannel is the channel of a length whose Laminar is n, in the condition c: the equivalent diameter of a leak taken
// for one long channel. Errors are Condition.Check's and a *quantity.Fault of the field "rate", "path-length" or, where
// nothing drives the gas, "drive".
func LaminarChannel(n quantity.MolarFlow, length quantity.Length, c Condition) (Channel, error) {
	if err := driven(n, c); err != nil {
		return Channel{}, err
	}
	if err := quantity.Positive("path-length", float64(length)); err != nil {
		return Channel{}, err
	}
	fourth := float64(n) / Channel{Diameter: 1, Length: length}.laminar(c)
	return Channel{Diameter: quantity.Length(math.Sqrt(math.Sqrt(fourth))), Length: length}, nil
}

// driven refuses what no path can be sized by.
func driven(n quantity.MolarFlow, c Condition) error {
	if err := c.Check(); err != nil {
		return err
	}
	if err := quantity.Positive("rate", float64(n)); err != nil {
		return err
	}
	high, low := c.ends()
	return quantity.Positive("drive", high-low)
}

// checked is the flow, unless channel or condition are at fault.
func (h Channel) checked(c Condition, n float64) (quantity.MolarFlow, error) {
	if err := quantity.Positive("diameter", float64(h.Diameter)); err != nil {
		return 0, err
	}
	if err := quantity.Positive("path-length", float64(h.Length)); err != nil {
		return 0, err
	}
	if err := c.Check(); err != nil {
		return 0, err
	}
	return quantity.MolarFlow(n), nil
}

func (h Channel) laminar(c Condition) float64 {
	d, mu := float64(h.Diameter), float64(c.Gas.Viscosity)
	high, low := c.ends()
	return math.Pi * d * d * d * d * (high - low) * (high + low) / (256 * mu * float64(h.Length) * c.thermal())
}

func (h Channel) molecular(c Condition) float64 {
	d := float64(h.Diameter)
	high, low := c.ends()
	mean := math.Sqrt(8 / math.Pi * c.thermal() / float64(c.Gas.MolarMass))
	return math.Pi * d * d * d * mean * (high - low) / (12 * float64(h.Length) * c.thermal())
}

func (h Channel) sum(c Condition) float64 { return h.laminar(c) + h.molecular(c) }
