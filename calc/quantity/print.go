package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Printed is a number ready for people, with the unit that belongs to it.
type Printed struct {
	// Number is plain, with a dot; the catalogue of words puts the comma.
	Number string
	// Unit is the unit's full code.
	Unit string
}

// Print is q in the unit of that code, rounded to a number of significant
// digits. Errors as in Parse, for the unit.
func Print[Q Quantity](q Q, code string, digits int) (Printed, error) {
	v, err := In(q, code)
	if err != nil {
		return Printed{}, err
	}
	return Printed{Number: Number(v, digits), Unit: code}, nil
}

// Number writes v with that many significant digits (1 to 15, otherwise a
// caller's mistake), trailing zeros kept: 0.345, 0.300, 12.0, 123000. From 1e-4
// up to below 1e6 it has no exponent; beyond it looks like 7.44e-7. Zero is
// "0"; NaN and infinity, which no calculator gives, are a caller's mistake.
func Number(v float64, digits int) string {
	if digits < 1 || digits > 15 || !finite(v) {
		panic("quantity: Number wants a finite value and 1 to 15 digits")
	}
	if v == 0 {
		return "0"
	}
	s := strconv.FormatFloat(v, 'e', digits-1, 64)
	mantissa, power, _ := strings.Cut(s, "e")
	exponent, _ := strconv.Atoi(power)
	if exponent < -4 || exponent >= 6 {
		return mantissa + "e" + strconv.Itoa(exponent)
	}
	rounded, _ := strconv.ParseFloat(s, 64)
	return strconv.FormatFloat(rounded, 'f', max(0, digits-1-exponent), 64)
}

// The ends of the bar on which a leak rate is drawn, in the person's unit.
const (
	BarLow  = 0.001
	BarHigh = 100
)

// Position is where v stands on the logarithmic bar from BarLow to BarHigh:
// 0 to 1, held at the ends. Zero, negative values and NaN stand at 0.
func Position(v float64) float64 {
	if !(v > BarLow) {
		return 0
	}
	return math.Min(1, math.Log10(v/BarLow)/math.Log10(BarHigh/BarLow))
}
