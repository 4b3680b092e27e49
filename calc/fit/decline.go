package fit

import (
	"math"
	"slices"

	"jointwalk/calc/quantity"
)

// Exponential is y = A exp(−B x) with its uncertainties.
type Exponential struct {
	A, B float64
	// UA and UB are the standard uncertainties of A and B.
	UA, UB float64
	Scatter
	inverse [][]float64
	unit    float64
}

// Decline fits an exponential without a level to at least two points whose x
// rise. It is the nonlinear fit itself, not a line through logarithms, which
// would favour the small readings. B may come out below zero: noisy readings that
// hardly fall say so. Errors are *quantity.Fault: those of Straight,
// CodeTimesDisordered and "too-large" with the field "x", the latter when x
// starts so many time constants from 0 that A is beyond all numbers; and, with
// the field "readings", CodeTooFast and CodeNotFalling for readings that leap
// from, or to, next to nothing.
func Decline(points []Point) (Exponential, error) {
	c, err := newCurve(points, 2, false)
	if err != nil {
		return Exponential{}, err
	}
	rates := c.bothWays()
	place := c.least(rates)
	switch place {
	case 0:
		return Exponential{}, &quantity.Fault{Code: CodeNotFalling, Field: "readings"}
	case len(rates) - 1:
		return Exponential{}, &quantity.Fault{Code: CodeTooFast, Field: "readings"}
	}
	return c.exponential(c.between(rates, place))
}

// bothWays are rates of growth, none, and rates of decay.
func (c curve) bothWays() []float64 {
	const slowest, growth = 1.0 / 64, 30
	rates := rising(slowest/c.span(), growth/c.span())
	slices.Reverse(rates)
	scale(rates, -1)
	return append(append(rates, 0), rising(slowest/c.span(), over/c.t[1])...)
}

// exponential is the curve with a rate b.
func (c curve) exponential(b float64) (Exponential, error) {
	found := c.at(b)
	a, err := c.atZero(found.amplitude, b)
	if err != nil {
		return Exponential{}, err
	}
	e := Exponential{A: a, B: b}
	e.Scatter, e.unit = c.scatter(found.squares, 2)
	e.inverse = c.inverse(2, e.gradient)
	e.UA, e.UB = uncertainty(e.inverse, e.unit, 1, 0), uncertainty(e.inverse, e.unit, 0, 1)
	return e, nil
}

// At is the curve at x and its standard uncertainty, without the scatter of a new
// reading there.
func (e Exponential) At(x float64) (y, u float64) {
	return e.A * math.Exp(-e.B*x), uncertainty(e.inverse, e.unit, e.gradient(x)...)
}

// gradient is the slope of the curve at x with A and B.
func (e Exponential) gradient(x float64) []float64 {
	f := math.Exp(-e.B * x)
	return []float64{f, -e.A * x * f}
}
