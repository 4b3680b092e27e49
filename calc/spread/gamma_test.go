package spread_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"jointwalk/calc/spread"
	"pgregory.net/rapid"
)

// realGammaBelow integrates the density over ln x, apart from all that the
// quantile uses; the integrand dies out at both ends.
func realGammaBelow(k, x float64) float64 {
	density := func(s float64) float64 { return math.Exp(k*s - math.Exp(s) - k*math.Log(k) + k) }
	lo, hi, at := math.Log(k)-12/math.Sqrt(k)-40/k, math.Log(k+12*math.Sqrt(k)+60), math.Log(x)
	below := simpson(at-lo, func(s float64) float64 { return density(lo + s) })
	above := simpson(hi-at, func(s float64) float64 { return density(at + s) })
	return below / (below + above)
}

func TestRealGammaUndoesItsDistribution(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := math.Exp(rapid.Float64Range(math.Log(0.2), math.Log(2000)).Draw(t, "ln shape"))
		p := rapid.Float64Range(1e-4, 1-1e-4).Draw(t, "p")
		x := 3 * spread.RealGamma{Shape: k, Rate: 3}.Quantile(p)
		if got := realGammaBelow(k, x); math.Abs(got-p) > 1e-8 {
			t.Fatalf("shape %v: %v lies below the quantile of %v", k, got, p)
		}
	})
}

// A whole shape is Gamma's, which sums a finite series.
func TestRealGammaOfWholeShape(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.IntRange(1, 20_000).Draw(t, "k")
		p := rapid.Float64Range(1e-4, 1-1e-4).Draw(t, "p")
		got, want := spread.RealGamma{float64(k), 7}.Quantile(p), spread.Gamma{Shape: k, Rate: 7}.Quantile(p)
		if math.Abs(got-want) > 1e-9*want {
			t.Fatalf("shape %d at %v: %v, and as a whole shape %v", k, p, got, want)
		}
	})
}

// Shape ½ and rate ½ are the square of a normal variable (derived).
func TestRealGammaOfHalf(t *testing.T) {
	for _, p := range []float64{1e-6, 1e-3, 0.1, 0.5, 0.9, 0.999} {
		z := spread.Normal{SD: 1}.Quantile((1 + p) / 2)
		close(t, fmt.Sprint("at ", p), spread.RealGamma{Shape: 0.5, Rate: 0.5}.Quantile(p), z*z, 1e-9)
	}
}

func TestRealGammaEdges(t *testing.T) {
	// Close to zero the distribution function is x^k/Γ(k+1): (0.3 Γ(1.02))^50.
	want := math.Pow(0.3*math.Gamma(1.02), 50)
	close(t, "shape 0.02", spread.RealGamma{Shape: 0.02, Rate: 1}.Quantile(0.3), want, 1e-9)
	if got := (spread.RealGamma{Shape: 1e-4, Rate: 1}).Quantile(0.3); got != 0 {
		t.Errorf("below the smallest number the quantile is %v", got)
	}
	for _, k := range []float64{0, -1, math.NaN(), math.Inf(1)} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("shape %v went through", k)
				}
			}()
			spread.RealGamma{Shape: k, Rate: 1}.Quantile(0.2)
		}()
	}
}

// drawGamma draws a gamma variable of shape k ≥ 1 and rate 1: x = s tan(πu) + k − 1 under a curve
// that covers the density, kept with the ratio of the two.
func drawGamma(r *rand.Rand, k float64) float64 {
	s := math.Sqrt(2*k - 1)
	for {
		y := math.Tan(math.Pi * r.Float64())
		x := s*y + k - 1
		if x > 0 && r.Float64() <= (1+y*y)*math.Exp((k-1)*math.Log(x/(k-1))-s*y) {
			return x
		}
	}
}

// Plain Monte Carlo beside the fixed set: Student's t as a normal variable over
// the root of a gamma variable, and a gamma variable of shape 2.7.
func TestStudentAndGammaAgreeWithMonteCarlo(t *testing.T) {
	const trials, dof = 400_000, 5.4
	r := rand.New(rand.NewPCG(11, 2025))
	ts, gs := make([]float64, trials), make([]float64, trials)
	for i := range ts {
		ts[i] = r.NormFloat64() / math.Sqrt(2*drawGamma(r, dof/2)/dof)
		gs[i] = drawGamma(r, dof/2)
	}
	slices.Sort(ts)
	slices.Sort(gs)
	var s spread.Source
	student, gamma := s.Draw(spread.Student{Scale: 1, DoF: dof}), s.Draw(spread.RealGamma{Shape: dof / 2, Rate: 1})
	for _, q := range []float64{0.025, 0.1, 0.5, 0.9, 0.975} {
		// Five times the error of an order statistic: √(q(1−q)/trials) in probability.
		d := 5 * math.Sqrt(q*(1-q)/trials)
		for name, pair := range map[string][2][]float64{"t": {student, ts}, "gamma": {gamma, gs}} {
			drawn := func(q float64) float64 { return pair[1][int(q*trials)] }
			if got := spread.Sample(pair[0]).Quantile(q); got < drawn(q-d) || got > drawn(q+d) {
				t.Errorf("%s, quantile %v: got %v, Monte Carlo %v", name, q, got, drawn(q))
			}
		}
	}
}

// A rate of about 2.5 events a second, as narrow as two and a half events tell it.
func ExampleRealGamma() {
	d := spread.RealGamma{Shape: 2.5, Rate: 1}
	fmt.Printf("%.3f to %.3f\n", d.Quantile(0.025), d.Quantile(0.975))
	// Output: 0.416 to 6.416
}
