package quantity

import "strconv"

// The codes of a Fault. They are stable: words for people come from the catalogue.
const (
	// CodeNotANumber: the text is no number, or the number is NaN or infinite.
	CodeNotANumber = "not-a-number"
	// CodeUnitUnknown: no unit has this code.
	CodeUnitUnknown = "unit-unknown"
	// CodeUnitKind: the unit measures something else; Want and Got name both kinds.
	CodeUnitKind = "unit-kind"
	// CodeReferenceMissing: a leak-rate unit that means nothing without its
	// reference temperature came without one.
	CodeReferenceMissing = "reference-missing"
	// CodeReferenceUnknown: no reference has this code.
	CodeReferenceUnknown = "reference-unknown"
	// CodeNotPositive: the value must be above zero.
	CodeNotPositive = "not-positive"
	// CodeRange: the value is outside of the range that Min and Max give.
	CodeRange = "out-of-range"
	// CodeTooLarge: the value is beyond what the calculation was made for.
	CodeTooLarge = "too-large"
)

// Fault is bad data, told by a stable code and its parameters.
type Fault struct {
	// Code is one of the codes above, or one that another calc package documents.
	Code string
	// Field names the input at fault ("size", "count", …); "" from Parse.
	Field string
	// Text is what was entered, "" where there was no text.
	Text string
	// Unit is the unit's code as it came, "" where there was none.
	Unit string
	// Min and Max are the ends of the allowed range in SI of a CodeRange, otherwise 0.
	Min, Max float64
	// Want and Got are the two kinds of a CodeUnitKind, otherwise "".
	Want, Got Kind
}

// Error is for logs; people read the words that belong to the code.
func (f *Fault) Error() string {
	s := f.Code
	if f.Field != "" {
		s += " " + f.Field
	}
	if f.Text != "" {
		s += " \"" + f.Text + "\""
	}
	if f.Unit != "" {
		s += " [" + f.Unit + "]"
	}
	if f.Code == CodeRange {
		s += ": from " + plainly(f.Min) + " to " + plainly(f.Max)
	}
	if f.Want != "" {
		s += ": wanted " + string(f.Want) + ", got " + string(f.Got)
	}
	return s
}

// Positive is nil when value is above zero and finite, and otherwise a Fault of
// the field: CodeNotANumber for NaN and infinity, CodeNotPositive for the rest.
func Positive(field string, value float64) error {
	if !finite(value) {
		return &Fault{Code: CodeNotANumber, Field: field}
	}
	if value <= 0 {
		return &Fault{Code: CodeNotPositive, Field: field}
	}
	return nil
}

// Within is nil when value lies from low to high, ends included, and otherwise a Fault of the field: CodeNotANumber for NaN
// and infinity, CodeRange for the rest.
func Within[Q ~float64](field string, value, low, high Q) error {
	if !finite(float64(value)) {
		return &Fault{Code: CodeNotANumber, Field: field}
	}
	if value < low || value > high {
		return &Fault{Code: CodeRange, Field: field, Min: float64(low), Max: float64(high)}
	}
	return nil
}

// plainly writes a number with the digits that it needs.
func plainly(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// finite is false for NaN and both infinities.
func finite(v float64) bool { return v-v == 0 }
