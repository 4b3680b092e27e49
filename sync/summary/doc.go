// Package summary answers the questions that screens ask: records and numbers
// together, one file a question. It computes every number that a screen shows
// and emits codes, parameters and plain number strings; words come from the
// app's catalogue. The phone's engine and the server call the same functions.
package summary
