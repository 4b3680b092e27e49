package spread

import "math"

// Student is Student's t distribution with any DoF > 0 degrees of freedom, whole
// or not, times Scale ≥ 0, around Location. It is what n readings of a mean m and
// a deviation s say of the quantity read: Location m, Scale s/√n, DoF n − 1
// (JCGM 101:2008, 6.4.9). With DoF = +Inf it is the normal distribution. Scale
// is the standard deviation only then: for DoF > 2 that is Scale √(DoF/(DoF − 2)),
// and below it there is none.
type Student struct{ Location, Scale, DoF float64 }

// Quantile is Location + Scale t(p, DoF), t to 1e-9 of itself for p from 1e-6 to
// 1 − 1e-6, except within 1e-7 of the median. A DoF that is not above zero is a
// caller's mistake.
func (s Student) Quantile(p float64) float64 { return s.Location + s.Scale*student(p, s.DoF) }

// manyDoF is where four terms around the normal quantile take over: their error
// is below 1e-10 of a quantile within six standard deviations.
const manyDoF = 1000

// student is the quantile of the distribution with location 0 and scale 1.
func student(p, dof float64) float64 {
	switch {
	case !(dof > 0):
		panic("spread: Student's t wants degrees of freedom above zero")
	case p > 0.5:
		return -student(1-p, dof)
	case p == 0.5:
		return 0
	case dof >= manyDoF:
		return nearNormal(standard(p), dof, 4)
	}
	return -studentAbove(p, dof)
}

// nearNormal is the expansion of t in powers of 1/ν around the normal quantile z,
// with its first terms (Handbook of Mathematical Functions, 1964, 26.7.5).
func nearNormal(z, dof float64, terms int) float64 {
	s := z * z
	g := [...]float64{
		(s + 1) / 4,
		((5*s+16)*s + 3) / 96,
		(((3*s+19)*s+17)*s - 15) / 384,
		((((79*s+776)*s+1482)*s-1920)*s - 945) / 92160,
	}
	sum := 0.0
	for i := terms - 1; i >= 0; i-- {
		sum = (sum + g[i]) / dof
	}
	return z * (1 + sum)
}

// studentAbove is the t above which lies a share q < 1/2: where
// ½ I_x(ν/2, ½) = q with x = ν/(ν + t²). Far out the tail is t^−ν ν^(ν/2)/(ν B).
func studentAbove(q, dof float64) float64 {
	a := dof / 2
	lnBeta := logGamma(a) + logGamma(0.5) - logGamma(a+0.5)
	t := nearNormal(-standard(q), dof, 2)
	if dof < 2 {
		t = math.Exp(math.Log(dof)/2 - (math.Log(q*dof)+lnBeta)/dof)
	}
	if t > 1e8*(1+dof) {
		return t
	}
	return invert(q, t, func(t float64) (float64, float64) {
		x, y := dof/(dof+t*t), t*t/(dof+t*t)
		slope := math.Exp(a*math.Log(x)-lnBeta) * math.Sqrt(y)
		return betaBelow(a, 0.5, x, y, slope) / 2, -slope
	})
}

// betaBelow is the regularised incomplete beta function I_x(a, b), where
// y = 1 − x and front = x^a y^b/B(a, b). The fraction converges fast below the
// mean; above it, I_x(a, b) = 1 − I_y(b, a).
func betaBelow(a, b, x, y, front float64) float64 {
	if x > (a+1)/(a+b+2) {
		return 1 - front/b*betaFraction(b, a, y)
	}
	return front / a * betaFraction(a, b, x)
}

// betaFraction is 1/(1+ d₁/(1+ d₂/(1+ …))) of the incomplete beta function
// (Handbook of Mathematical Functions, 1964, 26.5.8), evaluated forward as the
// product of the ratios of its convergents.
func betaFraction(a, b, x float64) float64 {
	above, below, product := 1.0, 0.0, 1.0
	for n := 1; n < 10_000; n++ {
		m := float64(n / 2)
		d := m * (b - m) * x / ((a + 2*m - 1) * (a + 2*m))
		if n%2 == 1 {
			d = -(a + m) * (a + b + m) * x / ((a + 2*m) * (a + 2*m + 1))
		}
		above, below = 1+d/above, 1/(1+d*below)
		product *= above * below
		if math.Abs(above*below-1) < 1e-15 {
			break
		}
	}
	return 1 / product
}

// logGamma is ln Γ(x) for x > 0.
func logGamma(x float64) float64 {
	v, _ := math.Lgamma(x)
	return v
}

// invert is the x > 0 at which a probability is wanted. At hands back the
// probability and x times its slope. Newton's steps in logarithms of both:
// there the tails used here are bent one way only, and straight far out. No
// step is longer than a factor of e³.
func invert(wanted, x float64, at func(x float64) (probability, slope float64)) float64 {
	for range 100 {
		probability, slope := at(x)
		step := math.Log(wanted/probability) * probability / slope
		x *= math.Exp(math.Max(math.Min(step, 3), -3))
		if math.Abs(step) < 1e-8 {
			break
		}
	}
	return x
}
