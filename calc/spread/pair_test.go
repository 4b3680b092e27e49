package spread_test

import (
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/spread"
	"pgregory.net/rapid"
)

// correlation of two samples.
func correlation(a, b spread.Sample) float64 {
	ma, sa := a.Moments()
	mb, sb := b.Moments()
	sum := 0.0
	for i := range a {
		sum += (a[i] - ma) * (b[i] - mb)
	}
	return sum / (float64(len(a)) * sa * sb)
}

func TestPairOfNormals(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := rapid.Float64Range(-1, 1).Draw(t, "r")
		var s spread.Source
		a, b := s.Pair(spread.Normal{Mean: 1, SD: 2}, spread.Normal{Mean: -3, SD: 5}, r)
		mean, sd := b.Moments()
		if got := correlation(a, b); math.Abs(got-r) > 0.005 || math.Abs(mean+3) > 1e-6 || math.Abs(sd/5-1) > 0.005 {
			t.Fatalf("r = %v: correlation %v, mean %v, deviation %v", r, got, mean, sd)
		}
		// The deviation of a sum shows it: u² = 4 + 25 + 2·2·5 r.
		_, sum := spread.Combine(func(i int) float64 { return a[i] + b[i] }).Moments()
		if math.Abs(sum*sum-(29+20*r)) > 0.3 {
			t.Fatalf("r = %v: the sum's variance is %v", r, sum*sum)
		}
	})
}

// Whatever the pair, the first input is as if drawn alone and the second keeps its quantiles.
func TestPairKeepsItsInputs(t *testing.T) {
	var s, alone spread.Source
	d := spread.Positive{Mean: 2, SD: 1.5}
	a, b := s.Pair(d, spread.Triangular{Hi: 3, Mode: 1}, -0.6)
	for i, v := range alone.Draw(d) {
		if v != a[i] {
			t.Fatalf("the first of a pair is another at %d", i)
		}
	}
	for _, p := range []float64{0.025, 0.3, 0.5, 0.9, 0.975} {
		want := spread.Triangular{Hi: 3, Mode: 1}.Quantile(p)
		if got := b.Quantile(p); math.Abs(got-want) > 0.01 {
			t.Errorf("quantile %v of the second: %v, want %v", p, got, want)
		}
	}
	if got := s.Draw(spread.Rectangular{Hi: 1})[9]; got != spread.Column(2)[9] {
		t.Error("a pair uses up two columns")
	}
}

func TestPairAsOne(t *testing.T) {
	var s spread.Source
	a, b := s.Pair(spread.Rectangular{Hi: 1}, spread.Rectangular{Hi: 1}, -1)
	for i := range a {
		if math.Abs(a[i]+b[i]-1) > 1e-9 {
			t.Fatalf("with r = −1 there stand %v and %v", a[i], b[i])
		}
	}
}

func TestPairPanics(t *testing.T) {
	for _, r := range []float64{-1.01, 1.01, math.NaN()} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("a correlation of %v went through", r)
				}
			}()
			var s spread.Source
			s.Pair(spread.Exact(1), spread.Exact(1), r)
		}()
	}
}

// Two lengths measured with the same rule: their errors rise together.
func ExampleSource_Pair() {
	var s spread.Source
	long, short := s.Pair(spread.Normal{Mean: 80, SD: 1}, spread.Normal{Mean: 60, SD: 1}, 0.9)
	f := spread.Summary[float64](spread.Combine(func(i int) float64 { return long[i] - short[i] }))
	fmt.Printf("%.1f (%.1f to %.1f)\n", f.Median, f.Lo, f.Hi)
	// Output: 20.0 (19.1 to 20.9)
}
