// Package class gives a leak a rate where nothing can be counted: by what its bubbles look like.
//
// Published practice says that the type of bubble gives an approximation of the size of a leak, no measure (ASTM E515). So
// each class is an interval of two decades or more, lognormal with 95 % between its ends. The ends are judgement: they stand
// for a film of solution on a joint at some 100 to 400 kPa, and are no standard's.
package class

import (
	"math"

	"jointwalk/calc/estimate"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
)

// Class is what the bubbles look like.
type Class string

// The classes, from the smallest leak to the largest.
const (
	// FrothCreeping: a white collar of froth that creeps along the joint within a minute or more.
	FrothCreeping Class = "froth-creeping"
	// String: fine bubbles one after the other, too fast or too small to be counted.
	String Class = "string"
	// GrowingBursting: bubbles of several millimetres that grow and burst all the time.
	GrowingBursting Class = "growing-bursting"
	// Heard: the leak is heard, or felt with a wet probe, and the solution foams up at once.
	Heard Class = "heard"
	// BlownOff: the solution is blown off the joint.
	BlownOff Class = "blown-off"
)

// CodeUnknown is the Fault's code for a class that is not listed.
const CodeUnknown = "class-unknown"

// InputClass is the one part of the budget.
const InputClass = "class"

// WarnJudgement is the warning that every class bears: its ends are judgement.
const WarnJudgement = "class-by-judgement"

// Span is between which leak rates a class lies, in std cm³/min at 0 °C and 101.325 kPa.
type Span struct {
	Class    Class
	Low, Top float64
	// Open says that there is no upper end: the class is this or more.
	Open bool
}

// spans of the classes. Judgement: common practice, no source.
var spans = [...]Span{
	{Class: FrothCreeping, Low: 0.0005, Top: 0.05},
	{Class: String, Low: 0.01, Top: 1},
	{Class: GrowingBursting, Low: 0.2, Top: 20},
	{Class: Heard, Low: 3, Top: 300},
	{Class: BlownOff, Low: 20, Top: 2000, Open: true},
}

// Spans lists the classes from the smallest leak to the largest.
func Spans() []Span { return append([]Span(nil), spans[:]...) }

// Seen is a joint that was classed.
type Seen struct {
	Class   Class
	Ambient gas.Ambient
	// Passes says that the gas passes through a film.
	Passes bool
}

// Estimate is the leak rate. Errors are *quantity.Fault: CodeUnknown, and "not-positive" or "not-a-number" with the field
// "ambient-pressure" or "ambient-temperature".
func (s Seen) Estimate() (estimate.Estimate, error) {
	span, ok := spanOf(s.Class)
	if !ok {
		return estimate.Estimate{}, &quantity.Fault{Code: CodeUnknown, Field: "class", Text: string(s.Class)}
	}
	if err := s.Ambient.Check(); err != nil {
		return estimate.Estimate{}, err
	}
	std, err := quantity.From[quantity.MolarFlow](1, "std cm3/min@0C")
	if err != nil {
		panic("class: " + err.Error())
	}
	inputs := []estimate.Input{{Name: InputClass, Of: span.distribution()}}
	e := estimate.Of(inputs, s.Ambient, func(x []float64) float64 { return x[0] * float64(std) })
	e.AtLeast = span.Open
	e.Warnings = append(e.Warnings, WarnJudgement)
	e.Passing(s.Passes)
	return e, nil
}

func spanOf(c Class) (Span, bool) {
	for _, s := range spans {
		if s.Class == c {
			return s, true
		}
	}
	return Span{}, false
}

// distribution has 95 % between the ends: 1.96 standard deviations of the logarithm on each side of their geometric mean.
func (s Span) distribution() spread.Distribution {
	z := spread.Normal{SD: 1}.Quantile(0.975)
	return spread.Lognormal{Median: math.Sqrt(s.Low * s.Top), Sigma: math.Log(s.Top/s.Low) / (2 * z)}
}
