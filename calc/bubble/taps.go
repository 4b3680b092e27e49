package bubble

import (
	"math"

	"jointwalk/calc/spread"
)

// Judgement: common practice, no source.
const (
	// expectedScatter is the coefficient of variation that intervals of a
	// steady train are taken to have before any was seen …
	expectedScatter = 0.2
	// … and it weighs as much as so many intervals seen.
	expectedWeight = 2
	// irregularScatter is the coefficient of variation above which a train of
	// at least fewestForScatter intervals counts as irregular; random events have 1.
	irregularScatter = 0.5
	fewestForScatter = 4
)

// tapped is a train as its taps show it.
type tapped struct {
	// intervals between the taps.
	intervals int
	// scatter is the coefficient of variation of the train's own intervals:
	// what is left of that of the taps when the hand's share is taken off.
	scatter float64
}

// train reads the regularity of a train off its taps.
func (c Count) train() tapped {
	mean := float64(c.Time) / float64(c.N)
	squares := 0.0
	for i := 1; i < len(c.At); i++ {
		off := float64(c.At[i]-c.At[i-1])/mean - 1
		squares += off * off
	}
	hand := float64(c.Clock) / mean
	own := math.Max(0, squares-float64(c.N-1)*hand*hand)
	weight := float64(expectedWeight + c.N - 1)
	return tapped{c.N, math.Sqrt((own + expectedWeight*expectedScatter*expectedScatter) / weight)}
}

// irregular says whether the train must be taken as random events.
func (t tapped) irregular() bool {
	return t.intervals >= fewestForScatter && t.scatter > irregularScatter
}

// number is what is known of the number of mean intervals in the time of the
// taps. Steady: lognormal, of scatter/√n. Irregular: gamma with as many events
// as were seen, Poisson's; with fewer where bubbles come in bursts, scatter
// above 1.
func (t tapped) number() spread.Distribution {
	n := float64(t.intervals)
	if !t.irregular() {
		return spread.Lognormal{Median: n, Sigma: t.scatter / math.Sqrt(n)}
	}
	bursts := math.Max(1, t.scatter*t.scatter)
	events := max(1, int(math.Round(n/bursts)))
	return spread.Gamma{Shape: events, Rate: float64(events) / n}
}
