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
// wide. Not in here: head and water vapour, gas that passes through the film
// (helium, carbon dioxide), domes, froth and collected gas.
package bubble

import (
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
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
}

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
	return t.Ambient.Check()
}
