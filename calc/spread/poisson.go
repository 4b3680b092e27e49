package spread

import "math"

// Gamma has a Shape, a whole number of at least 1, and a Rate above zero. It is
// what is known of the rate of random events when it took a time Rate from one
// event to the Shape-th after it.
type Gamma struct {
	Shape int
	Rate  float64
}

// Quantile inverts the regularised incomplete gamma function.
func (g Gamma) Quantile(p float64) float64 {
	return gammaQuantile(g.Shape, 1-p) / g.Rate
}

// UpperLimit is the mean that a count of n random events rules out with a
// confidence (one-sided): the m at which n or fewer are seen with probability
// 1 − confidence. For n = 0 and 95 % it is −ln 0.05 = 2.9957. It is exact
// (Biometrika 28, 1936, 437–442). A negative n, or a confidence outside 0 to 1, is a caller's
// mistake.
func UpperLimit(n int, confidence float64) float64 {
	mustCount(n, confidence)
	if n == 0 {
		return -math.Log1p(-confidence)
	}
	return gammaQuantile(n+1, 1-confidence)
}

// LowerLimit is the mean below which n or more random events would be seen with
// less than 1 − confidence; 0 for n = 0. Errors as UpperLimit.
func LowerLimit(n int, confidence float64) float64 {
	mustCount(n, confidence)
	if n == 0 {
		return 0
	}
	return gammaQuantile(n, confidence)
}

func mustCount(n int, confidence float64) {
	if n < 0 || !(confidence > 0 && confidence < 1) {
		panic("spread: a Poisson limit wants n ≥ 0 and 0 < confidence < 1")
	}
}

// gammaQuantile is the x at which a gamma variable of whole shape k lies above x
// with probability q. Halley's steps (the density's slope is (k−1)/x − 1 of itself)
// from the cube-root approximation by a normal variable, none of them further
// than fourfold.
func gammaQuantile(k int, q float64) float64 {
	shape := float64(k)
	logFactorial, _ := math.Lgamma(shape)
	c := 1 / (9 * shape)
	start := 1 - c - standard(q)*math.Sqrt(c)
	x := math.Max(shape*start*start*start, 1e-3*shape)
	for range 60 {
		above, density := gammaTail(k, x, logFactorial)
		newton := (above - q) / density
		step := x + newton/(1+newton*((shape-1)/x-1)/2)
		if math.Abs(step-x) <= 1e-8*x {
			return step
		}
		x = math.Min(math.Max(step, x/4), 4*x)
	}
	return x
}

// gammaTail is the probability Σ_{j<k} e^{-x} x^j/j! that a gamma variable of
// whole shape k lies above x, and its density e^{-x} x^{k-1}/(k−1)! there.
func gammaTail(k int, x, logFactorial float64) (above, density float64) {
	density = math.Exp(float64(k-1)*math.Log(x) - x - logFactorial)
	term, per := density, 1/x
	for j := k - 1; j >= 0; j-- {
		above += term
		term *= float64(j) * per
		if term < 1e-17*above {
			break
		}
	}
	return above, density
}
