package record

// Fault is bad data: a stable code, and the field that it is about.
type Fault struct {
	Code  string
	Field string
}

// Error gives code and field; people read the catalogue's words instead.
func (f *Fault) Error() string {
	if f.Field == "" {
		return "record: " + f.Code
	}
	return "record: " + f.Code + ": " + f.Field
}

// The codes of faults.
const (
	BadBody      = "bad-body"     // the body is no JSON of this kind
	Missing      = "missing"      // a field that must be there is empty
	TooLong      = "too-long"     // a text over its length
	OutOfRange   = "out-of-range" // a number outside its range
	UnknownCode  = "unknown-code" // a code outside its vocabulary
	UnknownNoun  = "unknown-noun" // about a noun that is not there
	RoundIsEnded = "round-ended"  // a look in a round that has ended
	TagProblem   = "tag-problem"  // a tag with a wrong check character
	UnknownKind  = "unknown-kind" // a kind this build cannot write
)
