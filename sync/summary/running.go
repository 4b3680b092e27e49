package summary

import "jointwalk/sync/record"

// leftAfter is how long nothing may be done in an open round before it counts as left
// open, in ms: a day, so that a round may go on after a night's break. Judgement, no
// source.
const leftAfter = 24 * 3600_000

// openRounds are the rounds of a fixture that have not ended, newest first, one of
// them left out.
func (d *Desk) openRounds(f *record.FixtureState, without *record.RoundState) []OpenRound {
	var open []OpenRound
	for i := len(f.Rounds) - 1; i >= 0; i-- {
		r := f.Rounds[i]
		if r == without || r.Ended != nil {
			continue
		}
		one := OpenRound{ID: r.ID, Started: d.stamp(r.Started), Left: d.left(r)}
		one.Done, one.All = progress(f, r)
		open = append(open, one)
	}
	return open
}

// progress is how many joints a round looked at, and how many it is about: retired
// ones only where it looked at them.
func progress(f *record.FixtureState, r *record.RoundState) (done, all int) {
	for _, j := range f.Joints {
		looked := len(looksIn(j, r.ID)) > 0
		if looked {
			done++
		}
		if looked || !j.Retired {
			all++
		}
	}
	return done, all
}

// left is when the last thing was done in a round before it was left open for more
// than a day, until now or until it ended; nil where it was not.
func (d *Desk) left(r *record.RoundState) *Stamp {
	last, until := r.Started, d.Now
	for _, l := range r.Looks {
		if l.Made.Corrected() > last.Corrected() {
			last = l.Made
		}
	}
	if r.Ended != nil {
		until = r.Ended.Corrected()
	}
	if until-last.Corrected() <= leftAfter {
		return nil
	}
	stamp := d.stamp(last)
	return &stamp
}

// changed is who set the program in force, and when, where an open round keeps
// another version; nil otherwise.
func (d *Desk) changed(f *record.FixtureState, r *record.RoundState) *Stamp {
	p := f.Program()
	if r.Ended != nil || p == nil || p.Set.Event == r.Program {
		return nil
	}
	stamp := d.stamp(p.Set)
	return &stamp
}
