package record

import "slices"

// Moved are the joints that work on one may have moved, in place order: those on the
// same run that a round saw tight before the last repair at it, and not since. Where
// no run is given there are none: the joints of a whole circuit would be too many to
// believe. Judgement, no source.
func (f *FixtureState) Moved(by *JointState, round string) []*JointState {
	var moved []*JointState
	mend := by.lastMend()
	if by.Run == "" || mend == nil {
		return nil
	}
	for _, j := range f.Joints {
		if j == by || j.Retired || j.Run != by.Run {
			continue
		}
		if tight := j.tightIn(round); tight != nil && mend.Done.Follows(&tight.Made) {
			moved = append(moved, j)
		}
	}
	return moved
}

// lastMend is the last repair at a joint, nil when none.
func (j *JointState) lastMend() *MendState {
	var last *MendState
	for _, l := range j.Looks {
		if m := l.lastMend(); m != nil && l.OwnFinding() && (last == nil || m.Done.Follows(&last.Done)) {
			last = m
		}
	}
	return last
}

// tightIn is a joint's last look in a round where nothing was seen at it and no leak
// stands, nil when there is none.
func (j *JointState) tightIn(round string) *LookState {
	var last *LookState
	for _, l := range j.Looks {
		if l.Stands() {
			return nil
		}
		if l.Round == round {
			last = l
		}
	}
	if last == nil || last.Result != None && last.Result != Partly {
		return nil
	}
	return last
}

// Spares are the spare parts that a fixture's repairs used, each once: those at joints
// of a kind first, then the last used first.
func (f *FixtureState) Spares(kind string) []string {
	var same, other []string
	for i := len(f.Looks) - 1; i >= 0; i-- {
		l := f.Looks[i]
		j := f.joints[l.Joint]
		for k := len(l.Mends) - 1; k >= 0; k-- {
			if j != nil && j.Kind == kind {
				same = addOnce(same, l.Mends[k].Spare)
			} else {
				other = addOnce(other, l.Mends[k].Spare)
			}
		}
	}
	for _, spare := range other {
		same = addOnce(same, spare)
	}
	return same
}

func addOnce(list []string, text string) []string {
	if text == "" || slices.Contains(list, text) {
		return list
	}
	return append(list, text)
}
