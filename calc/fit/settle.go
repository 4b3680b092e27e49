package fit

import (
	"math"

	"jointwalk/calc/quantity"
)

// Judgement: no source.
const (
	// SlowestTail is the longest time constant that Settle believes, in spans of the readings: over a fifth of it a tail is
	// as good as straight, and its level anybody's guess.
	SlowestTail = 5.0
	// vague is the relative uncertainty of a time constant that says nothing: with 95 % it may be next to zero.
	vague = 0.5
)

// Tail is y = Level + Amplitude exp(−x/Tau) with its uncertainties.
type Tail struct {
	// Level is what y settles to, Amplitude how much it stands above that at x = 0.
	Level, Amplitude float64
	// Tau is the time constant, in the unit of x.
	Tau float64
	// ULevel, UAmplitude and UTau are the standard uncertainties.
	ULevel, UAmplitude, UTau float64
	Scatter
	inverse [][]float64
	unit    float64
}

// Settle fits a tail to at least three points whose x rise and whose y fall
// towards a level. Through exactly three it goes exactly. Errors are
// *quantity.Fault: those of Straight, CodeTimesDisordered and "too-large" as
// Decline; and, where the readings are in order and one cannot say, with the
// field "readings", CodeNotFalling, CodeTooSlow, CodeTooFast or CodeTooVague.
func Settle(points []Point) (Tail, error) {
	c, err := newCurve(points, 3, true)
	if err != nil {
		return Tail{}, err
	}
	k, code := c.rate()
	if code != "" {
		return Tail{}, &quantity.Fault{Code: code, Field: "readings"}
	}
	t, err := c.tail(k)
	if err != nil {
		return Tail{}, err
	}
	// Where the uncertainties are unknown nothing says that it is vague.
	if t.DoF > 0 && t.UTau > vague*t.Tau {
		return Tail{}, &quantity.Fault{Code: CodeTooVague, Field: "readings"}
	}
	return t, nil
}

// rate is the best rate, or the code of the reason why there is none.
func (c curve) rate() (k float64, code string) {
	t0, _ := c.mean(c.t)
	y0, _ := c.mean(c.y)
	if !(c.product(c.t, t0, c.y, y0) < 0) {
		return 0, CodeNotFalling
	}
	rates := rising(0.8/(SlowestTail*c.span()), over/c.t[1])
	place := c.least(rates)
	switch place {
	case 0:
		return 0, CodeTooSlow
	case len(rates) - 1:
		return 0, CodeTooFast
	}
	k = c.between(rates, place)
	switch {
	case !(c.at(k).amplitude > 0):
		return 0, CodeNotFalling
	case k*SlowestTail*c.span() < 1:
		return 0, CodeTooSlow
	}
	return k, ""
}

// tail is the tail with a rate k.
func (c curve) tail(k float64) (Tail, error) {
	found := c.at(k)
	amplitude, err := c.atZero(found.amplitude, k)
	if err != nil {
		return Tail{}, err
	}
	t := Tail{Level: found.level, Amplitude: amplitude, Tau: 1 / k}
	t.Scatter, t.unit = c.scatter(found.squares, 3)
	t.inverse = c.inverse(3, t.gradient)
	t.ULevel = uncertainty(t.inverse, t.unit, 1, 0, 0)
	t.UAmplitude = uncertainty(t.inverse, t.unit, 0, 1, 0)
	t.UTau = uncertainty(t.inverse, t.unit, 0, 0, 1)
	return t, nil
}

// At is the curve at x and its standard uncertainty, without the scatter of a new
// reading there.
func (t Tail) At(x float64) (y, u float64) {
	return t.Level + t.Amplitude*math.Exp(-x/t.Tau), uncertainty(t.inverse, t.unit, t.gradient(x)...)
}

// gradient is the slope of the curve at x with Level, Amplitude and Tau.
func (t Tail) gradient(x float64) []float64 {
	f := math.Exp(-x / t.Tau)
	return []float64{1, f, t.Amplitude * x / (t.Tau * t.Tau) * f}
}
