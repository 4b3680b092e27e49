package fit

import (
	"math"

	"jointwalk/calc/quantity"
)

// curve is the sum of squares of y − C − A exp(−k t) as a function of the rate k
// alone: for any k, the best C and A are those of a straight line in exp(−k t).
// So one number is searched, and no start can lead the search astray. C is 0 when
// there is no level.
type curve struct {
	readings
	// t is x from the first reading on.
	t     []float64
	level bool
}

// newCurve reads points whose x rise.
func newCurve(points []Point, parameters int, level bool) (curve, error) {
	r, err := read(points, parameters)
	if err == nil {
		err = r.rising()
	}
	if err != nil {
		return curve{}, err
	}
	t := make([]float64, len(r.x))
	for i, x := range r.x {
		t[i] = x - r.x[0]
	}
	return curve{r, t, level}, nil
}

// span is the time from the first reading to the last.
func (c curve) span() float64 { return c.t[len(c.t)-1] }

// best is what a rate can do at its best.
type best struct {
	level, amplitude float64
	// squares is the sum of squares, slope half of its slope with the rate.
	squares, slope float64
}

// at is the best with a rate k.
func (c curve) at(k float64) (b best) {
	e := make([]float64, len(c.t))
	for i, t := range c.t {
		e[i] = math.Exp(-k * t)
	}
	e0, y0 := 0.0, 0.0
	if c.level {
		e0, _ = c.mean(e)
		y0, _ = c.mean(c.y)
	}
	b.amplitude = c.product(e, e0, c.y, y0) / c.product(e, e0, e, e0)
	b.level = y0 - b.amplitude*e0
	for i, w := range c.w {
		off := w * w * (c.y[i] - y0 - b.amplitude*(e[i]-e0))
		b.squares += off * (c.y[i] - y0 - b.amplitude*(e[i]-e0))
		b.slope += off * b.amplitude * c.t[i] * e[i]
	}
	return b
}

// atZero is the amplitude at x = 0 of one at the first reading. The Fault is
// "too-large" with the field "x" when no number holds it.
func (c curve) atZero(amplitude, k float64) (float64, error) {
	a := amplitude * math.Exp(k*c.x[0])
	if a-a != 0 || a == 0 {
		return 0, &quantity.Fault{Code: quantity.CodeTooLarge, Field: "x"}
	}
	return a, nil
}

// over is the rate, times the time to the second reading, at which nothing is
// left there.
const over = 20

// rising are rates from lo to hi and a little beyond, each a quarter above the
// one before.
func rising(lo, hi float64) (rates []float64) {
	for k := lo; k < 1.25*hi; k *= 1.25 {
		rates = append(rates, k)
	}
	return rates
}

// least is the place in an ascending list of rates where the sum of squares is
// least.
func (c curve) least(rates []float64) int {
	place, squares := 0, math.Inf(1)
	for i, k := range rates {
		if s := c.at(k).squares; s < squares {
			place, squares = i, s
		}
	}
	return place
}

// between is the rate at which the sum of squares is least, next to the place in
// the list: half of the stretch around it is dropped until nothing lies between.
func (c curve) between(rates []float64, place int) float64 {
	lo, k, hi := rates[place-1], rates[place], rates[place+1]
	for range 100 {
		if c.at(k).slope > 0 {
			hi = k
		} else {
			lo = k
		}
		if k = lo + (hi-lo)/2; k == lo || k == hi {
			break
		}
	}
	return k
}
