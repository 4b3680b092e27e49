package spread

import "math"

// RealGamma is Gamma for any Shape > 0, whole or not; Rate > 0. Its mean is
// Shape/Rate and its variance Shape/Rate². Shape ½ and Rate ½ make the square of
// a normal variable.
type RealGamma struct{ Shape, Rate float64 }

// Quantile inverts the regularised incomplete gamma function, to 1e-9 of itself
// for shapes up to 1e5 and p from 1e-6 to 1 − 1e-6. It is zero where it is below
// the smallest number. A Shape that is not above zero and finite is a caller's
// mistake.
func (g RealGamma) Quantile(p float64) float64 {
	k := g.Shape
	if !(k > 0) || math.IsInf(k, 1) {
		panic("spread: a gamma distribution wants a shape above zero")
	}
	lnGamma := logGamma(k)
	start := gammaStart(k, p, lnGamma)
	if start < 1e-20 {
		return start / g.Rate
	}
	return invert(math.Min(p, 1-p), start, func(x float64) (float64, float64) {
		front := math.Exp(k*math.Log(x) - x - lnGamma)
		below, above := gammaSides(k, x, front)
		if p <= 0.5 {
			return below, front
		}
		return above, -front
	}) / g.Rate
}

// gammaStart is near the quantile: the cube-root approximation by a normal
// variable, but no less than the power of p that bounds the quantile from below,
// since the probability below x is less than x^k/Γ(k+1). Close to zero the bound
// is the quantile.
func gammaStart(k, p, lnGamma float64) float64 {
	c := 1 / (9 * k)
	root := 1 - c + standard(p)*math.Sqrt(c)
	bound := math.Exp((math.Log(p*k) + lnGamma) / k)
	return math.Max(k*root*root*root, bound)
}

// gammaSides are the probabilities that a gamma variable of shape k lies below
// and above x, where front = e^{-x} x^k/Γ(k): a power series up to the mean, a
// continued fraction beyond it (Handbook of Mathematical Functions, 1964, 6.5.29
// and 6.5.31).
func gammaSides(k, x, front float64) (below, above float64) {
	if x >= k+1 {
		above = front * gammaFraction(k, x)
		return 1 - above, above
	}
	term := 1 / k
	for n := k + 1; term > 1e-17*below; n++ {
		below += term
		term *= x / n
	}
	below *= front
	return below, 1 - below
}

// gammaFraction is 1/(x+1−k − 1(1−k)/(x+3−k − 2(2−k)/(x+5−k − …))).
func gammaFraction(k, x float64) float64 {
	b := x + 1 - k
	above, below, product := b, 0.0, b
	for n := 1.0; n < 100_000; n++ {
		a := n * (k - n)
		b += 2
		above, below = b+a/above, 1/(b+a*below)
		product *= above * below
		if math.Abs(above*below-1) < 1e-15 {
			break
		}
	}
	return 1 / product
}
