// Package schema describes the journal's lines for whoever reads them without
// us: JSON Schema 2020-12 of an event with the body of every kind, and of the
// receipt that travels with it. It is made from the Go types; what is committed
// is a snapshot that a test compares with them.
//
// The format is for ever: Breaks tells what in a later schema is not additive,
// and a test holds the snapshot against the one that was released last.
package schema

import "embed"

// Files holds the snapshot, event.json and receipt.json, as it is served.
//
//go:embed event.json receipt.json
var Files embed.FS

// Retired are the names that nothing may ever be called again: kinds
// ("look-made") and fields ("Look.seconds"). A name goes here when it leaves the
// types, so that no old line is ever read with another meaning. None has left
// so far.
var Retired = []string{}
