// Package journal keeps what happened: events as lines of JSON, chained by
// hash, in files that are checked at every write.
//
// An event is one line, hashed as first written and never marshalled again.
// The package knows no event kinds: it knows the envelope, the device's own
// log (Log), the feeds pulled from a server (Feed), a small key to JSON store
// (State), waiting pictures (Pictures), and the fixed pool of files that all of
// them live in (Pool).
//
// It has no clock, no randomness and no goroutines: ids, times and files come
// in as arguments. Nothing here may be used from two goroutines at once.
package journal
