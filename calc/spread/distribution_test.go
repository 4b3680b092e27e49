package spread_test

import (
	"math"
	"testing"

	"jointwalk/calc/spread"
	"jointwalk/testdata/published"
	"pgregory.net/rapid"
)

// The distribution functions below are written apart from the quantiles: the
// one must undo the other.
func normalBelow(x float64) float64 { return 0.5 * math.Erfc(-x/math.Sqrt2) }

func triangularBelow(t spread.Triangular, x float64) float64 {
	if x < t.Mode {
		return (x - t.Lo) * (x - t.Lo) / ((t.Hi - t.Lo) * (t.Mode - t.Lo))
	}
	return 1 - (t.Hi-x)*(t.Hi-x)/((t.Hi-t.Lo)*(t.Hi-t.Mode))
}

// gammaBelow sums the power series of the incomplete gamma function.
func gammaBelow(k int, x float64) float64 {
	term, sum := 1/float64(k), 0.0
	for j := 1; term > 1e-18*sum || j < 3; j++ {
		sum += term
		term *= x / float64(k+j)
	}
	factorial, _ := math.Lgamma(float64(k))
	return sum * math.Exp(float64(k)*math.Log(x)-x-factorial)
}

func TestQuantilesUndoDistributions(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(1e-4, 1-1e-4).Draw(t, "p")
		mean := rapid.Float64Range(0.1, 10).Draw(t, "mean")
		sd := rapid.Float64Range(0.01, 1).Draw(t, "sd") * mean
		k := rapid.IntRange(1, 200).Draw(t, "k")
		tri := spread.Triangular{Lo: mean - sd, Mode: mean, Hi: mean + 2*sd}
		kept := normalBelow(mean / sd)
		for name, got := range map[string]float64{
			"normal":      normalBelow((spread.Normal{Mean: mean, SD: sd}.Quantile(p) - mean) / sd),
			"positive":    1 - normalBelow((mean-spread.Positive{Mean: mean, SD: sd}.Quantile(p))/sd)/kept,
			"lognormal":   normalBelow(math.Log(spread.Lognormal{Median: mean, Sigma: sd}.Quantile(p)/mean) / sd),
			"rectangular": (spread.Rectangular{Lo: mean, Hi: mean + sd}.Quantile(p) - mean) / sd,
			"triangular":  triangularBelow(tri, tri.Quantile(p)),
			"gamma":       gammaBelow(k, mean*spread.Gamma{Shape: k, Rate: mean}.Quantile(p)),
		} {
			if math.Abs(got-p) > 1e-9 {
				t.Fatalf("%s: the distribution at its quantile of %v is %v", name, p, got)
			}
		}
	})
}

func TestPositiveStaysPositive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		d := spread.Positive{Mean: 1, SD: rapid.Float64Range(0, 1).Draw(t, "sd")}
		p := rapid.Float64Range(1e-6, 1-1e-6).Draw(t, "p")
		if x := d.Quantile(p); !(x > 0) || x > d.Quantile(math.Min(p+1e-3, 1-1e-7))+1e-9 {
			t.Fatalf("%+v at %v is %v", d, p, x)
		}
	})
}

func TestWithoutWidth(t *testing.T) {
	for _, d := range []spread.Distribution{
		spread.Exact(3), spread.Normal{Mean: 3}, spread.Positive{Mean: 3}, spread.Lognormal{Median: 3},
		spread.Rectangular{Lo: 3, Hi: 3}, spread.Triangular{Lo: 3, Mode: 3, Hi: 3},
	} {
		if got := d.Quantile(0.2); got != 3 {
			t.Errorf("%T without width gives %v", d, got)
		}
	}
}

func TestPoissonPublished(t *testing.T) {
	for _, c := range published.Cases(t, "poisson-") {
		n, level := int(c.In(t, "n")), c.In(t, "level")
		oneSided := (1 + level) / 2
		if c.ID[len(c.ID)-2:] == "lo" {
			c.Check(t, spread.LowerLimit(n, oneSided))
		} else {
			c.Check(t, spread.UpperLimit(n, oneSided))
		}
	}
}

func TestPoissonOfNone(t *testing.T) {
	if got := spread.UpperLimit(0, 0.95); math.Abs(got-2.995732273553991) > 1e-14 {
		t.Errorf("the limit of a count of zero is %v, want −ln 0.05", got)
	}
	if got := spread.LowerLimit(0, 0.95); got != 0 {
		t.Errorf("the lower limit of a count of zero is %v", got)
	}
}

// The definition itself, summed: n or fewer with 1 − confidence at the limit.
func TestPoissonDefinition(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(0, 300).Draw(t, "n")
		confidence := rapid.Float64Range(0.01, 0.999).Draw(t, "confidence")
		m := spread.UpperLimit(n, confidence)
		term, sum := math.Exp(-m), 0.0
		for j := 0; j <= n; j++ {
			sum += term
			term *= m / float64(j+1)
		}
		if math.Abs(sum-(1-confidence)) > 1e-9 {
			t.Fatalf("n = %d: %v or fewer at %v, want %v", n, sum, m, 1-confidence)
		}
		if lo := spread.LowerLimit(n, confidence); confidence > 0.5 && lo >= m {
			t.Fatalf("limits %v and %v are crossed", lo, m)
		}
	})
}

func TestPoissonPanics(t *testing.T) {
	for _, f := range []func(){
		func() { spread.UpperLimit(-1, 0.95) },
		func() { spread.UpperLimit(1, 1) },
		func() { spread.LowerLimit(1, math.NaN()) },
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

// Large counts, and tails further out than the set goes.
func TestGammaFarOut(t *testing.T) {
	for _, k := range []int{1, 2, 5, 50, 1000, 20_000} {
		for _, p := range []float64{1e-5, 0.01, 0.5, 0.99, 1 - 1e-5} {
			x := spread.Gamma{Shape: k, Rate: 1}.Quantile(p)
			if got := gammaBelow(k, x); math.Abs(got-p) > 1e-9 {
				t.Errorf("shape %d: %v lies below the quantile of %v", k, got, p)
			}
		}
	}
	if got := (spread.Gamma{Shape: 1, Rate: 2}).Quantile(1e-9); math.Abs(got/0.5e-9-1) > 1e-6 {
		t.Errorf("an exponential variable's quantile of 1e-9 is %v", got)
	}
}
