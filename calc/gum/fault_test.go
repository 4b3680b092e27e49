package gum_test

import (
	"errors"
	"math"
	"testing"

	"jointwalk/calc/gum"
	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

func double(x []float64) float64 { return 2 * x[0] }

// fault fails unless the error is a fault with this code and field.
func fault(t *testing.T, err error, code, field string) {
	t.Helper()
	var f *quantity.Fault
	if !errors.As(err, &f) || f.Code != code || f.Field != field {
		t.Errorf("got %v, want %s %s", err, code, field)
	}
}

func TestFaultsOfInputs(t *testing.T) {
	for _, c := range []struct {
		in   gum.Input
		code string
	}{
		{gum.Input{Value: math.NaN()}, quantity.CodeNotANumber},
		{gum.Input{Value: math.Inf(-1)}, quantity.CodeNotANumber},
		{gum.Input{U: math.Inf(1)}, quantity.CodeNotANumber},
		{gum.Input{DoF: math.NaN()}, quantity.CodeNotANumber},
		{gum.Input{U: -1}, quantity.CodeNotPositive},
		{gum.Input{U: 1, DoF: -1}, quantity.CodeNotPositive},
	} {
		c.in.Name = "weight"
		m := gum.Measurement{Inputs: []gum.Input{c.in}}
		_, err := m.Evaluate(double)
		fault(t, err, c.code, "weight")
		_, err = m.Second(double)
		fault(t, err, c.code, "weight")
	}
}

func TestFaultsOfModel(t *testing.T) {
	m := gum.Measurement{Inputs: []gum.Input{{Name: "x", Value: 1, U: 0.1}}}
	_, err := m.Evaluate(func(x []float64) float64 { return math.Log(-x[0]) })
	fault(t, err, quantity.CodeNotANumber, "model")
	// A number at the value, none beside it.
	_, err = m.Evaluate(func(x []float64) float64 { return math.Sqrt(x[0]*x[0] - 1) })
	fault(t, err, quantity.CodeNotANumber, "model")
	// Numbers close by, none half an uncertainty off.
	_, err = m.Second(func(x []float64) float64 { return math.Sqrt(x[0] - 0.98) })
	fault(t, err, quantity.CodeNotANumber, "model")
	_, err = m.Linear(1, []float64{math.Inf(1)})
	fault(t, err, quantity.CodeNotANumber, "model")
	// A sine at its steepest over a wide input: c f''' u⁴ takes more than c² u².
	m = gum.Measurement{Inputs: []gum.Input{{Name: "x", U: 1.3}}}
	_, err = m.Second(func(x []float64) float64 { return math.Sin(x[0]) })
	fault(t, err, gum.CodeTooBent, "model")
}

func TestFaultsOfReadings(t *testing.T) {
	_, err := gum.Observe([]float64{1})
	fault(t, err, gum.CodeTooFewReadings, "readings")
	_, err = gum.Observe([]float64{1, math.NaN()})
	fault(t, err, quantity.CodeNotANumber, "readings")
	_, err = gum.Together([]string{"a", "b"}, []float64{1, 2}, []float64{1, math.Inf(1)})
	fault(t, err, quantity.CodeNotANumber, "b")
	_, _, err = gum.Welch(gum.Observed{N: 2, Mean: math.NaN(), SD: 1}, gum.Observed{N: 2, SD: 1})
	fault(t, err, quantity.CodeNotANumber, "a")
}

func TestImpossibleCorrelations(t *testing.T) {
	for _, r := range [][][]float64{
		{{1, 0.5, 0}, {0.4, 1, 0}, {0, 0, 1}},
		{{1, 0, 0}, {0, 0.9, 0}, {0, 0, 1}},
		{{1, 1.2, 0}, {1.2, 1, 0}, {0, 0, 1}},
		{{1, math.NaN(), 0}, {math.NaN(), 1, 0}, {0, 0, 1}},
		// Each pair can be, all three together cannot.
		{{1, 0.9, -0.9}, {0.9, 1, 0.9}, {-0.9, 0.9, 1}},
		{{1, 1, 0}, {1, 1, 0.5}, {0, 0.5, 1}},
	} {
		m := gum.Measurement{Inputs: make([]gum.Input, 3), R: r}
		_, err := m.Evaluate(double)
		fault(t, err, gum.CodeCorrelation, "correlation")
	}
}

// What three numbers drawn from two sources have as correlations is possible,
// up to its very edge; no variance comes out below zero.
func TestPossibleCorrelations(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := gum.Measurement{R: make([][]float64, 3)}
		var angle [3]float64
		for i := range angle {
			angle[i] = rapid.Float64Range(0, 2*math.Pi).Draw(t, "angle")
			m.Inputs = append(m.Inputs, gum.Input{Name: "x", Value: 1, U: rapid.Float64Range(0, 2).Draw(t, "u"), DoF: 3})
			m.R[i] = make([]float64, 3)
		}
		for i := range angle {
			for j := range angle {
				m.R[i][j] = math.Cos(angle[i] - angle[j])
			}
		}
		r, err := m.Linear(3, []float64{1, 1, 1})
		if err != nil {
			t.Fatal(err)
		}
		x, y := 0.0, 0.0
		for i, in := range m.Inputs {
			x, y = x+in.U*math.Cos(angle[i]), y+in.U*math.Sin(angle[i])
		}
		if math.Abs(r.U-math.Hypot(x, y)) > 1e-6 || !(r.DoF >= 3*(1-1e-9)) {
			t.Fatalf("U = %v with %v degrees of freedom, want %v", r.U, r.DoF, math.Hypot(x, y))
		}
	})
}

// Inputs that cancel leave nothing, and exact ones too.
func TestNothingUncertain(t *testing.T) {
	m := gum.Measurement{
		Inputs: []gum.Input{{Name: "a", Value: 5, U: 1, DoF: 3}, {Name: "b", Value: 4, U: 1, DoF: 3}},
		R:      [][]float64{{1, 1}, {1, 1}},
	}
	r := evaluate(t, m, func(x []float64) float64 { return x[0] - x[1] })
	if r.Value != 1 || r.U > 1e-6 {
		t.Errorf("got %+v", r)
	}
	exact := evaluate(t, gum.Measurement{Inputs: []gum.Input{{Name: "a", Value: 5}}}, double)
	if exact.U != 0 || !math.IsInf(exact.DoF, 1) || exact.Expanded(0.95) != 0 || exact.Budget[0].Percent != 0 {
		t.Errorf("got %+v", exact)
	}
	if got := m.Correlate(gum.Result{Budget: make([]gum.Part, 2)}, r); got != 0 {
		t.Errorf("what is exact correlates by %v", got)
	}
}

// Correlated inputs enter the degrees of freedom as one, others on their own.
func TestDegreesOfFreedomOfGroups(t *testing.T) {
	m := gum.Measurement{
		Inputs: []gum.Input{{Name: "a", U: 3, DoF: 5}, {Name: "b", U: 2, DoF: 9}, {Name: "c", U: 3, DoF: 7}, {Name: "d", U: 1, DoF: math.Inf(1)}},
		R:      [][]float64{{1, 0, 0.5, 0}, {0, 1, 0, 0}, {0.5, 0, 1, 0}, {0, 0, 0, 1}},
	}
	r := evaluate(t, m, func(x []float64) float64 { return x[0] + x[1] + x[2] + x[3] })
	// Derived: a and c make 9 + 9 + 2·0.5·9 = 27 with 5, b makes 4 with 9, d 1: 32²/(27²/5 + 4²/9).
	within(t, "degrees of freedom", r.DoF, 32*32/(27.0*27/5+16.0/9), 1e-9)
}

func TestCallersMistakesPanic(t *testing.T) {
	one := gum.Measurement{Inputs: []gum.Input{{Name: "x", Value: 1, U: 1}}}
	for name, f := range map[string]func(){
		"coefficients": func() { _, _ = one.Linear(1, nil) },
		"probability":  func() { evaluate(t, one, double).Factor(1) },
		"results":      func() { one.Correlate(gum.Result{}, gum.Result{}) },
		"names":        func() { _, _ = gum.Together([]string{"a"}) },
		"lengths":      func() { _, _ = gum.Together([]string{"a", "b"}, []float64{1, 2}, []float64{1, 2, 3}) },
		"rows":         func() { _, _ = gum.Measurement{R: [][]float64{{1}}}.Evaluate(double) },
		"columns": func() {
			_, _ = gum.Measurement{Inputs: one.Inputs, R: [][]float64{{1, 0}}}.Evaluate(double)
		},
		"second": func() {
			_, _ = gum.Measurement{Inputs: one.Inputs, R: [][]float64{{1}}}.Second(double)
		},
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%s: a caller's mistake went through", name)
				}
			}()
			f()
		}()
	}
}
