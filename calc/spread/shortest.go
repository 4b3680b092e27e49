package spread

import (
	"math"
	"slices"
)

// Shortest is the median of s and the shortest interval that holds 95 % of it:
// of all pairs of the sorted values that are 95 % of their number apart, the
// closest (JCGM 101:2008, 5.3.4 and 7.7). It differs from Summary's where s is
// lopsided. Where several are as short to 1e-9, as for a rectangular
// distribution, the one in the middle is taken if it is one of them. An empty
// sample is a caller's mistake.
func Shortest[Q ~float64](s Sample) Figure[Q] {
	ordered := slices.Clone(s)
	slices.Sort(ordered)
	median := quantile(ordered, 0.5)
	held := min(int(math.Floor(0.95*float64(len(s))+0.5)), len(s)-1)
	at := func(r int) float64 { return ordered[r+held] - ordered[r] }
	best := (len(s) - 1 - held) / 2
	for r := range len(s) - held {
		if at(r) < at(best)*(1-1e-9) {
			best = r
		}
	}
	return Figure[Q]{Median: Q(median), Lo: Q(ordered[best]), Hi: Q(ordered[best+held])}
}
