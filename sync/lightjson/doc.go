// Package lightjson reads and writes JSON (RFC 8259) for what runs on the phone too. For the types that are used there it
// gives what encoding/json gives, and its tests hold it against that package; without encoding/json and the fmt that comes
// with it the phone loads 80 kB less.
//
// It differs where nothing here wants more: a field's name is met exactly and never in another case, no type but
// json.RawMessage reads or writes itself, nothing is escaped for HTML, arrays and bytes as base64 are
// not known, and what is read stands at most 200 deep.
package lightjson

import "errors"

var (
	errSyntax   = errors.New("lightjson: not one JSON value")
	errKind     = errors.New("lightjson: a value of another kind than its place takes")
	errNumber   = errors.New("lightjson: a number out of its place's range")
	errDeep     = errors.New("lightjson: values too deep within others")
	errTarget   = errors.New("lightjson: not a pointer to read into")
	errInfinite = errors.New("lightjson: a number that is infinite or none")
	errForeign  = errors.New("lightjson: a kind of value that JSON does not have")
)

const (
	deepest  = 10_000 // how far values may stand within others, as in encoding/json
	deepRead = 200    // and how far into Go's values: reading calls itself, and a phone's stack is small
)
