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

// Plain Monte Carlo (JCGM 101) beside the fixed set: another generator, other
// ways to draw, the same product of powers.
func TestAgreesWithMonteCarlo(t *testing.T) {
	const trials = 1_000_000
	r := rand.New(rand.NewPCG(7, 2025))
	drawn := make([]float64, trials)
	for i := range drawn {
		size := 3 + 0.3*r.NormFloat64()
		shape := 0.5 + 0.5*r.Float64()
		count := 4 + r.Float64() - r.Float64()
		time := 20 * math.Exp(0.05*r.NormFloat64())
		drawn[i] = size * size * size * shape * count / time
	}
	slices.Sort(drawn)
	var s spread.Source
	size, shape := s.Draw(spread.Positive{Mean: 3, SD: 0.3}), s.Draw(spread.Rectangular{Lo: 0.5, Hi: 1})
	count, time := s.Draw(spread.Triangular{Lo: 3, Mode: 4, Hi: 5}), s.Draw(spread.Lognormal{Median: 20, Sigma: 0.05})
	p := spread.Combine(func(i int) float64 { return size[i] * size[i] * size[i] * shape[i] * count[i] / time[i] })
	// The set's resolution for this product: 2 % of half the width.
	at := func(q float64) float64 { return drawn[int(q*trials)] }
	half := math.Log(at(0.975)/at(0.025)) / 2
	for _, q := range []float64{0.025, 0.1, 0.5, 0.9, 0.975} {
		if off := math.Abs(math.Log(p.Quantile(q) / at(q))); off > 0.02*half {
			t.Errorf("quantile %v: got %v, Monte Carlo %v", q, p.Quantile(q), at(q))
		}
	}
}

// A product whose logarithm is symmetric has the product of the medians as median.
func TestSymmetricMedian(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var s spread.Source
		want := 1.0
		product := spread.Constant(1)
		for range rapid.IntRange(1, spread.MaxInputs).Draw(t, "inputs") {
			m := rapid.Float64Range(0.1, 10).Draw(t, "median")
			sigma := rapid.Float64Range(0, 0.5).Draw(t, "sigma")
			for i, x := range s.Draw(spread.Lognormal{Median: m, Sigma: sigma}) {
				product[i] *= x
			}
			want *= m
		}
		f := spread.Summary[float64](product)
		if math.Abs(f.Median/want-1) > 3e-4 || f.Lo > f.Median || f.Hi < f.Median {
			t.Fatalf("got %+v, want the median %v", f, want)
		}
		if math.Abs(f.Lo*f.Hi/(f.Median*f.Median)-1) > 3e-4 {
			t.Fatalf("the interval of a symmetric logarithm is lopsided: %+v", f)
		}
	})
}

// The budget of 10 a³ b⁻¹ c, with a and b lognormal and c exact, is known in closed form.
func TestBudget(t *testing.T) {
	a, b := spread.Lognormal{Median: 2, Sigma: 0.1}, spread.Lognormal{Median: 5, Sigma: 0.4}
	power := func(n float64) func(float64) float64 { return func(x float64) float64 { return n * math.Log(x) } }
	parts, sigma := spread.Budget([]spread.Varied{
		{Input: "a", Logs: spread.Alone(a, power(3))}, {Input: "b", Logs: spread.Alone(b, power(-1))}, {Input: "c", Logs: spread.Alone(spread.Exact(7), power(1))},
	})
	close(t, "a", parts[0].Percent, 36, 1e-3)
	close(t, "b", parts[1].Percent, 64, 1e-3)
	close(t, "sigma", sigma, 0.5, 3e-3)
	if parts[2].Percent != 0 || parts[2].Input != "c" {
		t.Errorf("an exact input takes part: %+v", parts[2])
	}
	// The budget's width is the product's own.
	var s spread.Source
	x, y := s.Draw(a), s.Draw(b)
	_, sd := spread.Combine(func(i int) float64 { return math.Log(x[i])*3 - math.Log(y[i]) }).Moments()
	close(t, "product", sd, sigma, 3e-3)
}

// One input alone has its own moments: of the normal distribution to the 0.3 % that its 512 midpoints leave out.
func TestAlone(t *testing.T) {
	mean, sd := spread.Alone(spread.Normal{Mean: 4, SD: 2}, func(x float64) float64 { return x }).Moments()
	close(t, "mean", mean, 4, 1e-9)
	close(t, "sd", sd, 2, 3e-3)
	mean, sd = spread.Alone(spread.Rectangular{Lo: 0, Hi: 6}, func(x float64) float64 { return x }).Moments()
	close(t, "mean of a rectangle", mean, 3, 1e-9)
	close(t, "sd of a rectangle", sd, math.Sqrt(3), 1e-5)
}

func TestBudgetOfNothing(t *testing.T) {
	parts, sigma := spread.Budget([]spread.Varied{{Input: "a", Logs: spread.Constant(1)}})
	if parts[0].Percent != 0 || sigma != 0 {
		t.Errorf("nothing varies, yet %+v and %v", parts, sigma)
	}
}

func TestSampleShares(t *testing.T) {
	var s spread.Source
	x := s.Draw(spread.Rectangular{Lo: 0, Hi: 4})
	close(t, "above 1", x.Above(1), 0.75, 1e-12)
	close(t, "doubled", x.Times(2).Quantile(0.75), 6, 1e-12)
	f := spread.Summary[float64](x)
	close(t, "lo", f.Lo, 0.1, 1e-9)
	close(t, "hi", f.Hi, 3.9, 1e-9)
	close(t, "scaled", spread.Times[float64](f, 0.5).Median, 1, 1e-9)
	if got := (spread.Sample{5}).Quantile(0.3); got != 5 {
		t.Errorf("one value's quantile is %v", got)
	}
}

// Exact inputs use up no column, so a result may have many of them.
func TestExactInputsAreFree(t *testing.T) {
	var s spread.Source
	for range 2 * spread.MaxInputs {
		s.Draw(spread.Exact(1))
	}
	a, b := s.Draw(spread.Rectangular{Hi: 1}), spread.Column(0)
	if !slices.Equal(a, b) {
		t.Error("the first uncertain input is not on the first column")
	}
}

func TestCallersMistakesPanic(t *testing.T) {
	for _, f := range []func(){
		func() { spread.Summary[float64](nil) },
		func() { spread.Sample{}.Moments() },
		func() { spread.Sample{1}.Quantile(1.5) },
		func() {
			var s spread.Source
			for range spread.MaxInputs + 1 {
				s.Draw(spread.Normal{SD: 1})
			}
		},
	} {
		func() {
			defer func() {
				if recover() == nil {
					t.Error("a caller's mistake went through")
				}
			}()
			f()
		}()
	}
}

func ExampleSummary() {
	var s spread.Source
	length := s.Draw(spread.Normal{Mean: 2, SD: 0.1})
	width := s.Draw(spread.Rectangular{Lo: 2.9, Hi: 3.1})
	area := spread.Combine(func(i int) float64 { return length[i] * width[i] })
	f := spread.Summary[float64](area)
	fmt.Printf("%.1f (%.1f to %.1f)\n", f.Median, f.Lo, f.Hi)
	// Output: 6.0 (5.4 to 6.6)
}
