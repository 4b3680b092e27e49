package bubble_test

import (
	"math"
	"math/rand/v2"

	"jointwalk/calc/bubble"
	"jointwalk/calc/quantity"
)

// A world of leaks and of people who look at them. It shares nothing with calc
// but the types in which a person's readings are handed over: its generator, its
// geometry, its gas and its clocks are its own.

// leak is one true leak and its bubbles.
type leak struct {
	molar    float64 // mol/s, the truth
	diameter float64 // m, of the bubble when it goes
	gap      float64 // s, mean time from bubble to bubble
	scatter  float64 // of the gaps, as a share; 1 and more: at random
	kelvin   float64
	pascal   float64
}

// sight is how bubbles form: how full the sphere is.
type sight func(r *rand.Rand, d float64) float64

// sphere is a free bubble, summed from slices.
func sphere(_ *rand.Rand, d float64) float64 { return cap(d/2, d) }

// attached is a film bubble: a sphere cut by its joint, anywhere between
// half of its volume and all of it.
func attached(r *rand.Rand, d float64) float64 {
	wanted := (0.5 + 0.5*r.Float64()) * cap(d/2, d)
	low, high := d/2, d
	for range 50 {
		if h := (low + high) / 2; cap(d/2, h) < wanted {
			low = h
		} else {
			high = h
		}
	}
	return cap(d/2, low)
}

// cap is the volume of a spherical cap: radius r, height h.
func cap(r, h float64) float64 { return math.Pi * h * h * (3*r - h) / 3 }

// between draws evenly on a logarithmic scale.
func between(r *rand.Rand, low, high float64) float64 {
	return low * math.Exp(r.Float64()*math.Log(high/low))
}

// draw makes a leak whose bubbles can be counted: a leak first, bubbles of any
// size, and what is too slow or too fast for an eye is left out.
func draw(r *rand.Rand, fullness sight, scatter func(*rand.Rand) float64) leak {
	for {
		l := leak{
			molar:    between(r, 1e-10, 1e-5),
			diameter: 1.5e-3 + 12e-3*r.Float64(),
			scatter:  scatter(r),
			kelvin:   283 + 25*r.Float64(),
			pascal:   80e3 + 23e3*r.Float64(),
		}
		flow := l.molar * 8.314462618 * l.kelvin / l.pascal
		l.gap = fullness(r, l.diameter) / flow
		if l.gap > 0.33 && l.gap < 12 {
			return l
		}
	}
}

// train is the times of bubbles of a leak, from a random phase on.
func (l leak) train(r *rand.Rand, until float64) []float64 {
	var times []float64
	// Let the train run in, so that its phase has nothing to do with the clock.
	for at := -20 * l.gap * (1 + r.Float64()); at < until; {
		if l.scatter >= 1 {
			at += l.gap * r.ExpFloat64()
		} else {
			at += l.gap * math.Max(0.05, 1+l.scatter*r.NormFloat64())
		}
		if at > 0 {
			times = append(times, at)
		}
	}
	return times
}

// judged is a person's reading of a size and what the person says of it: wrong
// by a tenth or by 0.3 mm, whichever is more.
func judged(r *rand.Rand, d float64) bubble.Size {
	for {
		read := d + math.Max(0.1*d, 0.3e-3)*r.NormFloat64()
		if read > 0.6e-3 {
			return bubble.Measured(quantity.Length(read))
		}
	}
}

// hand is how far a finger is off at one end of a time.
func hand(r *rand.Rand) float64 { return 0.3 / math.Sqrt2 * r.NormFloat64() }

// watcher looks at a leak and says what was counted; false when it saw too little.
type watcher func(r *rand.Rand, l leak) (bubble.Count, bool)

// windowed counts for about as long as it takes, with a stopwatch.
func windowed(r *rand.Rand, l leak) (bubble.Count, bool) {
	says := math.Round(10 + 20*r.Float64() + 5*l.gap)
	n := 0
	from := 20 * r.Float64()
	start, stop := from+hand(r), from+says+hand(r)
	for _, at := range l.train(r, 200) {
		if at > start && at < stop {
			n++
		}
	}
	return bubble.Window(n, quantity.Duration(says), 0.3), n >= 3
}

// ten takes the time from a bubble to the tenth after it, read to a tenth.
func ten(r *rand.Rand, l leak) (bubble.Count, bool) {
	times := l.train(r, 400)
	took := times[15] - times[5] + hand(r) - hand(r)
	return bubble.Intervals(10, quantity.Duration(math.Round(10*took)/10), 0.3), took > 1
}

// tapping taps at each bubble, 6 to 25 of them.
func tapping(r *rand.Rand, l leak) (bubble.Count, bool) {
	times := l.train(r, 800)
	var taps []quantity.Duration
	for _, at := range times[:6+r.IntN(20)] {
		taps = append(taps, quantity.Duration(at+0.15/math.Sqrt2*r.NormFloat64()))
	}
	for i := range taps[1:] {
		if taps[i+1] <= taps[i] {
			return bubble.Count{}, false
		}
	}
	return bubble.Taps(taps, 0.15), true
}

// steady trains have nearly equal gaps; random ones are Poisson's.
func steady(r *rand.Rand) float64 { return 0.02 + 0.18*r.Float64() }
func random(*rand.Rand) float64   { return 1 }
func even(*rand.Rand) float64     { return 0.02 }
