// Package flow tells how much gas goes through one leak path, how wide a path must be to let a known leak through, and what
// a leak measured under one condition would be under another.
//
// A path is a long narrow channel or a short hole. The gas runs from the higher pressure p1 to the lower p2; every rate is a
// molar flow n in mol/s and positive, whichever way it runs.
//
//	laminar      n = π d⁴ (p1² − p2²)/(256 μ L R T)    Poiseuille, compressible; textbooks, from memory
//	molecular    n = π d³ v̄ (p1 − p2)/(12 L R T)       Knudsen, long tube; textbooks, from memory
//	             v̄ = √(8 R T/(π M))
//	sum          laminar + molecular                   ANSI N14.5, from memory
//	transition   laminar + Z molecular                 Knudsen 1909, from memory
//	             Z = (1 + 2.507 r/λ)/(1 + 3.095 r/λ)
//	orifice      n = Cd Cf A p1/√(M R T)               40 CFR 1065.640 and 1065.642
//
//	d, r   diameter and radius, m          T   temperature of the gas, K
//	L      length, m                       R   8.314462618 J/(mol K)
//	μ      dynamic viscosity, Pa s         M   molar mass, kg/mol
//	λ      mean free path at (p1 + p2)/2   A   area, m²
//	       λ = (μ/p) √(π R T/(2 M))        Cd, Cf   see Orifice and Coefficient
//
// The laminar form holds for channels much longer than wide whose Reynolds number stays under 2300 and whose gas keeps the
// temperature of the wall; the sum and the transition carry it on down to channels narrower than λ. The orifice holds for
// holes hardly longer than wide. A real leak is neither: two models are a range, not a choice. Gases are taken as ideal,
// near enough below 2 MPa (judgement). Gas that goes through a seal's material itself (permeation) is not in here.
package flow

import (
	"math"

	"jointwalk/calc/quantity"
)

// Gas is what the formulas ask of a gas.
type Gas struct {
	// MolarMass M, kg/mol.
	MolarMass quantity.MolarMass
	// Viscosity μ at the temperature of the condition, Pa s.
	Viscosity quantity.Viscosity
	// HeatRatio k = cp/cv, above 1: 1.4 for air and nitrogen, 1.667 for helium and argon, about 1.3 for carbon dioxide.
	HeatRatio float64
}

// Condition is what drives gas through a path.
type Condition struct {
	// Inside and Outside are the pressures at the two ends. One of them may be zero, a perfect vacuum; where both are the
	// same nothing flows.
	Inside, Outside quantity.Absolute
	// Temperature of the gas.
	Temperature quantity.Temperature
	// Gas that comes from the side of the higher pressure.
	Gas Gas
}

// Check is nil for a condition that can be reckoned with, and otherwise a *quantity.Fault, "not-positive" or "not-a-number",
// of the field "inside-pressure", "outside-pressure", "temperature", "molar-mass", "viscosity" or "heat-ratio". A heat ratio
// that is not above 1 is "not-positive": the difference is meant.
func (c Condition) Check() error {
	if c.Inside != 0 || c.Outside == 0 {
		if err := quantity.Positive("inside-pressure", float64(c.Inside)); err != nil {
			return err
		}
	}
	if c.Outside != 0 {
		if err := quantity.Positive("outside-pressure", float64(c.Outside)); err != nil {
			return err
		}
	}
	if err := quantity.Positive("temperature", float64(c.Temperature)); err != nil {
		return err
	}
	return c.Gas.check()
}

// check is the part of Check that is about the gas.
func (g Gas) check() error {
	if err := quantity.Positive("molar-mass", float64(g.MolarMass)); err != nil {
		return err
	}
	if err := quantity.Positive("viscosity", float64(g.Viscosity)); err != nil {
		return err
	}
	return quantity.Positive("heat-ratio", g.HeatRatio-1)
}

// Outward says whether the gas runs from inside to outside.
func (c Condition) Outward() bool { return c.Inside > c.Outside }

// ends are the pressures p1 and p2, the higher first.
func (c Condition) ends() (high, low float64) {
	return float64(max(c.Inside, c.Outside)), float64(min(c.Inside, c.Outside))
}

// thermal is R T in J/mol.
func (c Condition) thermal() float64 { return quantity.GasConstant * float64(c.Temperature) }

// freePath is λ at the mean of both pressures.
func (c Condition) freePath() float64 {
	high, low := c.ends()
	speed := math.Sqrt(math.Pi / 2 * c.thermal() / float64(c.Gas.MolarMass))
	return float64(c.Gas.Viscosity) / ((high + low) / 2) * speed
}
