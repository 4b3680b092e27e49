// Package record knows the nouns of the job: fixtures, programs, joints,
// rounds, looks, findings. It names the kinds of events, checks what a person
// entered before it becomes an event, and folds events into the state of a
// fixture.
//
// Folding is a replay: a fixture's events, sorted by Lamport tick, log and
// sequence number, are applied one after the other. Two copies that hold the
// same events therefore hold the same state, whatever order they came in.
//
// Bodies keep what was entered, with the unit in which it was entered; nothing
// here computes a number. Unknown kinds and newer versions are kept and
// skipped.
package record
