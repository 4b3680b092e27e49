// Package simworld is a test and nothing else: many phones and one server under one seed, in one process, on one
// thread. The shipped journal, exchange and store run in a world whose time, network and files are made up, and in
// which everything goes wrong that is known to go wrong. After the last fault it must all come right by itself.
//
// A seed is a whole story: the same seed gives the same trace, to the last byte. What was acknowledged is written
// down by the world itself (truth_test.go), and the laws that are held to it stand in laws_test.go.
//
// It is driven by hand, too: SEED=n go test -run TestWorld ./sync/simworld tells one story again, and
// SEEDS=20000 runs that many.
package simworld
