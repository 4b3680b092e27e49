package bubble_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"jointwalk/calc/bubble"
	"jointwalk/calc/gas"
	"jointwalk/calc/laws"
	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

// crowd is bubbles of one leak that differ: their diameters scatter by a share, and the mean of their volumes is that of the
// leak's own diameter (a lognormal cube has the mean exp(9σ²/2)).
func crowd(r *rand.Rand, diameter, scatter float64, n int) []float64 {
	all := make([]float64, n)
	for i := range all {
		all[i] = diameter * math.Exp(scatter*r.NormFloat64()-1.5*scatter*scatter)
	}
	return all
}

// eye is a person who sizes several bubbles: half of the variance of the error is the person's own and lasts.
type eye struct{ common float64 }

func (e eye) sizes(r *rand.Rand, bubbles []float64) (sizes []bubble.Size, ok bool) {
	for _, d := range bubbles {
		off := (e.common + r.NormFloat64()) / math.Sqrt2
		read := d + math.Max(0.1*d, 0.3e-3)*off
		if read < 0.6e-3 {
			return nil, false
		}
		sizes = append(sizes, bubble.Measured(quantity.Length(read)))
	}
	return sizes, true
}

// The stated 95 % interval holds the truth in 93 to 97 % of leaks of which two or three bubbles were sized, be the bubbles
// alike or not.
func TestIntervalOfSeveralHoldsTheTruth(t *testing.T) {
	for _, c := range []struct {
		seed    uint64
		name    string
		n       int
		medium  bubble.Medium
		shape   sight
		scatter float64 // the most by which diameters scatter
	}{
		{101, "three that differ in a film", 3, bubble.Film, attached, 0.2},
		{103, "two that differ in water", 2, bubble.Water, sphere, 0.2},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			laws.Coverage(t, c.seed, func(r *rand.Rand) (float64, laws.Observation, bool) {
				l := draw(r, c.shape, even)
				count, ok := ten(r, l)
				if !ok {
					return 0, nil, false
				}
				sizes, ok := eye{r.NormFloat64()}.sizes(r, crowd(r, l.diameter, c.scatter*r.Float64(), c.n))
				if !ok {
					return 0, nil, false
				}
				return l.molar, observed{bubble.Train{
					Medium: c.medium, Count: count, Size: bubble.OfSeveral(sizes),
					Ambient: gas.Ambient{Pressure: quantity.Absolute(l.pascal), Temperature: quantity.Temperature(l.kelvin)},
				}}, true
			})
		})
	}
}

// One size is itself; several stand for the mean of their volumes, whatever their order.
func TestSeveralMeanVolume(t *testing.T) {
	one := bubble.Measured(3e-3)
	if got := bubble.OfSeveral([]bubble.Size{one}); got != one {
		t.Errorf("one size became %+v", got)
	}
	rapid.Check(t, func(t *rapid.T) {
		d := rapid.SliceOfN(rapid.Float64Range(1e-3, 1e-2), 2, 3).Draw(t, "d")
		var sizes, turned []bubble.Size
		cubes := 0.0
		for i := range d {
			sizes = append(sizes, bubble.Measured(quantity.Length(d[i])))
			turned = append(turned, bubble.Measured(quantity.Length(d[len(d)-1-i])))
			cubes += d[i] * d[i] * d[i] / float64(len(d))
		}
		s, other := bubble.OfSeveral(sizes), bubble.OfSeveral(turned)
		if math.Abs(math.Pow(float64(s.Diameter), 3)/cubes-1) > 1e-12 || s.N != len(d) {
			t.Fatalf("%v: %+v", d, s)
		}
		if math.Abs(float64(s.U/other.U)-1) > 1e-9 || math.Abs(s.DoF/other.DoF-1) > 1e-6 {
			t.Fatalf("the order counts: %+v, %+v", s, other)
		}
	})
}

// By hand, with JCGM 100:2008's formulas: 2, 3 and 4 mm beside a tube have u = 0.1 and s²(ln d) = 0.121269, so that v = (3 ×
// 0.0114 + 2 × 0.121269)/5 = 0.055348, c² = 0.005 + 0.055348/3 = 0.023449 and ν = 5 (0.023449/0.018449)² = 8.0774; the mean of 8, 27
// and 64 mm³ is 33.
func TestSeveralByHand(t *testing.T) {
	var sizes []bubble.Size
	for _, d := range []quantity.Length{2e-3, 3e-3, 4e-3} {
		sizes = append(sizes, bubble.OfTube(1, d))
	}
	s := bubble.OfSeveral(sizes)
	within(t, "diameter", float64(s.Diameter), 1e-3*math.Cbrt(33), 1e-9)
	within(t, "uncertainty", float64(s.U/s.Diameter), math.Sqrt(0.023449), 1e-4)
	within(t, "degrees of freedom", s.DoF, 8.0774, 1e-4)
}

// Three that are alike narrow the answer and leave their way of sizing as what could; two hardly do, and three that differ
// widen it, by a factor of two and a half each way, no more.
func TestSeveralNarrowsAndAdvises(t *testing.T) {
	spanOf := func(e bubble.Estimate) float64 { return float64(e.Molar.Hi / e.Molar.Lo) }
	sized := func(d ...quantity.Length) bubble.Estimate {
		train, sizes := joint7(), []bubble.Size{}
		for _, one := range d {
			sizes = append(sizes, bubble.Measured(one))
		}
		train.Size = bubble.OfSeveral(sizes)
		return estimate(t, train)
	}
	one, two, three, differ := sized(3e-3), sized(3e-3, 3e-3), sized(3e-3, 3e-3, 3e-3), sized(2e-3, 3e-3, 4e-3)
	if !(spanOf(three) < 0.95*spanOf(one) && spanOf(two) < 1.05*spanOf(one) && spanOf(one) < spanOf(differ) && spanOf(differ) < 2.5*spanOf(one)) {
		t.Errorf("spans: one %.2f, two %.2f, three %.2f, three that differ %.2f", spanOf(one), spanOf(two), spanOf(three), spanOf(differ))
	}
	for want, e := range map[string][]bubble.Estimate{
		bubble.AdviceSizeAgain: {one, two}, bubble.AdviceSizeBetter: {three, differ},
	} {
		for _, got := range e {
			if got.Advice != want {
				t.Errorf("advice %s, wanted %s", got.Advice, want)
			}
		}
	}
}

// A ring of true size tells more than an eye beside a tube, until rings are too coarse.
func TestMatched(t *testing.T) {
	if got := bubble.Matched(8e-3); got.U != 0.4e-3 || got.Diameter != 8e-3 {
		t.Errorf("8 mm: %+v", got)
	}
	if got := bubble.Matched(1e-3); got.U != 0.2e-3 {
		t.Errorf("1 mm: %+v", got)
	}
}
