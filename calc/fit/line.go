package fit

import (
	"math"

	"jointwalk/calc/quantity"
)

// Line is y = A + B (x − X0) with its uncertainties.
type Line struct {
	X0, A, B float64
	// UA and UB are the standard uncertainties of A and B.
	UA, UB float64
	// R is the correlation coefficient of A and B, −1 to 1; 0 when X0 is the weighted mean of the readings' x.
	R float64
	Scatter
	// centre is that mean, height the line there; uHeight is the uncertainty of the height.
	centre, height, uHeight float64
}

// Straight fits a line to at least two points, x0 being where A is wanted:
//
//	b = Σ w² (x − x̄)(y − ȳ) / Σ w² (x − x̄)²,   u²(b) = s² / Σ w² (x − x̄)²
//	a = ȳ + b (x₀ − x̄),                        u²(a) = s² / Σ w² + (x₀ − x̄)² u²(b)
//
// with weighted means x̄ and ȳ, and s = 1 for weights from uncertainties. Errors
// are *quantity.Fault: CodeTooFewReadings; CodeNoSpan with the field "x";
// "not-a-number" with the field "x", "y" or "uncertainty"; "not-positive" and
// CodeUncertaintyMixed with the field "uncertainty".
func Straight(points []Point, x0 float64) (Line, error) {
	r, err := read(points, 2)
	if err != nil {
		return Line{}, err
	}
	if x0-x0 != 0 {
		return Line{}, &quantity.Fault{Code: quantity.CodeNotANumber, Field: "x"}
	}
	l := Line{X0: x0}
	x, weight := r.mean(r.x)
	y, _ := r.mean(r.y)
	sxx := r.product(r.x, x, r.x, x)
	if !(sxx > 0) {
		return Line{}, &quantity.Fault{Code: CodeNoSpan, Field: "x"}
	}
	l.B = r.product(r.x, x, r.y, y) / sxx
	squares := 0.0
	for i, w := range r.w {
		off := w * (r.y[i] - y - l.B*(r.x[i]-x))
		squares += off * off
	}
	var unit float64
	l.Scatter, unit = r.scatter(squares, 2)
	l.centre, l.height, l.uHeight = x, y, unit/math.Sqrt(weight)
	l.UB = unit / math.Sqrt(sxx)
	l.A, l.UA = l.At(x0)
	l.R = (x0 - x) / math.Hypot(x0-x, math.Sqrt(sxx/weight))
	return l, nil
}

// At is the line's height at x and its standard uncertainty, without the scatter
// of a new reading there.
func (l Line) At(x float64) (y, u float64) {
	d := x - l.centre
	if d == 0 {
		return l.height, l.uHeight
	}
	return l.height + l.B*d, math.Hypot(l.uHeight, d*l.UB)
}
