// Package bubble sizes a leak from a train of bubbles.
//
// Bubbles of diameter d that come f times a second carry
//
//	Q = s (π/6) d³ f
//
// of gas at ambient pressure and temperature. The shape s is 1 for a bubble that
// rises in water; a film bubble sits on its joint and is something between half
// a sphere and a whole one: rectangular from 0.5 to 1 (judgement). Q becomes a
// molar flow by the ideal gas law.
//
// Published practice says that bubbles locate leaks and measure only roughly
// (ASTM E515). So the result is a distribution, with the input that makes it
// wide.
//
// At a depth h of water the gas has the pressure p + ρ g h, and a part x of what the water's vapour may add (pv at its
// temperature; a bubble is gone before it is saturated, so x is rectangular from 0 to 1):
//
//	n = s (π/6) d³ f (p + ρ g h − x pv)/(R T)
//
// The bubble's own 4σ/d, 0.1 % of p for 3 mm in water, is left out. Helium, carbon dioxide and hydrogen pass through a film:
// their bubbles tell the least that a leak may be. Domes, froth and collected gas have packages of their own.
package bubble

import (
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/calc/water"
)

// Medium is what the bubbles form in.
type Medium string

// The media.
const (
	// Film is bubble solution on the joint: an attached film bubble.
	Film Medium = "film"
	// Water is a joint or a tube's mouth under water: a free sphere.
	Water Medium = "water"
)

// CodeMediumUnknown is the Fault's code for a medium that is not listed.
const CodeMediumUnknown = "medium-unknown"

// Train is what was seen of one leak.
type Train struct {
	Medium  Medium
	Count   Count
	Size    Size
	Ambient gas.Ambient
	// Under is nil where the depth and the water's vapour are left out of account: it counts for Water only.
	Under *Immersion
	// Passes says that the gas passes through a film: it counts for Film only.
	Passes bool
}

// Immersion is how deep under water the bubbles were judged, with its standard uncertainty. The water is as warm as the ambient.
type Immersion struct{ Depth, DepthU quantity.Length }

// deepest water that bubbles are watched in.
const deepest quantity.Length = 3

// check is nil for a train that can be estimated.
func (t Train) check() error {
	if t.Medium != Film && t.Medium != Water {
		return &quantity.Fault{Code: CodeMediumUnknown, Field: "medium", Text: string(t.Medium)}
	}
	if err := t.Size.Check(); err != nil {
		return err
	}
	if err := t.Count.Check(); err != nil {
		return err
	}
	if err := t.Ambient.Check(); err != nil || t.Medium != Water || t.Under == nil {
		return err
	}
	return t.Under.check(t.Ambient)
}

func (u Immersion) check(at gas.Ambient) error {
	if err := quantity.Within("depth", u.Depth, 0, deepest); err != nil {
		return err
	}
	if err := Uncertain("depth-uncertainty", float64(u.DepthU), float64(u.Depth)); err != nil {
		return err
	}
	return quantity.Within("ambient-temperature", at.Temperature, water.Freezing, hottest)
}

// hottest water that hands work in. Judgement.
const hottest = quantity.ZeroCelsius + 60
