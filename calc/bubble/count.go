package bubble

import (
	"math"

	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
)

// Way is how bubbles were counted.
type Way string

// The ways.
const (
	// InWindow: so many bubbles while a clock ran that started and stopped at
	// any moment. The true number of periods is n ± 1, triangular.
	InWindow Way = "window"
	// OfIntervals: the clock started on a bubble and stopped on a bubble, so many
	// intervals later ("time for ten").
	OfIntervals Way = "intervals"
	// ByTaps: a tap per bubble; n taps are n − 1 intervals.
	ByTaps Way = "taps"
)

// The standard uncertainty of a time taken by hand, both ends together.
// Judgement: common practice, no source.
const (
	// ClockByHand is for a stopwatch or a start and stop button.
	ClockByHand quantity.Duration = 0.3
	// ClockOfTaps is for the time from the first tap to the last.
	ClockOfTaps quantity.Duration = 0.15
)

// Codes of Faults of a count.
const (
	CodeWayUnknown     = "way-unknown"
	CodeTooFewTaps     = "too-few-taps"    // fewer than two
	CodeTapsDisordered = "taps-disordered" // a tap not after the one before
)

// most is the largest count, and longest the longest time, that is believed.
const (
	most    = 100_000
	longest = quantity.Duration(1e6)
)

// Count is how many bubbles came in which time. Make it with Window,
// Intervals or Taps.
type Count struct {
	Way Way
	// N is the number of bubbles in the window, or of intervals.
	N int
	// Time of the window, or from the first to the last bubble.
	Time quantity.Duration
	// Clock is the standard uncertainty of Time; zero for none.
	Clock quantity.Duration
	// At are the times of the taps, ascending, from any zero; ByTaps only.
	At []quantity.Duration
}

// Window is n bubbles in a time whose ends have nothing to do with the bubbles.
// None seen is not a train: see package unseen.
func Window(n int, time, clock quantity.Duration) Count {
	return Count{Way: InWindow, N: n, Time: time, Clock: clock}
}

// Intervals is the time for n intervals, from a bubble to the nth after it.
func Intervals(n int, time, clock quantity.Duration) Count {
	return Count{Way: OfIntervals, N: n, Time: time, Clock: clock}
}

// Taps is the times of all taps in the order in which they came.
func Taps(at []quantity.Duration, clock quantity.Duration) Count {
	c := Count{Way: ByTaps, N: len(at) - 1, Clock: clock, At: at}
	if len(at) > 1 {
		c.Time = at[len(at)-1] - at[0]
	}
	return c
}

// Rate is the plain number of bubbles a second, N/Time.
func (c Count) Rate() float64 { return float64(c.N) / float64(c.Time) }

// Number is what is known of the number of periods in the true time. A Count that Check refuses is a caller's mistake.
func (c Count) Number() spread.Distribution {
	n := float64(c.N)
	switch c.Way {
	case InWindow:
		return spread.Triangular{Lo: n - 1, Mode: n, Hi: n + 1}
	case ByTaps:
		return c.train().number()
	default:
		return spread.Exact(n)
	}
}

// Took is what is known of the time. As Number.
func (c Count) Took() spread.Distribution {
	return spread.Around(float64(c.Time), float64(c.Clock))
}

// Check is nil for a count that can be used, and otherwise a *quantity.Fault of the field "count", "time" or "clock".
func (c Count) Check() error {
	switch c.Way {
	case ByTaps:
		if err := c.checkTaps(); err != nil {
			return err
		}
	case InWindow, OfIntervals:
	default:
		return &quantity.Fault{Code: CodeWayUnknown, Field: "count", Text: string(c.Way)}
	}
	if err := quantity.Positive("count", float64(c.N)); err != nil {
		return err
	}
	if err := quantity.Positive("time", float64(c.Time)); err != nil {
		return err
	}
	if c.N > most {
		return &quantity.Fault{Code: quantity.CodeTooLarge, Field: "count"}
	}
	if c.Time > longest {
		return &quantity.Fault{Code: quantity.CodeTooLarge, Field: "time"}
	}
	return Uncertain("clock", float64(c.Clock), float64(c.Time))
}

func (c Count) checkTaps() error {
	if len(c.At) < 2 || c.N != len(c.At)-1 {
		return &quantity.Fault{Code: CodeTooFewTaps, Field: "count"}
	}
	for i := 1; i < len(c.At); i++ {
		if !(c.At[i] > c.At[i-1]) {
			return &quantity.Fault{Code: CodeTapsDisordered, Field: "count"}
		}
	}
	return nil
}

// mostTimes is the most that a person is asked to count on by. Judgement.
const mostTimes = 10

// upTo is about how many bubbles to count at this rate until counting has no larger part of the variance than sizing. What
// the ends of a window and the clock add to the variance falls with the square of the time, what uneven taps add with the time.
func (c Count) upTo(count, size float64) int {
	times := count / size
	if c.Way != ByTaps {
		times = math.Sqrt(times)
	}
	return int(math.Ceil(float64(c.N) * math.Min(times, mostTimes)))
}
