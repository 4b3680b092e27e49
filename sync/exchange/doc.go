// Package exchange moves events between a phone and a server as step functions: no network, no clock, no
// goroutines. The caller carries the bytes, tells the time and hands in the randomness.
//
// Push: the phone's Outbox makes a batch, the server's Receive answers per event, the Outbox takes
// the answer. Pull: the server's Pull makes a slice, the phone's Inbox applies it. Every step may be
// repeated: a lost answer costs a round trip and nothing else.
package exchange
