package bubble

import (
	"math"

	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
)

// Several is how many bubbles are worth sizing: a fourth narrows little. Judgement.
const Several = 3

// ownPart is the part of a size's variance that is the bubble's own; the rest is the eye's, the light's and the scale's, the
// same for all bubbles that one person sizes. Judgement: common practice, no source.
const ownPart = 0.5

// What is known of how much bubbles of one leak differ before any is sized: by this part of their diameter, as well as if
// that had been seen with so many degrees of freedom. Two or three sizes alone would say next to nothing of it. Judgement:
// common practice, no source.
const (
	differ    = 0.08
	differDoF = 3.0
)

// OfSeveral is the diameter of the bubble that holds the mean of the volumes of n bubbles of one leak:
//
//	d³ = Σ dᵢ³/n
//
// With the mean square of the relative uncertainties u² = Σ (Uᵢ/dᵢ)²/n, a part o (ownPart) of which is each bubble's own, and
// the sample variance s² of ln dᵢ, one size varies about d by the pooled variance (JCGM 100:2008, 4.2.4)
//
//	v = (m (o u² + b²) + (n − 1) s²)/(m + n − 1)
//
// where b (differ) and m (differDoF) are judged. So d has the relative standard uncertainty c and ν degrees of freedom
//
//	c² = (1 − o) u² + v/n                   (type B and type A, combined: 4.2.3, 5.1.2)
//	ν  = (m + n − 1) c⁴/(v/n)²              (Welch and Satterthwaite, G.4.1)
//
// and bubbles that differ much say less (Student's t; JCGM 101:2008, 6.4.9). One size is itself. None, or one that Check
// refuses, is a caller's mistake.
func OfSeveral(sizes []Size) Size {
	if len(sizes) == 0 {
		panic("bubble: no size")
	}
	if len(sizes) == 1 {
		return sizes[0]
	}
	n := float64(len(sizes))
	cubes, u2 := 0.0, 0.0
	logs := make(spread.Sample, len(sizes))
	for i, s := range sizes {
		d, u := float64(s.Diameter), float64(s.U/s.Diameter)
		cubes += d * d * d / n
		u2 += u * u / n
		logs[i] = math.Log(d)
	}
	_, sd := logs.Moments()
	dof := differDoF + n - 1
	v := (differDoF*(ownPart*u2+differ*differ) + n*sd*sd) / dof / n
	c2 := (1-ownPart)*u2 + v
	d := math.Cbrt(cubes)
	return Size{
		Diameter: quantity.Length(d), U: quantity.Length(d * math.Sqrt(c2)),
		N: len(sizes), DoF: dof * (c2 / v) * (c2 / v),
	}
}

// several is what is known of the diameter that stands for several bubbles.
type several struct {
	diameter float64
	log      spread.Student
}

func (s several) Quantile(p float64) float64 { return s.diameter * math.Exp(s.log.Quantile(p)) }
