// Package estimate is what an observation of any kind says of its leak: a leak rate as a distribution, which input makes it
// wide, and what to tell beside it.
//
// A result is a function f of independent inputs, each pushed through a column of spread's point set of its own. The budget
// gives each input the share that it has in
//
//	var ln f(m₁ … xᵢ … mₖ)
//
// the variance of the logarithm of the result with all other inputs held at their medians. For a product of powers the shares
// are exact; otherwise they are those of a first order.
package estimate

import (
	"math"

	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
)

// Estimate is what was seen of a leak, as a number.
type Estimate struct {
	// Volume is the flow of gas at ambient pressure and temperature.
	Volume spread.Figure[quantity.VolumeFlow]
	// Molar is the leak rate.
	Molar spread.Figure[quantity.MolarFlow]
	// Sample is the leak rate in mol/s at every point of spread's set.
	Sample spread.Sample
	// Budget has a part for each input, in the order in which the observation lists them.
	Budget []spread.Part
	// Width is the standard deviation of the logarithm of the rate, by the budget.
	Width float64
	// Dominant is the input with the largest part, "" when nothing varies.
	Dominant string
	// AtLeast says that the leak is this or more: a part of it left no bubble.
	AtLeast bool
	// Warnings are codes, in the order of their listing; nil for none.
	Warnings []string
}

// WarnPasses is the warning that the gas passes through a film of solution: the bubbles hold less than leaked.
const WarnPasses = "gas-passes-film"

// Input is one thing that is not known exactly.
type Input struct {
	Name string
	// Of is above zero nearly everywhere; what is not makes no sense of a logarithm.
	Of spread.Distribution
}

// Of pushes inputs through a function that gives the leak rate in mol/s, above zero for all values of the inputs, in their
// order. More than spread.MaxInputs inputs with a width are a caller's mistake.
func Of(inputs []Input, at gas.Ambient, rate func(x []float64) float64) Estimate {
	var source spread.Source
	columns := make([]spread.Sample, len(inputs))
	medians := make([]float64, len(inputs))
	for i, in := range inputs {
		columns[i], medians[i] = source.Draw(in.Of), in.Of.Quantile(0.5)
	}
	x := make([]float64, len(inputs))
	sample := spread.Combine(func(point int) float64 {
		for i, column := range columns {
			x[i] = column[point]
		}
		return rate(x)
	})
	alone := make([]spread.Varied, len(inputs))
	for i, in := range inputs {
		copy(x, medians)
		alone[i] = spread.Varied{Input: in.Name, Logs: spread.Alone(in.Of, func(value float64) float64 { x[i] = value; return math.Log(rate(x)) })}
	}
	figure := spread.Summary[quantity.MolarFlow](sample)
	budget, width := spread.Budget(alone)
	return Estimate{
		Volume:   spread.Times[quantity.VolumeFlow](figure, float64(gas.Volume(1, at))),
		Molar:    figure,
		Sample:   sample,
		Budget:   budget,
		Width:    width,
		Dominant: dominant(budget),
	}
}

// dominant is the input with the largest part.
func dominant(budget []spread.Part) string {
	best := spread.Part{}
	for _, p := range budget {
		if p.Percent > best.Percent {
			best = p
		}
	}
	return best.Input
}

// Passing marks the estimate of a film on a gas that passes through it.
func (e *Estimate) Passing(passes bool) {
	if passes {
		e.AtLeast = true
		e.Warnings = append(e.Warnings, WarnPasses)
	}
}
