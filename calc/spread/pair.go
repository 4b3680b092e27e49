package spread

import "math"

// Pair draws two inputs that vary together: the next two columns, tied by a
// normal pair of correlation r. With z₁ and z₂ the normal quantiles of the
// columns, the first input is taken at Φ(z₁) and the second at
// Φ(r z₁ + √(1 − r²) z₂) (JCGM 101:2008, 6.4.8 for normal inputs). r is the
// correlation of the inputs themselves when both are normal, and close to it for
// others; ±1 lets them rise or fall as one. |r| > 1 is a caller's mistake.
func (s *Source) Pair(first, second Distribution, r float64) (Sample, Sample) {
	if !(math.Abs(r) <= 1) {
		panic("spread: a correlation lies between −1 and 1")
	}
	a, b := Sample(Column(s.used)), Sample(Column(s.used+1))
	s.used += 2
	rest := math.Sqrt((1 - r) * (1 + r))
	for i := range b {
		z := r*standard(a[i]) + rest*standard(b[i])
		b[i] = 0.5 * math.Erfc(-z/math.Sqrt2)
	}
	a.through(first)
	b.through(second)
	return a, b
}
