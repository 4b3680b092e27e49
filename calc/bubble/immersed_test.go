package bubble_test

import (
	"errors"
	"math"
	"testing"

	"jointwalk/calc/bubble"
	is "jointwalk/calc/estimate"
	"jointwalk/calc/gas"
	"jointwalk/calc/laws"
	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

// observed is a train as the laws want it.
type observed struct{ bubble.Train }

func (o observed) Estimate() (is.Estimate, error) {
	e, err := o.Train.Estimate()
	return e.Estimate, err
}

func tank(depth quantity.Length) bubble.Train {
	train := joint7()
	train.Medium, train.Under = bubble.Water, &bubble.Immersion{Depth: depth, DepthU: depth / 20}
	return train
}

func TestLawsUnderWater(t *testing.T) {
	laws.Hold(t, laws.Kind[observed]{
		Any: func(t *rapid.T) observed {
			train := anyTrain(t)
			train.Medium = bubble.Water
			train.Ambient.Temperature = quantity.Temperature(rapid.Float64Range(274, 330).Draw(t, "water"))
			train.Size.U = train.Size.Diameter * quantity.Length(rapid.Float64Range(0.01, 0.15).Draw(t, "size u"))
			train.Count.Clock = train.Count.Time * quantity.Duration(rapid.Float64Range(0.01, 0.1).Draw(t, "clock u"))
			depth := quantity.Length(rapid.Float64Range(0.01, 1).Draw(t, "depth"))
			train.Under = &bubble.Immersion{Depth: depth, DepthU: depth / 20}
			return observed{train}
		},
		At: func(i observed) gas.Ambient { return i.Ambient },
		More: map[string]func(*observed, float64){
			"size": func(i *observed, f float64) { i.Size.Diameter *= quantity.Length(f) },
			"depth": func(i *observed, f float64) {
				i.Under = &bubble.Immersion{Depth: i.Under.Depth * quantity.Length(f), DepthU: i.Under.DepthU}
			},
			"barometer": func(i *observed, f float64) { i.Ambient.Pressure *= quantity.Absolute(f) },
		},
		Doubt: map[string]func(*observed){
			bubble.InputSize:  func(i *observed) { i.Size.U *= 2 },
			bubble.InputClock: func(i *observed) { i.Count.Clock *= 2 },
		},
		Scalings: map[string]laws.Scaling[observed]{
			"twice the size": {Times: 8, By: func(i *observed) { i.Size.Diameter, i.Size.U = 2*i.Size.Diameter, 2*i.Size.U }},
		},
	})
}

// At 23 °C water weighs 9.78 kPa a metre (ρ = 997.5 kg/m³) and its vapour has 2.81 kPa (handbooks, from memory): a metre of
// depth adds the one, half of the other is taken off in the middle.
func TestDepthAndVapour(t *testing.T) {
	plain := tank(0)
	plain.Under = nil
	base := float64(estimate(t, plain).Molar.Median)
	for depth, pascals := range map[quantity.Length]float64{0: -2810.0 / 2, 1: 9780 - 2810.0/2} {
		train := tank(depth)
		got := float64(estimate(t, train).Molar.Median)/base - 1
		if want := pascals / 101325; math.Abs(got-want) > 0.002 {
			t.Errorf("%v m change the leak by %.4f, want %.4f", depth, got, want)
		}
	}
}

func TestPassingGas(t *testing.T) {
	train := joint7()
	train.Passes = true
	if e := estimate(t, train); !e.AtLeast || !has(e.Warnings, is.WarnPasses) {
		t.Errorf("at least %v, %v", e.AtLeast, e.Warnings)
	}
	train.Medium = bubble.Water // a film is what it passes through
	if e := estimate(t, train); e.AtLeast || has(e.Warnings, is.WarnPasses) {
		t.Errorf("under water: at least %v, %v", e.AtLeast, e.Warnings)
	}
}

func TestImmersionFaults(t *testing.T) {
	for want, spoil := range map[string]func(*bubble.Train){
		"out-of-range depth":               func(b *bubble.Train) { b.Under = &bubble.Immersion{Depth: 3.1} },
		"too-large depth-uncertainty":      func(b *bubble.Train) { b.Under = &bubble.Immersion{Depth: 1, DepthU: 1.1} },
		"out-of-range ambient-temperature": func(b *bubble.Train) { b.Ambient.Temperature = 270 },
	} {
		train := tank(0.2)
		spoil(&train)
		_, err := train.Estimate()
		var fault *quantity.Fault
		if !errors.As(err, &fault) || fault.Code+" "+fault.Field != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}
