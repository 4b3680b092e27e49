// Package calc holds no code: it is the front page of the packages below it, which turn what was seen at a joint, and what an
// instrument read, into numbers.
//
//	quantity  the quantities, one type each, SI inside; units are read and printed only there
//	gas       amounts and properties of gases; water, air: those of water and of the atmosphere
//	spread    distributions over one fixed set of points: medians, intervals, budgets
//	gum, fit  first-order propagation of uncertainty; curves through readings
//	estimate  what any observation says of its leak
//	bubble    a train of bubbles → a leak rate
//	dome, froth, collect, class    the other observations
//	unseen    what "nothing seen" says
//	flow      leak paths, and a leak under another condition
//	decay     the drop of pressure in a closed volume ↔ a leak rate
//	share     a leak rate against limit and allowance
//	energy    stored energy, the force on a seal
//	call      all of it as one table of calls, JSON in and out
//	laws      what the tests of every observation run
//
// All of them are pure: no clock, no input or output, no globals that change. They import nothing of ours but each other.
// Published values that they are held to stand in testdata/published, each with its source.
package calc
