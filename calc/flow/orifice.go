package flow

import (
	"math"

	"jointwalk/calc/quantity"
)

// UsualDischarge is the discharge coefficient Cd of a small ragged hole: 0.6, as of a sharp edge. Common practice, no source.
const UsualDischarge = 0.6

// Orifice is a hole hardly longer than wide, or a nozzle.
type Orifice struct {
	// Area of the hole, or of the throat.
	Area quantity.Area
	// Discharge coefficient Cd, above 0 to 1: the share of the ideal flow that really passes.
	Discharge float64
	// Beta is the throat's diameter over the diameter of the bore before it, 0 to under 1: 0 where the gas comes from a
	// wide space, as it does at a leak.
	Beta float64
}

// Flow is Cd Cf A p1/√(M R T), Cf being the Coefficient of the pressures. Errors are Condition.Check's and a
// *quantity.Fault of the field "area", "discharge" or "beta": "not-positive", "not-a-number", or "too-large" for a
// discharge above 1 or a beta that is not under it.
func (o Orifice) Flow(c Condition) (quantity.MolarFlow, error) {
	if err := quantity.Positive("area", float64(o.Area)); err != nil {
		return 0, err
	}
	if err := o.check(c); err != nil {
		return 0, err
	}
	return quantity.MolarFlow(o.flow(c)), nil
}

// Sized is o with the area that lets n through in the condition c; o.Area is not looked at. Errors are those of Flow and a
// *quantity.Fault of the field "rate" or, where nothing drives the gas, "drive".
func (o Orifice) Sized(n quantity.MolarFlow, c Condition) (Orifice, error) {
	if err := driven(n, c); err != nil {
		return Orifice{}, err
	}
	if err := o.check(c); err != nil {
		return Orifice{}, err
	}
	o.Area = 1
	o.Area = quantity.Area(float64(n) / o.flow(c))
	return o, nil
}

// Hole is a usual short hole of a diameter, which no bore leads to.
func Hole(diameter quantity.Length) Orifice {
	d := float64(diameter)
	return Orifice{Area: quantity.Area(math.Pi / 4 * d * d), Discharge: UsualDischarge}
}

// Diameter of a round hole of that area, √(4A/π).
func (o Orifice) Diameter() quantity.Length {
	return quantity.Length(math.Sqrt(4 / math.Pi * float64(o.Area)))
}

func (o Orifice) check(c Condition) error {
	if err := fraction("discharge", o.Discharge, o.Discharge > 1); err != nil {
		return err
	}
	if o.Beta != 0 {
		if err := fraction("beta", o.Beta, o.Beta >= 1); err != nil {
			return err
		}
	}
	return c.Check()
}

func fraction(field string, value float64, tooLarge bool) error {
	if err := quantity.Positive(field, value); err != nil {
		return err
	}
	if tooLarge {
		return &quantity.Fault{Code: quantity.CodeTooLarge, Field: field}
	}
	return nil
}

func (o Orifice) flow(c Condition) float64 {
	high, low := c.ends()
	return o.Discharge * float64(Ideal(o.Area, Coefficient(c.Gas.HeatRatio, o.Beta, low/high), c))
}

// Ideal is Cf A p1/√(M R T) for a coefficient that is known already, without loss: multiply it by Cd. It is no number for
// a condition that Check refuses.
func Ideal(area quantity.Area, coefficient float64, c Condition) quantity.MolarFlow {
	high, _ := c.ends()
	return quantity.MolarFlow(coefficient * float64(area) * high / math.Sqrt(float64(c.Gas.MolarMass)*c.thermal()))
}
