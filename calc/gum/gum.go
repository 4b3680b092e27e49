// Package gum carries standard uncertainties through a model to first order, as
// JCGM 100:2008 (the GUM) does:
//
//	y     = f(x₁ … x_n)                        estimate of the result
//	c_i   = ∂f/∂x_i                            sensitivity coefficients
//	u²(y) = Σ_i Σ_j c_i c_j u_i u_j r_ij       combined variance, 5.2.2 (13)
//	ν_eff = u⁴(y) / Σ_i (c_i u_i)⁴/ν_i         effective degrees of freedom, G.4.1 (G.2b)
//	U     = t_p(ν_eff) u(y)                    expanded uncertainty, G.6.4
//
// with the standard uncertainties u_i, their degrees of freedom ν_i and the
// correlation coefficients r_ij of the inputs; t_p(ν) encloses the share p of
// Student's t distribution. ν_eff stays a real number; the GUM's own examples cut
// it down to a whole one. Every quantity is in the unit that the model takes and
// gives; an uncertainty is in the unit of its value.
//
// It is for models that are close to straight over the width of their inputs;
// Second tells what the bend adds. Products of wide factors belong to spread.
package gum

import (
	"math"

	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
)

// The codes of this package's faults.
const (
	// CodeCorrelation: no inputs can be correlated like this: the matrix is not symmetric, its diagonal is not 1, or some
	// combination of the inputs would have a variance below zero.
	CodeCorrelation = "correlation-impossible"
	// CodeTooBent: the terms of second order make the variance negative; the model is too far from straight.
	CodeTooBent = "too-bent"
	// CodeTooFewReadings: one reading has no scatter; it takes two.
	CodeTooFewReadings = "too-few-readings"
	// CodeNoScatter: readings that are all alike tell nothing of their uncertainty.
	CodeNoScatter = "no-scatter"
)

// Input is one input of a measurement.
type Input struct {
	// Name is for the budget and for faults.
	Name string
	// Value is the estimate, any finite number.
	Value float64
	// U is its standard uncertainty, at least 0; 0 for what is known exactly.
	U float64
	// DoF are the degrees of freedom of U, whole or not. 0 and +Inf both mean that U is known well: unlimited.
	DoF float64
}

// Model is the result as a function of the inputs' values, in their order. It
// must give the same for the same values, and neither keep nor change them.
type Model func(x []float64) float64

// Measurement is what is known before the model comes in.
type Measurement struct {
	Inputs []Input
	// R holds the correlation coefficients, a row and a column an input; nil when all are independent.
	R [][]float64
}

// Part is a line of the budget.
type Part struct {
	// Input is the input's name.
	Input string
	// Coefficient is c = ∂f/∂x; 0 for an exact input when Evaluate worked it out.
	Coefficient float64
	// U is |c| u, what the input alone would make of the uncertainty of the result.
	U float64
	// Percent of the variance: c_i u_i Σ_j r_ij c_j u_j / u²(y). They sum to 100, or are all 0 when nothing is uncertain.
	// Correlation can put some of them below 0 or above 100.
	Percent float64
}

// Result is a measurement carried through a model.
type Result struct {
	// Value is the model at the inputs' values.
	Value float64
	// U is the combined standard uncertainty.
	U float64
	// DoF are the effective degrees of freedom, +Inf for unlimited.
	DoF float64
	// Budget has a part for each input, in their order.
	Budget []Part
}

// Evaluate works out coefficients by central differences and combines. Errors
// are those of Linear.
func (m Measurement) Evaluate(f Model) (Result, error) {
	if err := m.check(); err != nil {
		return Result{}, err
	}
	x := m.values()
	c := make([]float64, len(x))
	for i, in := range m.Inputs {
		c[i] = sensitivity(f, x, i, in.U)
	}
	return m.Linear(f(x), c)
}

// Linear combines with coefficients that the caller knows, one an input; value is
// that of the result. Errors are *quantity.Fault: "not-a-number" for a value, U
// or DoF, "not-positive" for a U or DoF below 0, both with the input's name as
// the field; CodeCorrelation with the field "correlation"; "not-a-number" with
// the field "model" where value or a coefficient is none. Another number of
// coefficients is a caller's mistake.
func (m Measurement) Linear(value float64, coefficients []float64) (Result, error) {
	if len(coefficients) != len(m.Inputs) {
		panic("gum: one coefficient an input")
	}
	if err := m.check(); err != nil {
		return Result{}, err
	}
	shares, variance := m.shares(coefficients, coefficients)
	if !finite(value) || !finite(variance) {
		return Result{}, &quantity.Fault{Code: quantity.CodeNotANumber, Field: "model"}
	}
	result := Result{Value: value, U: math.Sqrt(math.Max(variance, 0))}
	for i, in := range m.Inputs {
		part := Part{Input: in.Name, Coefficient: coefficients[i], U: math.Abs(coefficients[i]) * in.U}
		if variance > 0 {
			part.Percent = shares[i] / variance * 100
		}
		result.Budget = append(result.Budget, part)
	}
	result.DoF = m.effective(result.Budget)
	return result, nil
}

// Factor is the coverage factor k for a probability p, 0 < p < 1: between the
// result less k U and the result plus k U the quantity lies with p.
func (r Result) Factor(p float64) float64 {
	if !(p > 0 && p < 1) {
		panic("gum: a coverage factor wants 0 < p < 1")
	}
	return spread.Student{Scale: 1, DoF: r.DoF}.Quantile((1 + p) / 2)
}

// Expanded is the expanded uncertainty, Factor times U.
func (r Result) Expanded(p float64) float64 {
	return r.Factor(p) * r.U
}

// values are the inputs' values.
func (m Measurement) values() []float64 {
	x := make([]float64, len(m.Inputs))
	for i, in := range m.Inputs {
		x[i] = in.Value
	}
	return x
}

// check is nil for inputs and correlations that can be.
func (m Measurement) check() error {
	for _, in := range m.Inputs {
		if !finite(in.Value) || !finite(in.U) || math.IsNaN(in.DoF) {
			return &quantity.Fault{Code: quantity.CodeNotANumber, Field: in.Name}
		}
		if in.U < 0 || in.DoF < 0 {
			return &quantity.Fault{Code: quantity.CodeNotPositive, Field: in.Name}
		}
	}
	return m.checkCorrelation()
}

// finite is false for NaN and both infinities.
func finite(v float64) bool { return v-v == 0 }
