package journal

// Feed is what was pulled of one site: events with their receipts, in the order they came.
type Feed struct{}

// Append keeps the pairs that it does not hold yet, with one write and one flush, and gives
// those back. Appending the same again does nothing. Ticks are witnessed by the own log.
func (f *Feed) Append(pairs []Pair) (added []Pair, err error) { panic("journal: not built yet") }

// Each calls visit with every pair in the order pulled, until visit returns false. A pair whose
// receipt was damaged has a zero Receipt.
func (f *Feed) Each(visit func(Pair) bool) error { panic("journal: not built yet") }

// Len is the number of pairs held.
func (f *Feed) Len() int { panic("journal: not built yet") }

// Mark changes whenever the feed begins anew in another file: a cursor is good only with the mark it was kept with.
func (f *Feed) Mark() string { panic("journal: not built yet") }

// Damage is what was found when the feed was opened.
func (f *Feed) Damage() Damage { panic("journal: not built yet") }
