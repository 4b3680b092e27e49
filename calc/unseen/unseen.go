// Package unseen says what "nothing seen" at a joint means: never zero, but an
// upper limit, or that nothing can be said.
//
// A look of time T that would have shown any bubble of volume v, and showed
// none, bounds the leak, with 95 %, below
//
//	Q = m v/T,  m = −ln 0.05 = 2.9957
//
// the exact Poisson limit for a count of zero: bubbles may come at random. It
// needs a solution that stayed and a joint seen all round.
//
// A wetted path of diameter d holds back a pressure of 4σ/d; thinner paths
// than d = 4σ/p stay plugged however long one looks. One that was wetted before
// the pressure came may be filled along its length and has to be blown free
// first: see Path.Diameter. The limit never goes
// below what such a path would leak dry, laminar and compressible:
//
//	n = π d⁴ (p1² − p2²)/(256 μ L R T)
//
// So a longer clock never beats the plugging.
package unseen

import (
	"math"

	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
)

// Reasons why nothing can be said.
const (
	CannotSolutionLeft = "solution-left"
	CannotBackHidden   = "back-not-seen"
	CannotNoTime       = "no-time"
	CannotNoPressure   = "no-pressure"
	CannotNoSight      = "sight-unknown"
)

// What a limit comes from.
const (
	FromClock    = "clock"
	FromPlugging = "plugging"
)

// Look is how one joint was watched without a bubble.
type Look struct {
	// Time looked, wet and under pressure.
	Time  quantity.Duration
	Sight Sight
	// Smallest is the diameter of the smallest bubble that would have been seen, where more is known than Sight says; else zero.
	Smallest quantity.Length
	// Stayed says that the solution stayed on the joint all that time.
	Stayed bool
	// Around says that the joint was seen all round, the back too.
	Around bool
	// Ambient is where the gas would come out.
	Ambient gas.Ambient
	// Path is nil where plugging is left out of account.
	Path *Path
}

// Bound is what the look says.
type Bound struct {
	// Cannot is the reason why nothing can be said; "" when there is a limit.
	Cannot string
	// Upper is the 95 % upper limit of the leak rate.
	Upper quantity.MolarFlow
	// Volume is Upper as a volume flow at ambient.
	Volume quantity.VolumeFlow
	// From is FromClock or FromPlugging.
	From string
	// Smallest is the diameter of the smallest bubble that would have been seen.
	Smallest quantity.Length
}

// Bound is the upper limit of the leak of one joint. Errors are
// *quantity.Fault: "not-a-number" or "not-positive" with the field "time", "smallest",
// "ambient-pressure", "ambient-temperature" or that of the Path.
func (l Look) Bound() (Bound, error) {
	if err := l.check(); err != nil {
		return Bound{}, err
	}
	smallest, reason := l.cannot()
	if reason != "" {
		return Bound{Cannot: reason}, nil
	}
	volume := quantity.VolumeFlow(spread.UpperLimit(0, 0.95) * hemisphere(smallest) / float64(l.Time))
	b := Bound{Upper: gas.Molar(volume, l.Ambient), Volume: volume, From: FromClock, Smallest: smallest}
	if l.Path == nil {
		return b, nil
	}
	if floor := l.Path.floor(l.Time, l.Ambient); floor > b.Upper {
		b.Upper, b.Volume, b.From = floor, gas.Volume(floor, l.Ambient), FromPlugging
	}
	return b, nil
}

// cannot is the smallest bubble seen, or the reason why nothing can be said.
func (l Look) cannot() (quantity.Length, string) {
	switch {
	case l.Path != nil && l.Path.Pressure <= 0:
		return 0, CannotNoPressure
	case !l.Stayed:
		return 0, CannotSolutionLeft
	case !l.Around:
		return 0, CannotBackHidden
	case l.Time == 0:
		return 0, CannotNoTime
	case l.Smallest > 0:
		return l.Smallest, ""
	case l.Sight == Close:
		return SmallestClose, ""
	case l.Sight == Partly:
		return SmallestPartly, ""
	default:
		return 0, CannotNoSight
	}
}

func (l Look) check() error {
	if l.Time != 0 {
		if err := quantity.Positive("time", float64(l.Time)); err != nil {
			return err
		}
	}
	if l.Smallest != 0 {
		if err := quantity.Positive("smallest", float64(l.Smallest)); err != nil {
			return err
		}
	}
	if l.Path != nil {
		if err := l.Path.check(); err != nil {
			return err
		}
	}
	return l.Ambient.Check()
}

// hemisphere is the volume π d³/12 of half a sphere.
func hemisphere(d quantity.Length) float64 {
	return math.Pi / 12 * float64(d) * float64(d) * float64(d)
}
