package spread_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"jointwalk/calc/spread"
	"jointwalk/testdata/published"
	"pgregory.net/rapid"
)

// The density of ln x rises to its end, so that the shortest interval takes the upper 95 %.
func TestShortestOfLogarithm(t *testing.T) {
	var s spread.Source
	x := s.Draw(spread.Rectangular{Lo: 0.1, Hi: 1.1})
	f := spread.Shortest[float64](spread.Combine(func(i int) float64 { return math.Log(x[i]) }))
	published.One(t, "npl-ln-lo").Check(t, f.Lo)
	// The last of N values stands half a step below the end: ln(1.1 − 1/8192).
	close(t, "hi", f.Hi, math.Log(1.1-1.0/8192), 1e-9)
}

// An exponential density is shortest from zero: to −ln 0.05 (derived). Steps of
// 1/N come short of it by up to N⁻¹/0.05.
func TestShortestOfExponential(t *testing.T) {
	var s spread.Source
	f := spread.Shortest[float64](s.Draw(spread.Gamma{Shape: 1, Rate: 1}))
	close(t, "hi", f.Hi, -math.Log(0.05), 2e-3)
	close(t, "median", f.Median, math.Ln2, 1e-4)
	if f.Lo > 1.0/spread.N {
		t.Errorf("it begins at %v", f.Lo)
	}
}

// Where the distribution is symmetric, shortest and symmetric intervals agree.
func TestShortestOfSymmetric(t *testing.T) {
	for _, d := range []spread.Distribution{
		spread.Normal{Mean: 4, SD: 0.3}, spread.Student{Location: 4, Scale: 0.3, DoF: 3}, spread.Rectangular{Lo: 3, Hi: 5},
		spread.Triangular{Lo: 3, Mode: 4, Hi: 5}, spread.Exact(4),
	} {
		var s spread.Source
		x := s.Draw(d)
		got, want := spread.Shortest[float64](x), spread.Summary[float64](x)
		if got.Median != want.Median || math.Abs(got.Lo-want.Lo) > 0.01 || math.Abs(got.Hi-want.Hi) > 0.01 {
			t.Errorf("%T: shortest %+v, symmetric %+v", d, got, want)
		}
	}
}

// It holds its share, and no window of so many values is shorter.
func TestShortestIsShortest(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := spread.Sample(rapid.SliceOfN(rapid.Float64Range(-9, 9), 1, 60).Draw(t, "sample"))
		f := spread.Shortest[float64](s)
		inside := 0
		for _, v := range s {
			if v >= f.Lo && v <= f.Hi {
				inside++
			}
		}
		if float64(inside) < 0.95*float64(len(s)) {
			t.Fatalf("%d of %d lie inside", inside, len(s))
		}
		ordered := slices.Sorted(slices.Values(s))
		held := int(0.95*float64(len(s)) + 0.5)
		for i := 0; i+held < len(s); i++ {
			if ordered[i+held]-ordered[i] < (f.Hi-f.Lo)*(1-1e-6) {
				t.Fatalf("%v to %v is shorter than %+v", ordered[i], ordered[i+held], f)
			}
		}
	})
}

func TestShortestOfNothingPanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("an empty sample went through")
		}
	}()
	spread.Shortest[float64](nil)
}

// Derived: equal densities at both ends put them at exp(−1 ± 2.6461), 0.026 and 5.187.
func TestShortestOfLognormal(t *testing.T) {
	var s spread.Source
	f := spread.Shortest[float64](s.Draw(spread.Lognormal{Median: 1, Sigma: 1}))
	if math.Abs(f.Lo-0.026) > 0.01 || math.Abs(f.Hi-5.187) > 0.02 {
		t.Errorf("got %+v", f)
	}
}

// The shortest interval of what is lopsided leans to where the values are dense.
func ExampleShortest() {
	var s spread.Source
	x := s.Draw(spread.Lognormal{Median: 1, Sigma: 1})
	symmetric, shortest := spread.Summary[float64](x), spread.Shortest[float64](x)
	fmt.Printf("%.2f to %.2f, shortest %.2f to %.2f\n", symmetric.Lo, symmetric.Hi, shortest.Lo, shortest.Hi)
	// Output: 0.14 to 7.10, shortest 0.03 to 5.18
}
