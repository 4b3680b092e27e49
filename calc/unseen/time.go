package unseen

import (
	"math"

	"jointwalk/calc/quantity"
)

// The look that is asked for is between these.
const (
	// ShortestLook is what it takes to see that nothing comes. Judgement: common practice, no source.
	ShortestLook quantity.Duration = 1
	// LongestLook is how long solution stays wet on a joint at best. Judgement: common practice, no source.
	LongestLook quantity.Duration = 1800
)

// Reasons why no time is long enough.
const (
	// CannotPlugged: plugged paths alone may leak more. Bubbles cannot show this: collect the gas, let the pressure decay, or
	// use a tracer gas.
	CannotPlugged = "bubbles-cannot-show"
	// CannotTooLong: a look beyond LongestLook would do it, and the solution does not stay that long.
	CannotTooLong = "look-too-long"
	// CannotEarlier: joints that were looked at before were looked at too shortly; a longer look at those would do it.
	CannotEarlier = "earlier-look-short"
)

// Need is how long each joint of a group must be looked at.
type Need struct {
	// Cannot is the reason why no time does it; "" where there is one.
	Cannot string
	Time   quantity.Duration
}

// TimeFor is how long each joint of a group must be looked at, all for the same time, so that a round in which nothing is
// seen bounds the sum of their leaks below what is given. The looks' own times do not count. The reason of the first joint
// of which nothing can be said stands for all. The bound falls with the time (Together), so that the time is found by
// halving, to one part in a million. No looks at all are a caller's mistake. Errors as Bound's, and "not-positive" or
// "not-a-number" with the field "sum".
func TimeFor(looks []Look, sum quantity.MolarFlow) (Need, error) {
	return TimeAfter(nil, looks, sum)
}

// TimeAfter is TimeFor where some joints of the same round were looked at already: their own times count, and the sum is that
// of all.
func TimeAfter(done, looks []Look, sum quantity.MolarFlow) (Need, error) {
	if err := quantity.Positive("sum", float64(sum)); err != nil {
		return Need{}, err
	}
	longest, err := looksOf(done, looks, LongestLook)
	if err != nil || longest.Cannot != "" {
		return Need{Cannot: longest.Cannot}, err
	}
	if longest.Upper > sum {
		return tooShort(done, looks, sum)
	}
	low, high := float64(ShortestLook), float64(LongestLook)
	if shortest, _ := looksOf(done, looks, ShortestLook); shortest.Upper <= sum {
		return Need{Time: ShortestLook}, nil
	}
	for high/low > 1+1e-6 {
		middle := math.Sqrt(low * high)
		if b, _ := looksOf(done, looks, quantity.Duration(middle)); b.Upper > sum {
			low = middle
		} else {
			high = middle
		}
	}
	return Need{Time: quantity.Duration(high)}, nil
}

// forever is a look that nobody takes: what then is left is not the clock's.
const forever quantity.Duration = 1e12

// tooShort is why the longest look does not do it.
func tooShort(done, looks []Look, sum quantity.MolarFlow) (Need, error) {
	if endless, err := looksOf(done, looks, forever); err != nil || endless.Upper <= sum {
		return Need{Cannot: CannotTooLong}, err
	}
	all := append(append([]Look{}, done...), looks...)
	if again, err := looksOf(nil, all, LongestLook); err != nil || again.Upper <= sum {
		return Need{Cannot: CannotEarlier}, err
	}
	return Need{Cannot: CannotPlugged}, nil
}

// looksOf is the bound of those that are done and of the others with another time.
func looksOf(done, looks []Look, time quantity.Duration) (Bound, error) {
	timed := append([]Look{}, done...)
	for _, l := range looks {
		l.Time = time
		timed = append(timed, l)
	}
	return Together(timed)
}
