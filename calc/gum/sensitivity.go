package gum

import (
	"math"
	"slices"

	"jointwalk/calc/quantity"
)

// sensitivity is ∂f/∂x_i by central differences with two steps, h and h/2, whose
// errors of the order h² cancel in (4 D(h/2) − D(h))/3. The step is a sixteenth
// of the uncertainty, so that the model is asked only where the input may well
// be and bends little, but no less than 1e-7 of the value, so that nine digits
// survive the difference. An exact input is not stepped: it contributes nothing.
func sensitivity(f Model, x []float64, i int, u float64) float64 {
	if u == 0 {
		return 0
	}
	h := math.Max(u/16, 1e-7*math.Abs(x[i]))
	return (4*slope(f, x, i, h/2) - slope(f, x, i, h)) / 3
}

// slope is the central difference over the step that the numbers really make.
func slope(f Model, x []float64, i int, h float64) float64 {
	up, down := stepped(x, i, h), stepped(x, i, -h)
	return (f(up) - f(down)) / (up[i] - down[i])
}

// stepped is x with one value moved.
func stepped(x []float64, i int, h float64) []float64 {
	moved := slices.Clone(x)
	moved[i] += h
	return moved
}

// Second is the combined standard uncertainty with the terms of second order for
// independent, normal inputs (JCGM 100:2008, 5.1.2, note):
//
//	u²(y) = Σ_i c_i² u_i² + Σ_i Σ_j [½ (∂²f/∂x_i∂x_j)² + ∂f/∂x_i ∂³f/∂x_i∂x_j²] u_i² u_j²
//
// Compare it with Result.U: where they differ, the first order is not enough, and
// where they differ much, neither is. Differences are over half an uncertainty.
// Errors as Evaluate, and CodeTooBent with the field "model". Correlated inputs
// are a caller's mistake.
func (m Measurement) Second(f Model) (float64, error) {
	if len(m.R) > 0 {
		panic("gum: the terms of second order are for independent inputs")
	}
	first, err := m.Evaluate(f)
	if err != nil {
		return 0, err
	}
	variance, size, p := first.U*first.U, 0.0, point{f, m}
	for i, part := range first.Budget {
		for j := range m.Inputs {
			bend, third := p.mixed(i, j), p.third(i, j)
			variance += bend*bend/2 + part.Coefficient*m.Inputs[i].U*third
			size += bend*bend + third*third
		}
	}
	switch {
	case !finite(variance):
		return 0, &quantity.Fault{Code: quantity.CodeNotANumber, Field: "model"}
	case variance < -rounding*size:
		return 0, &quantity.Fault{Code: CodeTooBent, Field: "model"}
	}
	return math.Sqrt(math.Max(variance, 0)), nil
}

// rounding is what the last digits may make of terms that cancel.
const rounding = 1e-12

// point is a model around the inputs' values.
type point struct {
	f Model
	m Measurement
}

// at is the model with input i moved by a half uncertainties and input j by b.
func (p point) at(i int, a float64, j int, b float64) float64 {
	x := p.m.values()
	x[i] += a / 2 * p.m.Inputs[i].U
	x[j] += b / 2 * p.m.Inputs[j].U
	return p.f(x)
}

// mixed is ∂²f/∂x_i∂x_j u_i u_j; for i = j its four points are three: ±1 and 0.
func (p point) mixed(i, j int) float64 {
	return p.at(i, 1, j, 1) - p.at(i, 1, j, -1) - p.at(i, -1, j, 1) + p.at(i, -1, j, -1)
}

// third is ∂³f/∂x_i∂x_j² u_i u_j².
func (p point) third(i, j int) float64 {
	bend := func(a float64) float64 { return p.at(i, a, j, 1) - 2*p.at(i, a, j, 0) + p.at(i, a, j, -1) }
	return 4 * (bend(1) - bend(-1))
}
