// Package engine is what a phone does with its own copy of the journal: keep
// what screens write, fold it, answer questions, and step through pushing and
// pulling. It is the part of the wasm engine that knows nothing of browsers:
// files, clock and randomness are handed in, so that all of it is tested
// natively. Package main around it is only the door.
package engine
