package gum_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"jointwalk/calc/gum"
	"pgregory.net/rapid"
)

// flow is the leak rate of a volume in which the pressure drops, V Δp/(R T Δt), bent in T and Δt.
func flow(x []float64) float64 { return x[0] * x[1] / (8.314462618 * x[2] * x[3]) }

// anyFlow are inputs for flow as people meet them.
func anyFlow(t *rapid.T) gum.Measurement {
	input := func(name string, lo, hi, most float64) gum.Input {
		v := rapid.Float64Range(lo, hi).Draw(t, name)
		return gum.Input{
			Name: name, Value: v, U: v * rapid.Float64Range(1e-4, most).Draw(t, "u "+name),
			DoF: rapid.Float64Range(1, 60).Draw(t, "ν "+name),
		}
	}
	return gum.Measurement{Inputs: []gum.Input{
		input("volume", 1e-6, 1e-2, 0.2), input("drop", 1, 1e4, 0.2), input("temperature", 280, 310, 0.01), input("time", 1, 100, 0.1),
	}}
}

// The coefficients of a product are known: ±y/x.
func TestCoefficientsOfProduct(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyFlow(t)
		r := evaluate(t, m, flow)
		for i, power := range []float64{1, 1, -1, -1} {
			want := power * r.Value / m.Inputs[i].Value
			// The rest, of the order (u/16x)⁴/4, is below 1e-6 for 20 %.
			within(t, m.Inputs[i].Name, r.Budget[i].Coefficient, want, 1e-6)
		}
	})
}

// Steps for tiny, large, zero and far-off values.
func TestCoefficientsOfCurves(t *testing.T) {
	for _, c := range []struct {
		what     string
		value, u float64
		f        func(float64) float64
		want     float64
	}{
		{"exp at 0", 0, 1, math.Exp, 1},
		{"exp at 3", 3, 0.01, math.Exp, math.Exp(3)},
		{"sine", 1, 0.3, math.Sin, math.Cos(1)},
		{"root of a large number", 1e9, 1e-3, math.Sqrt, 0.5 / math.Sqrt(1e9)},
		{"a length in nm", 50_000_623, 25, func(x float64) float64 { return x - 50_000_000 }, 1},
		{"close to the end of the domain", 1 - 1e-5, 1e-6, math.Asin, 1 / math.Sqrt(1-(1-1e-5)*(1-1e-5))},
		{"a sharp bend far from zero", 296, 0.02, func(x float64) float64 { return math.Tanh((x - 296) / 0.1) }, 10},
	} {
		m := gum.Measurement{Inputs: []gum.Input{{Name: "x", Value: c.value, U: c.u}}}
		r := evaluate(t, m, func(x []float64) float64 { return c.f(x[0]) })
		within(t, c.what, r.Budget[0].Coefficient, c.want, 1e-6)
	}
}

// Whatever the units: powers of two change no digit.
func TestUnitsDoNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyFlow(t)
		before := evaluate(t, m, flow)
		i := rapid.IntRange(0, 3).Draw(t, "input")
		by := math.Ldexp(1, rapid.IntRange(-20, 20).Draw(t, "power of two"))
		m.Inputs[i].Value *= by
		m.Inputs[i].U *= by
		after := evaluate(t, m, func(x []float64) float64 {
			y := append([]float64(nil), x...)
			y[i] /= by
			return 1024 * flow(y)
		})
		within(t, "value", after.Value, 1024*before.Value, 1e-15)
		within(t, "U", after.U, 1024*before.U, 1e-12)
		within(t, "degrees of freedom", after.DoF, before.DoF, 1e-12)
	})
}

func TestDoubtWidens(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyFlow(t)
		before := evaluate(t, m, flow)
		i := rapid.IntRange(0, 3).Draw(t, "input")
		m.Inputs[i].U *= 2
		after := evaluate(t, m, flow)
		if !(after.U > before.U) || !(after.Budget[i].Percent > before.Budget[i].Percent) {
			t.Fatalf("%s doubled: %+v, then %+v", m.Inputs[i].Name, before, after)
		}
		if k := after.Factor(0.95); !(k >= 1.95) || !(after.Factor(0.99) > k) {
			t.Fatalf("coverage factors %v and %v", k, after.Factor(0.99))
		}
	})
}

// Between the least degrees of freedom and their sum (G.4.1).
func TestDegreesOfFreedomStayBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := anyFlow(t)
		least, sum := math.Inf(1), 0.0
		for _, in := range m.Inputs {
			least, sum = math.Min(least, in.DoF), sum+in.DoF
		}
		if got := evaluate(t, m, flow).DoF; got < least*(1-1e-9) || got > sum*(1+1e-9) {
			t.Fatalf("%v is not from %v to %v", got, least, sum)
		}
	})
}

// Plain Monte Carlo beside the first order: a model that is nearly straight, two
// of its inputs correlated.
func TestAgreesWithMonteCarlo(t *testing.T) {
	const trials, r = 400_000, 0.7
	m := gum.Measurement{
		Inputs: []gum.Input{
			{Name: "volume", Value: 2e-4, U: 2e-6}, {Name: "drop", Value: 180, U: 3},
			{Name: "temperature", Value: 296, U: 1}, {Name: "time", Value: 10, U: 0.05},
		},
		R: [][]float64{{1, r, 0, 0}, {r, 1, 0, 0}, {0, 0, 1, 0}, {0, 0, 0, 1}},
	}
	random := rand.New(rand.NewPCG(3, 2025))
	sum, squares, first := 0.0, 0.0, evaluate(t, m, flow)
	for range trials {
		z := [4]float64{random.NormFloat64(), random.NormFloat64(), random.NormFloat64(), random.NormFloat64()}
		z[1] = r*z[0] + math.Sqrt(1-r*r)*z[1]
		x := make([]float64, 4)
		for i, in := range m.Inputs {
			x[i] = in.Value + in.U*z[i]
		}
		y := flow(x)/first.Value - 1
		sum, squares = sum+y, squares+y*y
	}
	sd := math.Sqrt(squares/trials-sum/trials*sum/trials) * first.Value
	// A standard deviation from so many trials is good to 1/√(2 trials) = 0.11 %; four times that.
	within(t, "U", first.U, sd, 0.0045)
	// Without the correlation it is another one.
	m.R = nil
	if u := evaluate(t, m, flow).U; math.Abs(u/sd-1) < 0.05 {
		t.Errorf("the correlation makes no difference: %v", u)
	}
}

// Second order where the moments are known. Derived: x² of a normal x has the
// variance 4 x² u² + 2 u⁴; the product of two x_i has x₁² u₂² + x₂² u₁² + u₁² u₂².
// x³ has 9 x⁴ u² + 36 x² u⁴ + 15 u⁶, of which the last is of third order.
func TestSecondOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		x, u := rapid.Float64Range(-3, 3).Draw(t, "x"), rapid.Float64Range(0.01, 1).Draw(t, "u")
		x2, u2 := rapid.Float64Range(-3, 3).Draw(t, "x2"), rapid.Float64Range(0.01, 1).Draw(t, "u2")
		m := gum.Measurement{Inputs: []gum.Input{{Name: "1", Value: x, U: u}, {Name: "2", Value: x2, U: u2}}}
		for what, c := range map[string]struct {
			f        gum.Model
			variance float64
		}{
			"square":  {func(x []float64) float64 { return x[0] * x[0] }, 4*x*x*u*u + 2*u*u*u*u},
			"product": {func(x []float64) float64 { return x[0] * x[1] }, x*x*u2*u2 + x2*x2*u*u + u*u*u2*u2},
			"cube":    {func(x []float64) float64 { return x[0] * x[0] * x[0] }, 9*x*x*x*x*u*u + 36*x*x*u*u*u*u},
		} {
			got, err := m.Second(c.f)
			if err != nil {
				t.Fatal(err)
			}
			// Differences of numbers about 1 leave some 1e-14 of them.
			if math.Abs(got*got-c.variance) > 1e-6*c.variance+1e-11 {
				t.Fatalf("%s: variance %v, want %v", what, got*got, c.variance)
			}
		}
	})
}
