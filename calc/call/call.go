// Package call is the one table of calculations: each by a name, with a JSON object in and one out, the same on the phone and on
// the server.
//
// All numbers are SI: pascals, metres, cubic metres, seconds, kelvins, moles a second. The table says of each field what it
// is, between what it is believed, and in which unit; it is data, so that it checks what comes in and describes it to others
// too. A field that is not known, or is out of its range, is a fault that says which and names the range. NaN and infinity
// neither come in nor go out.
package call

import "jointwalk/calc/quantity"

// Entry is one calculation.
type Entry struct {
	Name, About string
	// In and Out are what it takes and gives.
	In, Out []Field

	do func(args) (answer, error)
}

// The codes of faults that are this package's own.
const (
	// CodeUnknown: there is no calculation of that name. Field is the name.
	CodeUnknown = "calculation-unknown"
	// CodeNotJSON: the arguments are not one JSON object.
	CodeNotJSON = "not-json"
	// CodeKind: a field is of another kind than it must be, a text where a number belongs.
	CodeKind = "another-kind"
	// CodeMissing: a field is not there that must be.
	CodeMissing = "missing"
	// CodeNoField: there is no such field.
	CodeNoField = "no-such-field"
	// CodeNotOneOf: a text is none of those that it may be.
	CodeNotOneOf = "not-one-of"
	// CodeLength: a list or a text is too short or too long. Min and Max are its lengths.
	CodeLength = "length"
	// CodeNoResult: the numbers are so far apart that the result is none.
	CodeNoResult = "no-result"
)

// parts are the calculations by topic, in the order of their listing.
var parts = [...][]Entry{units, gases, bubbles, nothing, flows, decays, volumes, energies, statistics}

// Table is all calculations.
func Table() (all []Entry) {
	for _, part := range parts {
		all = append(all, part...)
	}
	return all
}

// Do is the calculation of a name. What goes in and comes out is an object as JSON is read: map[string]any with float64,
// string, bool, nil, []any and further objects; nil is what could not be read. Errors are *quantity.Fault: those of this
// package, and those of the calculation.
func Do(name string, in map[string]any) (map[string]any, error) {
	e := find(name)
	if e == nil {
		return nil, &quantity.Fault{Code: CodeUnknown, Field: name}
	}
	return e.answer(in)
}

func (e *Entry) answer(in map[string]any) (map[string]any, error) {
	if in == nil {
		return nil, &quantity.Fault{Code: CodeNotJSON}
	}
	if err := check(e.In, in, ""); err != nil {
		return nil, err
	}
	answer, err := e.do(in)
	if err != nil {
		return nil, err
	}
	out, ok := answer.object()
	if !ok {
		return nil, &quantity.Fault{Code: CodeNoResult}
	}
	return out, nil
}

func find(name string) *Entry {
	for _, part := range parts {
		for i := range part {
			if part[i].Name == name {
				return &part[i]
			}
		}
	}
	return nil
}
