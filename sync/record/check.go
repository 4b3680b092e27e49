package record

import (
	"math"
	"slices"
	"unicode/utf8"
)

// The longest texts, in characters.
const (
	NameLength = 80
	NoteLength = 2000
)

// LongestLook is the longest time that a look may claim, in seconds: a day.
const LongestLook = 86400

// MostSizes is the largest number of bubbles that one observation has the size of.
const MostSizes = 3

// MostTaps is the largest number of taps that one observation keeps.
const MostTaps = 400

// SpotLength is the longest name of a spot at a joint, in characters.
const SpotLength = 20

// MostRewets is the largest number of times that a joint is wetted again in one look.
const MostRewets = 99

// MostArrows is the largest number of arrows that one picture has.
const MostArrows = 10

// MostSeen is the largest number of events that an edit names as seen.
const MostSeen = 32

// checker collects the first fault of a body. Its methods are called a hundred
// times over: inlined they would weigh more than the rest of the package, and the
// phone loads that.
type checker struct{ fault *Fault }

//go:noinline
func (c *checker) fail(code, field string) {
	if c.fault == nil {
		c.fault = &Fault{Code: code, Field: field}
	}
}

//go:noinline
func (c *checker) text(field, value string, most int, needed bool) {
	switch {
	case needed && value == "":
		c.fail(Missing, field)
	case utf8.RuneCountInString(value) > most:
		c.fail(TooLong, field)
	}
}

//go:noinline
func (c *checker) code(field, value string, vocabulary []string) {
	if !slices.Contains(vocabulary, value) {
		c.fail(UnknownCode, field)
	}
}

//go:noinline
func (c *checker) ids(field string, ids []string) {
	if len(ids) > MostSeen {
		c.fail(OutOfRange, field)
	}
	for _, id := range ids {
		c.text(field, id, NameLength, true)
	}
}

// within holds for low ≤ value ≤ high; NaN never does.
//
//go:noinline
func (c *checker) within(field string, value, low, high float64) {
	if !(value >= low && value <= high) {
		c.fail(OutOfRange, field)
	}
}

//go:noinline
func (c *checker) above(field string, value float64) {
	if !(value > 0) || math.IsInf(value, 1) {
		c.fail(OutOfRange, field)
	}
}

//go:noinline
func (c *checker) unit(field string, a Amount, units []string) {
	c.code(field, a.Unit, units)
	c.within(field, a.Value, -1e9, 1e9)
}

//go:noinline
func (c *checker) positive(field string, a *Amount, units []string) {
	if a == nil {
		c.fail(Missing, field)
		return
	}
	c.code(field, a.Unit, units)
	c.above(field, a.Value)
}
