// Package spread carries what is not known exactly: distributions of inputs,
// samples of results, their medians, intervals and budgets.
//
// Nothing here is random. Every input takes one column of one fixed
// low-discrepancy point set (Sobol's, with direction numbers of Joe and Kuo
// 2008, from memory) through its inverse distribution function; a result is
// computed point by point. So a result does not jitter when it is computed
// again, laws such as "wider in, wider out" hold exactly, and the phone and the
// server agree.
//
// The set has N points: half of them Sobol's, the other half their mirror images
// u → 1 − u. So each column holds the midpoints of N equal steps of probability,
// and a result that is symmetric (or whose logarithm is) has its median exactly.
package spread

import "math/bits"

// N is the number of points in the set.
const N = 4096

// MaxInputs is how many independent inputs one result may have.
const MaxInputs = 8

// polynomial is a primitive polynomial with its first direction numbers.
type polynomial struct {
	middle uint32
	first  []uint32
}

// polynomials are those of dimensions 2 to MaxInputs.
func polynomials(dimension int) polynomial {
	return [MaxInputs]polynomial{
		{},
		{0, []uint32{1}},
		{1, []uint32{1, 3}},
		{1, []uint32{1, 3, 1}},
		{2, []uint32{1, 1, 1}},
		{1, []uint32{1, 1, 3, 3}},
		{4, []uint32{1, 3, 5, 13}},
		{2, []uint32{1, 1, 5, 5, 17}},
	}[dimension]
}

// half is the number of Sobol's points, 2 to the power of levels.
const (
	levels = 11
	half   = 1 << levels
)

// directions are the direction numbers of a dimension, as whole numbers of 1/half.
func directions(dimension int) [levels]uint32 {
	var v [levels]uint32
	p := polynomials(dimension)
	s := len(p.first)
	for i := range v {
		switch {
		case dimension == 0:
			v[i] = half >> (i + 1)
		case i < s:
			v[i] = p.first[i] << (levels - 1 - i)
		default:
			v[i] = next(v[:i], p.middle, s)
		}
	}
	return v
}

// next is the direction number that follows those before, by the recurrence of
// a polynomial of degree s.
func next(before []uint32, middle uint32, s int) uint32 {
	i := len(before)
	v := before[i-s] ^ before[i-s]>>s
	for k := 1; k < s; k++ {
		v ^= (middle >> (s - 1 - k) & 1) * before[i-k]
	}
	return v
}

// Column is the column of the point set that belongs to a dimension, 0 up to
// below MaxInputs: N probabilities, each the midpoint of one of N equal steps.
func Column(dimension int) []float64 {
	if dimension < 0 || dimension >= MaxInputs {
		panic("spread: a result has at most MaxInputs independent inputs")
	}
	v := directions(dimension)
	column := make([]float64, N)
	x := uint32(0)
	for i := range half {
		if i > 0 {
			x ^= v[bits.TrailingZeros(uint(i))]
		}
		u := (float64(x) + 0.25) / half
		column[2*i], column[2*i+1] = u, 1-u
	}
	return column
}
