package record

import "jointwalk/sync/journal"

// KeptRounds is how many of a fixture's last rounds a phone always holds.
// Common practice, no source.
const KeptRounds = 5

// oldness holds the rounds and looks of a fixture that a phone may do without.
type oldness struct{ rounds, looks map[string]bool }

// Old says whether an event belongs to a round before its fixture's last
// KeptRounds: that round itself, its looks, and all that was said of these. A
// round goes as a whole, so that what is held of it never looks like a round
// that left joints out. What still matters is not old: a round that has not
// ended, and one with a finding that stands (open, waiting, accepted), with a
// second look that found it still leaking, or with the last look at a joint. An
// event of no known fixture, or about no round and no look, is not old; nor is
// the withdrawal of a picture, which a phone may hold still.
func (b *Book) Old(e journal.Event) bool {
	p := b.page(e.About.Fixture)
	if p == nil || e.About.Of == "" {
		return false
	}
	if _, picture := b.Album.AddedBy(e.About.Fixture, e.Base); picture && Kind(e.Kind) == Withdrawn {
		return false
	}
	if f := p.read(e.About.Fixture); p.old == nil {
		p.old = oldIn(f)
	}
	return p.old.looks[e.About.Of] || p.old.rounds[e.About.Of]
}

func oldIn(f *FixtureState) *oldness {
	old := &oldness{map[string]bool{}, map[string]bool{}}
	for i, r := range f.Rounds {
		old.rounds[r.ID] = i < len(f.Rounds)-KeptRounds && r.Ended != nil
	}
	for _, l := range f.Looks {
		if l.Stands() {
			old.keep(l)
		}
	}
	for _, j := range f.Joints {
		if n := len(j.Looks); n > 0 {
			old.rounds[j.Looks[n-1].Round] = false
		}
	}
	for _, l := range f.Looks {
		old.looks[l.ID] = old.rounds[l.Round]
	}
	return old
}

// keep keeps the round of a finding that stands, and those of the second looks
// that say so.
func (o *oldness) keep(l *LookState) {
	o.rounds[l.Round] = false
	for _, again := range l.Again {
		if again.IsFinding() {
			o.rounds[again.Round] = false
		}
	}
}
