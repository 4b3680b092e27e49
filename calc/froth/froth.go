// Package froth sizes a leak from froth that grows on a joint: bubbles too small and too many to be counted.
//
// Froth that covers an area A and grew by a height h in a time T holds gas to a fraction φ of its volume:
//
//	Q = φ A h/T
//
// Spheres that touch fill about 0.64 of their room (random close packing, textbooks, from memory): below that it is no froth
// but bubbly liquid. Fresh froth is taken as rectangular from 0.64 to 0.90, froth that drained for a minute as 0.90 to 0.99
// (judgement). Small bubbles burst and merge while one looks, so that the figure tends to be low: a class of its own says so.
package froth

import (
	"jointwalk/calc/bubble"
	"jointwalk/calc/estimate"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
)

// State is how long the froth had to let its liquid run out.
type State string

// The states.
const (
	// Fresh froth grows as one looks.
	Fresh State = "fresh"
	// Drained froth stood for a minute or more.
	Drained State = "drained"
)

// CodeStateUnknown is the Fault's code for a state that is not listed.
const CodeStateUnknown = "froth-state-unknown"

// The inputs of the budget.
const (
	InputArea     = "area"
	InputHeight   = "height"
	InputFraction = "gas-fraction"
	InputClock    = "clock"
)

// WarnCollapses is the warning that every froth bears: what burst meanwhile is not in it.
const WarnCollapses = "froth-collapses"

// Froth is what was seen.
type Froth struct {
	// Area that it covers, with its standard uncertainty.
	Area, AreaU quantity.Area
	// Height by which it grew, with its standard uncertainty.
	Height, HeightU quantity.Length
	State           State
	// Time that it took, with its standard uncertainty.
	Time, Clock quantity.Duration
	Ambient     gas.Ambient
	// Passes says that the gas passes through a film.
	Passes bool
}

// Estimate is the leak rate. Its budget has area, height, gas-fraction and clock. Errors are *quantity.Fault:
// CodeStateUnknown, and "not-positive", "not-a-number" or "too-large" with the field "area", "area-uncertainty", "height",
// "height-uncertainty", "time", "clock", "ambient-pressure" or "ambient-temperature".
func (f Froth) Estimate() (estimate.Estimate, error) {
	if err := f.check(); err != nil {
		return estimate.Estimate{}, err
	}
	perVolume := float64(gas.Molar(1, f.Ambient))
	inputs := []estimate.Input{
		{Name: InputArea, Of: spread.Around(float64(f.Area), float64(f.AreaU))},
		{Name: InputHeight, Of: spread.Around(float64(f.Height), float64(f.HeightU))},
		{Name: InputFraction, Of: f.fraction()},
		{Name: InputClock, Of: spread.Around(float64(f.Time), float64(f.Clock))},
	}
	e := estimate.Of(inputs, f.Ambient, func(x []float64) float64 { return perVolume * x[0] * x[1] * x[2] / x[3] })
	e.Warnings = append(e.Warnings, WarnCollapses)
	e.Passing(f.Passes)
	return e, nil
}

// fraction of the froth that is gas. Judgement: common practice, no source.
func (f Froth) fraction() spread.Distribution {
	if f.State == Drained {
		return spread.Rectangular{Lo: 0.90, Hi: 0.99}
	}
	return spread.Rectangular{Lo: 0.64, Hi: 0.90}
}

func (f Froth) check() error {
	if f.State != Fresh && f.State != Drained {
		return &quantity.Fault{Code: CodeStateUnknown, Field: "state", Text: string(f.State)}
	}
	for _, in := range []struct {
		field    string
		value, u float64
		ufield   string
	}{
		{"area", float64(f.Area), float64(f.AreaU), "area-uncertainty"},
		{"height", float64(f.Height), float64(f.HeightU), "height-uncertainty"},
		{"time", float64(f.Time), float64(f.Clock), "clock"},
	} {
		if err := quantity.Positive(in.field, in.value); err != nil {
			return err
		}
		if err := bubble.Uncertain(in.ufield, in.u, in.value); err != nil {
			return err
		}
	}
	return f.Ambient.Check()
}
