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
	p := spread.Product(1, []spread.Factor{
		{Power: 3, Sample: s.Draw(spread.Positive{Mean: 3, SD: 0.3})},
		{Power: 1, Sample: s.Draw(spread.Rectangular{Lo: 0.5, Hi: 1})},
		{Power: 1, Sample: s.Draw(spread.Triangular{Lo: 3, Mode: 4, Hi: 5})},
		{Power: -1, Sample: s.Draw(spread.Lognormal{Median: 20, Sigma: 0.05})},
	})
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
		var factors []spread.Factor
		for range rapid.IntRange(1, spread.MaxInputs).Draw(t, "inputs") {
			m := rapid.Float64Range(0.1, 10).Draw(t, "median")
			sigma := rapid.Float64Range(0, 0.5).Draw(t, "sigma")
			factors = append(factors, spread.Factor{Power: 1, Sample: s.Draw(spread.Lognormal{Median: m, Sigma: sigma})})
			want *= m
		}
		f := spread.Summary[float64](spread.Product(1, factors))
		if math.Abs(f.Median/want-1) > 3e-4 || f.Lo > f.Median || f.Hi < f.Median {
			t.Fatalf("got %+v, want the median %v", f, want)
		}
		if math.Abs(f.Lo*f.Hi/(f.Median*f.Median)-1) > 3e-4 {
			t.Fatalf("the interval of a symmetric logarithm is lopsided: %+v", f)
		}
	})
}

func TestBudget(t *testing.T) {
	var s spread.Source
	factors := []spread.Factor{
		{Input: "a", Power: 3, Sample: s.Draw(spread.Lognormal{Median: 2, Sigma: 0.1})},
		{Input: "b", Power: -1, Sample: s.Draw(spread.Lognormal{Median: 5, Sigma: 0.4})},
		{Input: "c", Power: 1, Sample: spread.Constant(7)},
	}
	parts, sigma := spread.Budget(factors)
	close(t, "a", parts[0].Percent, 36, 1e-3)
	close(t, "b", parts[1].Percent, 64, 1e-3)
	close(t, "sigma", sigma, 0.5, 1e-3)
	if parts[2].Percent > 1e-9 || parts[2].Input != "c" {
		t.Errorf("an exact input takes part: %+v", parts[2])
	}
	// The budget's width is the product's own.
	_, sd := spread.Combine(func(i int) float64 {
		return math.Log(factors[0].Sample[i])*3 - math.Log(factors[1].Sample[i])
	}).Moments()
	close(t, "product", sd, sigma, 1e-3)
}

func TestBudgetOfNothing(t *testing.T) {
	parts, sigma := spread.Budget([]spread.Factor{{Input: "a", Power: 3, Sample: spread.Constant(1)}})
	if parts[0].Percent != 0 || sigma != 0 {
		t.Errorf("nothing varies, yet %+v and %v", parts, sigma)
	}
}

func TestProductPowers(t *testing.T) {
	two := spread.Constant(2)
	p := spread.Product(10, []spread.Factor{{Power: 3, Sample: two}, {Power: -1, Sample: two}, {Power: 1, Sample: two}, {Power: 0.5, Sample: two}})
	close(t, "product", p[100], 80*math.Sqrt2, 1e-12)
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
