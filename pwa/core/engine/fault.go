package engine

import (
	"errors"

	"jointwalk/calc/quantity"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

// Codes of a Fault of this package; those of journal, record and summary are
// passed on as they are.
const (
	CodeNotPaired     = "not-paired"     // no person yet: nothing can be written in anybody's name
	CodeBadCall       = "bad-call"       // a call that the door does not know, or whose arguments cannot be read
	CodeNoRandomness  = "no-randomness"  // the browser gave no random bytes
	CodeUnknownSite   = "unknown-site"   // a site that this person does not work at
	CodeUnknownPerson = "unknown-person" // nobody who shares this device
	CodeNotAllowed    = "not-allowed"    // this person's duties do not cover it
	CodeInternal      = "internal"       // an error without a code
)

// Fault is what a call answers when it fails: a stable code, for bad data the field, and for a number out of its range
// what is allowed, both ends included.
type Fault struct {
	Code  string   `json:"code"`
	Field string   `json:"field,omitempty"`
	Min   *float64 `json:"min,omitempty"`
	Max   *float64 `json:"max,omitempty"`
}

// Error gives code and field; people read the catalogue's words instead.
func (f *Fault) Error() string { return "engine: " + f.Code + " " + f.Field }

// AsFault gives any error of this house the form that crosses the door.
func AsFault(err error) *Fault {
	var own *Fault
	var bad *record.Fault
	var question *summary.Fault
	var number *quantity.Fault
	switch {
	case errors.As(err, &own):
		return own
	case errors.As(err, &bad):
		return &Fault{Code: bad.Code, Field: bad.Field}
	case errors.As(err, &question):
		return &Fault{Code: question.Code, Field: question.Field}
	case errors.As(err, &number):
		return ofNumber(number)
	}
	if code := journal.CodeOf(err); code != "" {
		return &Fault{Code: code}
	}
	return &Fault{Code: CodeInternal, Field: err.Error()}
}

func ofNumber(f *quantity.Fault) *Fault {
	told := &Fault{Code: f.Code, Field: f.Field}
	if f.Min < f.Max {
		told.Min, told.Max = &f.Min, &f.Max
	}
	return told
}
