// Package fit lays curves through readings by least squares:
//
//	y = a + b (x − x₀)         Straight   (JCGM 100:2008, H.3)
//	y = A exp(−B x)            Decline    the depletion of a leak standard
//	y = C + A exp(−x/τ)        Settle     the tail of a fill towards its level C
//
// What is least is Σ w² (y − curve)². Readings without a standard uncertainty
// count alike, w = 1, and their residuals tell the uncertainties: with n readings
// and m parameters the residual standard deviation is
//
//	s = √(Σ (y − curve)² / (n − m))
//
// with n − m degrees of freedom. With n = m the curve goes through all readings,
// and the uncertainties are unknown: +Inf. Readings that have one, U, count with
// w = 1/U; then the uncertainties follow from U alone and their degrees of
// freedom are unlimited, +Inf. Those of the exponentials are the curvature of the
// sum at its least (first order in the parameters).
//
// x is often a time in s and y a pressure in Pa, but any two units will do: an
// uncertainty has the unit of its value.
package fit

import (
	"math"

	"jointwalk/calc/quantity"
)

// The codes of this package's faults. Those from CodeNotFalling on mean "cannot
// say": the readings are in order but do not determine the curve.
const (
	// CodeTooFewReadings: fewer readings than parameters.
	CodeTooFewReadings = "too-few-readings"
	// CodeUncertaintyMixed: some readings have a standard uncertainty and some have none.
	CodeUncertaintyMixed = "uncertainty-mixed"
	// CodeTimesDisordered: the times of an exponential do not rise from reading to reading.
	CodeTimesDisordered = "times-disordered"
	// CodeNoSpan: all readings were taken at one x.
	CodeNoSpan = "no-span"
	// CodeNotFalling: the readings do not fall towards a level.
	CodeNotFalling = "not-falling"
	// CodeTooSlow: they fall as good as straight: the time constant is beyond SlowestTail spans, or the fall gets steeper.
	CodeTooSlow = "too-slow"
	// CodeTooFast: the curve is over between the first two readings.
	CodeTooFast = "too-fast"
	// CodeTooVague: the time constant is uncertain by more than half of itself.
	CodeTooVague = "too-vague"
)

// Point is a reading Y at X. U is the standard uncertainty of Y, 0 for unknown.
type Point struct{ X, Y, U float64 }

// readings are points as columns, with weights.
type readings struct {
	x, y, w []float64
	// given tells that the weights are 1/U.
	given bool
}

// read is the points as columns; there must be at least as many as parameters.
func read(points []Point, parameters int) (r readings, err error) {
	if len(points) < parameters {
		return r, &quantity.Fault{Code: CodeTooFewReadings, Field: "readings"}
	}
	r.given = points[0].U > 0
	for _, p := range points {
		switch {
		case p.X-p.X != 0:
			return r, &quantity.Fault{Code: quantity.CodeNotANumber, Field: "x"}
		case p.Y-p.Y != 0:
			return r, &quantity.Fault{Code: quantity.CodeNotANumber, Field: "y"}
		case p.U-p.U != 0:
			return r, &quantity.Fault{Code: quantity.CodeNotANumber, Field: "uncertainty"}
		case p.U < 0:
			return r, &quantity.Fault{Code: quantity.CodeNotPositive, Field: "uncertainty"}
		case p.U > 0 != r.given:
			return r, &quantity.Fault{Code: CodeUncertaintyMixed, Field: "uncertainty"}
		}
		w := 1.0
		if r.given {
			w = 1 / p.U
		}
		r.x, r.y, r.w = append(r.x, p.X), append(r.y, p.Y), append(r.w, w)
	}
	return r, nil
}

// rising is nil when every reading is later than the one before it.
func (r readings) rising() error {
	for i := 1; i < len(r.x); i++ {
		if !(r.x[i] > r.x[i-1]) {
			return &quantity.Fault{Code: CodeTimesDisordered, Field: "x"}
		}
	}
	return nil
}

// mean is the weighted mean of a column, and the sum of the squared weights.
func (r readings) mean(column []float64) (mean, weight float64) {
	for i, v := range column {
		square := r.w[i] * r.w[i]
		mean += square * (v - column[0])
		weight += square
	}
	return column[0] + mean/weight, weight
}

// product is Σ w² (a − a₀)(b − b₀).
func (r readings) product(a []float64, a0 float64, b []float64, b0 float64) (sum float64) {
	for i, w := range r.w {
		sum += w * w * (a[i] - a0) * (b[i] - b0)
	}
	return sum
}

// Scatter is how well a curve meets its readings.
type Scatter struct {
	// S is the residual standard deviation in the unit of Y; where the readings have an uncertainty it is a pure number
	// instead: about 1 when the curve and the uncertainties are right. 0 when the curve goes through all readings.
	S float64
	// DoF are the degrees of freedom of the parameters' uncertainties: n − m, or +Inf where the readings' uncertainties are
	// given. With 0 the uncertainties are unknown, +Inf.
	DoF float64
}

// scatter sums squares of weighted residuals up, and gives the standard
// uncertainty of a reading of weight 1.
func (r readings) scatter(squares float64, parameters int) (s Scatter, unit float64) {
	s.DoF = float64(len(r.x) - parameters)
	if s.DoF > 0 {
		s.S = math.Sqrt(squares / s.DoF)
	}
	switch {
	case r.given:
		s.DoF = math.Inf(1)
		return s, 1
	case s.DoF == 0:
		return s, math.Inf(1)
	}
	return s, s.S
}
