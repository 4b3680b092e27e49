package spread

import (
	"math"
	"slices"
)

// Sample is a result at every point of the set, or an input pushed through it.
type Sample []float64

// Source hands every input of one result a column of its own, in the order of
// drawing. The zero value is ready. Two results that share an input must draw
// it once.
type Source struct{ used int }

// Draw pushes the next column through d. More than MaxInputs is a caller's mistake.
func (s *Source) Draw(d Distribution) Sample {
	if e, ok := d.(Exact); ok {
		return Constant(float64(e))
	}
	column := Sample(Column(s.used))
	s.used++
	column.through(d)
	return column
}

// through takes probabilities through d, in place.
func (s Sample) through(d Distribution) {
	if p, ok := d.(Positive); ok {
		d = p.cut()
	}
	for i, p := range s {
		s[i] = d.Quantile(p)
	}
}

// Constant is the sample of a value without uncertainty; it uses up no column.
func Constant(value float64) Sample {
	return slices.Repeat(Sample{value}, N)
}

// alone is how many points do for what hangs on one input alone.
const alone = 512

// Alone is f of one input by itself, at the midpoints of equal steps of the input's probability: for the moments of what
// varies with nothing else.
func Alone(d Distribution, f func(value float64) float64) Sample {
	if e, ok := d.(Exact); ok {
		return Sample{f(float64(e))}
	}
	s := make(Sample, alone)
	for i := range s {
		s[i] = (float64(i) + 0.5) / alone
	}
	s.through(d)
	for i, v := range s {
		s[i] = f(v)
	}
	return s
}

// Combine is f at every point of the set.
func Combine(f func(i int) float64) Sample {
	s := make(Sample, N)
	for i := range s {
		s[i] = f(i)
	}
	return s
}

// Figure is a value as people need it: the middle and the ends between which it
// lies with 95 %, in the unit of Q. Its zero value means nothing.
type Figure[Q ~float64] struct{ Median, Lo, Hi Q }

// Summary is the median of s and its symmetric 95 % interval: from the 2.5 % to
// the 97.5 % quantile. An empty sample is a caller's mistake.
func Summary[Q ~float64](s Sample) Figure[Q] {
	arranged := slices.Clone(s)
	low, middle, high := stepOf(len(s), 0.025), stepOf(len(s), 0.5), stepOf(len(s), 0.975)
	arrange(arranged, low, low+1, middle, middle+1, high, high+1)
	return Figure[Q]{
		Median: Q(quantile(arranged, 0.5)),
		Lo:     Q(quantile(arranged, 0.025)),
		Hi:     Q(quantile(arranged, 0.975)),
	}
}

// Quantile is the value that a share p of s does not exceed, 0 ≤ p ≤ 1. An
// empty sample or another p is a caller's mistake.
func (s Sample) Quantile(p float64) float64 {
	ordered := slices.Clone(s)
	step := stepOf(len(s), p)
	arrange(ordered, step, step+1)
	return quantile(ordered, p)
}

// quantile interpolates between midpoints of steps of probability. Of ordered the values at stepOf and behind it must stand
// where sorting would put them.
func quantile(ordered []float64, p float64) float64 {
	i := stepOf(len(ordered), p)
	if i < 0 {
		return ordered[0]
	}
	x := math.Min(math.Max(p*float64(len(ordered))-0.5, 0), float64(len(ordered)-1))
	return ordered[i] + (x-float64(i))*(ordered[i+1]-ordered[i])
}

// stepOf is the place of the last midpoint at or below p, −1 for one value; the quantile lies between it and the next.
func stepOf(n int, p float64) int {
	if n == 0 || !(p >= 0 && p <= 1) {
		panic("spread: a quantile wants a sample and 0 ≤ p ≤ 1")
	}
	return min(int(math.Max(p*float64(n)-0.5, 0)), n-2)
}

// Moments are the mean and the standard deviation of s, exactly zero for a
// constant. An empty sample is a caller's mistake.
func (s Sample) Moments() (mean, sd float64) {
	if len(s) == 0 {
		panic("spread: moments want a sample")
	}
	for _, v := range s {
		mean += v - s[0]
	}
	mean = s[0] + mean/float64(len(s))
	for _, v := range s {
		sd += (v - mean) * (v - mean)
	}
	return mean, math.Sqrt(sd / float64(len(s)))
}

// Above is the share of s that lies above a limit, 0 to 1.
func (s Sample) Above(limit float64) float64 {
	n := 0
	for _, v := range s {
		if v > limit {
			n++
		}
	}
	return float64(n) / float64(len(s))
}

// Times is f with every number multiplied by a factor above zero.
func Times[R, Q ~float64](f Figure[Q], factor float64) Figure[R] {
	return Figure[R]{R(float64(f.Median) * factor), R(float64(f.Lo) * factor), R(float64(f.Hi) * factor)}
}

// Times is s with every value multiplied by a factor.
func (s Sample) Times(factor float64) Sample {
	return Combine(func(i int) float64 { return s[i] * factor })
}
