package spread

import (
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// What is arranged stands where slices.Sort puts it, and nothing is lost, with equal values too.
func TestArrange(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		values := rapid.SliceOf(rapid.OneOf(rapid.Float64(), rapid.Float64Range(0, 3), rapid.Map(rapid.IntRange(0, 4), func(i int) float64 { return float64(i) }))).Draw(t, "values")
		places := slices.Sorted(slices.Values(rapid.SliceOfN(rapid.IntRange(-1, len(values)), 0, 6).Draw(t, "places")))
		arranged, ordered := slices.Clone(values), slices.Sorted(slices.Values(values))
		arrange(arranged, places...)
		for _, p := range places {
			if p < 0 || p >= len(values) {
				continue
			}
			if arranged[p] != ordered[p] {
				t.Fatalf("%v at %d of %v, want %v", arranged[p], p, arranged, ordered[p])
			}
			for i, v := range arranged {
				if i < p && v > arranged[p] || i > p && v < arranged[p] {
					t.Fatalf("%v is on the wrong side of place %d in %v", v, p, arranged)
				}
			}
		}
		if slices.Sort(arranged); !slices.Equal(arranged, ordered) {
			t.Fatalf("%v became %v", values, arranged)
		}
	})
}

// It ends where numbers are none, whatever it makes of them.
func TestArrangeEnds(t *testing.T) {
	nan := math.NaN()
	for _, s := range [][]float64{{nan}, {nan, 1}, {1, nan, 0}, {nan, nan, nan, nan}, {2, 1, nan, 0, nan}} {
		arrange(s, 0, 1, 2)
	}
}
