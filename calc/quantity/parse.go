package quantity

import (
	"strconv"
	"strings"
)

// longest is the most characters that a number may have.
const longest = 32

// Parse reads what a person typed as a number in the unit of that code.
//
// A comma or a dot is the decimal sign, never a thousands sign; lengths in
// inches may be fractions ("1/4", "1 1/2", "1-1/2"). All but Gauge and Drop
// must be above zero. Leak-rate units name their reference behind an @:
// "std cm3/min@0C", "Pa.m3/s@20C"; for the pV units it is the temperature of
// the gas.
//
// Errors are *Fault: CodeNotANumber, CodeUnitUnknown, CodeUnitKind,
// CodeReferenceMissing, CodeReferenceUnknown, CodeNotPositive.
func Parse[Q Quantity](text, code string) (Q, error) {
	u, err := resolve(code, kindOf[Q]())
	if err != nil {
		return 0, err
	}
	v, ok := number(text)
	if !ok && u.scale == inch {
		v, ok = fraction(text)
	}
	si := (v + u.shift) * u.scale
	if !ok || !finite(si) {
		return 0, &Fault{Code: CodeNotANumber, Text: text, Unit: code}
	}
	if si <= 0 && !signed[Q]() {
		return 0, &Fault{Code: CodeNotPositive, Text: text, Unit: code}
	}
	return Q(si), nil
}

// From makes a quantity of a number that is already one, under Parse's rules
// for units; the value may have any sign.
func From[Q Quantity](v float64, code string) (Q, error) {
	u, err := resolve(code, kindOf[Q]())
	if err != nil {
		return 0, err
	}
	return Q((v + u.shift) * u.scale), nil
}

// In is q as a number of the unit of that code. Errors as in Parse, for the unit.
func In[Q Quantity](q Q, code string) (float64, error) {
	u, err := resolve(code, kindOf[Q]())
	if err != nil {
		return 0, err
	}
	return float64(q)/u.scale - u.shift, nil
}

// number reads a plain decimal number.
func number(text string) (float64, bool) {
	s := strings.TrimSpace(text)
	if s == "" || len(s) > longest || strings.Trim(s, "0123456789.,+-eE") != "" {
		return 0, false
	}
	if strings.Count(s, ".")+strings.Count(s, ",") > 1 {
		return 0, false
	}
	v, err := strconv.ParseFloat(strings.Replace(s, ",", ".", 1), 64)
	return v, err == nil
}

// fraction reads "1/4", "1 1/2" and "1-1/2".
func fraction(text string) (float64, bool) {
	s := strings.TrimSpace(text)
	over, under, ok := strings.Cut(s, "/")
	if !ok || len(s) > longest {
		return 0, false
	}
	whole := 0
	if i := strings.LastIndexAny(over, " -"); i >= 0 {
		w, good := natural(strings.TrimSpace(over[:i]))
		if !good {
			return 0, false
		}
		whole, over = w, over[i+1:]
	}
	a, good := natural(over)
	b, fine := natural(under)
	if !good || !fine || b == 0 {
		return 0, false
	}
	return float64(whole) + float64(a)/float64(b), true
}

// natural reads a whole number of at most four digits.
func natural(s string) (int, bool) {
	if s == "" || len(s) > 4 || strings.Trim(s, "0123456789") != "" {
		return 0, false
	}
	n, err := strconv.Atoi(s)
	return n, err == nil
}
