// Package dome sizes a leak from one bubble that grows on its joint, and from a bubble that grows, bursts and comes back.
//
// A film bubble too large to be a sphere sits on its joint as a spherical cap. With the radius a of its base and its height h
//
//	V = (π/6) h (3a² + h²)
//
// (any geometry handbook); h = a is half a sphere, (2/3) π a³. Where nobody saw the height, h/a is taken as rectangular from
// 0.8 to 1.2 (judgement). The bubble's gas is at ambient pressure: the film's 4σ/r, some ten pascals, is left out.
//
// A cap that reached V in a time T after it began from nothing leaks V/T; one that bursts at V, n times in T, leaks n V/T.
package dome

import (
	"math"

	"jointwalk/calc/bubble"
	"jointwalk/calc/estimate"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
)

// The inputs of the budget.
const (
	InputSize   = "size"
	InputHeight = "height"
	InputCount  = "count"
	InputClock  = "clock"
)

// What height over base radius is taken to be where the height was not seen. Judgement: common practice, no source.
const (
	flattest = 0.8
	steepest = 1.2
)

// Cap is a spherical cap as it was seen.
type Cap struct {
	// Base is the diameter of the circle on which it sits.
	Base bubble.Size
	// Height of its top over the base, with its standard uncertainty; zero where it was not seen.
	Height, HeightU quantity.Length
}

// inputs are the base's diameter and the height: in metres, or over the base's radius where it was not seen.
func (c Cap) inputs() []estimate.Input {
	height := spread.Distribution(spread.Rectangular{Lo: flattest, Hi: steepest})
	if c.Height > 0 {
		height = bubble.Size{Diameter: c.Height, U: c.HeightU}.Distribution()
	}
	return []estimate.Input{{Name: InputSize, Of: c.Base.Distribution()}, {Name: InputHeight, Of: height}}
}

// volume is that of the cap for the two inputs.
func (c Cap) volume(base, height float64) float64 {
	a := base / 2
	if c.Height == 0 {
		height *= a
	}
	return math.Pi / 6 * height * (3*a*a + height*height)
}

// tallest is the height over the base's radius beyond which a bubble would rather rise off as a sphere. Judgement.
const tallest = 2

// check is nil for a cap that was timed or counted under a known ambient.
func (c Cap) check(count bubble.Count, at gas.Ambient) error {
	if err := c.checkCap(); err != nil {
		return err
	}
	if err := count.Check(); err != nil {
		return err
	}
	return at.Check()
}

func (c Cap) checkCap() error {
	if err := c.Base.Check(); err != nil || c.Height == 0 {
		return err
	}
	if err := quantity.Positive("height", float64(c.Height)); err != nil {
		return err
	}
	if c.Height > tallest*c.Base.Diameter/2 {
		return &quantity.Fault{Code: quantity.CodeTooLarge, Field: "height"}
	}
	return bubble.Uncertain("height-uncertainty", float64(c.HeightU), float64(c.Height))
}

// Grown is one dome that grew from nothing.
type Grown struct {
	Cap
	// Time that it took, with its standard uncertainty.
	Time, Clock quantity.Duration
	Ambient     gas.Ambient
	// Passes says that the gas passes through a film.
	Passes bool
}

// Estimate is the leak rate. Its budget has size, height and clock. Errors are *quantity.Fault: "not-positive",
// "not-a-number" or "too-large" with the field "size", "size-uncertainty", "height", "height-uncertainty", "time", "clock",
// "ambient-pressure" or "ambient-temperature".
func (g Grown) Estimate() (estimate.Estimate, error) {
	took := bubble.Intervals(1, g.Time, g.Clock)
	if err := g.check(took, g.Ambient); err != nil {
		return estimate.Estimate{}, err
	}
	perVolume := float64(gas.Molar(1, g.Ambient))
	inputs := append(g.inputs(), estimate.Input{Name: InputClock, Of: took.Took()})
	e := estimate.Of(inputs, g.Ambient, func(x []float64) float64 { return perVolume * g.volume(x[0], x[1]) / x[2] })
	e.Passing(g.Passes)
	return e, nil
}

// Bursting is a dome that bursts and comes back.
type Bursting struct {
	// Cap is the dome when it bursts.
	Cap
	// Count of the bursts.
	Count   bubble.Count
	Ambient gas.Ambient
	// Passes says that the gas passes through a film.
	Passes bool
}

// Estimate is the leak rate. Its budget has size, height, count and clock. Errors as Grown's, and those of a count.
func (b Bursting) Estimate() (estimate.Estimate, error) {
	if err := b.check(b.Count, b.Ambient); err != nil {
		return estimate.Estimate{}, err
	}
	perVolume := float64(gas.Molar(1, b.Ambient))
	inputs := append(b.inputs(), estimate.Input{Name: InputCount, Of: b.Count.Number()}, estimate.Input{Name: InputClock, Of: b.Count.Took()})
	e := estimate.Of(inputs, b.Ambient, func(x []float64) float64 { return perVolume * b.volume(x[0], x[1]) * x[2] / x[3] })
	e.Passing(b.Passes)
	return e, nil
}
