package spread

import "math"

// Distribution is what is known of one input.
type Distribution interface {
	// Quantile is the value that is not exceeded with probability p, 0 < p < 1.
	Quantile(p float64) float64
}

// Exact is a value without uncertainty.
type Exact float64

// Quantile is the value itself.
func (e Exact) Quantile(float64) float64 { return float64(e) }

// Normal has a mean and a standard deviation SD ≥ 0.
type Normal struct{ Mean, SD float64 }

// Quantile is Mean + SD √2 erf⁻¹(2p − 1).
func (n Normal) Quantile(p float64) float64 { return n.Mean + n.SD*standard(p) }

// standard is the quantile of the normal distribution with mean 0 and SD 1.
// It is worked out below the median, and the upper half mirrors it exactly. The
// library takes 1 − 2p all the same: beyond p = 1e-6 digits are lost.
func standard(p float64) float64 {
	if p > 0.5 {
		return -standard(1 - p)
	}
	return -math.Sqrt2 * math.Erfcinv(2*p)
}

// Positive is a normal distribution cut off at zero, for what cannot be below
// zero: Mean > 0 and SD are those before the cut.
type Positive struct{ Mean, SD float64 }

// Quantile is that of the normal distribution at 1 − (1 − p) Φ(Mean/SD).
func (t Positive) Quantile(p float64) float64 { return t.cut().Quantile(p) }

// cut works out once what all quantiles of t share.
func (t Positive) cut() cut {
	if t.SD == 0 {
		return cut{t, 1}
	}
	return cut{t, 0.5 * math.Erfc(-t.Mean/(t.SD*math.Sqrt2))}
}

// cut is a Positive with the probability that lies above zero.
type cut struct {
	Positive
	kept float64
}

func (c cut) Quantile(p float64) float64 { return c.Mean - c.SD*standard((1-p)*c.kept) }

// Lognormal has a median above zero, and Sigma is the standard deviation of its
// natural logarithm.
type Lognormal struct{ Median, Sigma float64 }

// Quantile is Median exp(Sigma z(p)).
func (l Lognormal) Quantile(p float64) float64 { return l.Median * math.Exp(l.Sigma*standard(p)) }

// Rectangular is uniform between Lo and Hi.
type Rectangular struct{ Lo, Hi float64 }

// Quantile is Lo + p (Hi − Lo).
func (r Rectangular) Quantile(p float64) float64 { return r.Lo + p*(r.Hi-r.Lo) }

// Triangular rises from Lo to Mode and falls to Hi, Lo ≤ Mode ≤ Hi.
type Triangular struct{ Lo, Mode, Hi float64 }

// Quantile is Lo + √(p (Hi−Lo)(Mode−Lo)) left of the mode, and mirrored right of it.
func (t Triangular) Quantile(p float64) float64 {
	width := t.Hi - t.Lo
	if width == 0 {
		return t.Mode
	}
	if p*width < t.Mode-t.Lo {
		return t.Lo + math.Sqrt(p*width*(t.Mode-t.Lo))
	}
	return t.Hi - math.Sqrt((1-p)*width*(t.Hi-t.Mode))
}
