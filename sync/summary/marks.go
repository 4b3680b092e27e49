package summary

import "jointwalk/sync/record"

// markOf is the shape of one look by itself.
func markOf(l *record.LookState) Mark {
	switch l.Result {
	case record.None:
		if !l.ClearlyNone() {
			return Half
		}
		return Ring
	case record.Leaks:
		return Drop
	case record.Gross:
		return Burst
	case record.Partly:
		return Half
	case record.NotReached:
		return Dash
	}
	return Blank
}

// markOfFinding is the shape of a finding as it stands now.
func markOfFinding(l *record.LookState) Mark {
	switch l.State() {
	case record.Waiting:
		return Waiting
	case record.OnSpot, record.Gone:
		return Ring
	}
	return markOf(l.Newest())
}

// worstOf is the finding that decides how a joint is shown, nil where none of its
// looks is one that stands: a gross one before all others, then what is open, then
// what waits for its second look, then what was accepted; of equals the newest.
func worstOf(looks []*record.LookState) (worst *record.LookState) {
	most := 0
	for _, l := range looks {
		if g := gravity(l); g > 0 && g >= most {
			worst, most = l, g
		}
	}
	return worst
}

// gravity is how much a finding that stands asks for; 0 for all other looks.
func gravity(l *record.LookState) int {
	if !l.OwnFinding() {
		return 0
	}
	gross := 0
	if markOf(l.Newest()) == Burst {
		gross = 3
	}
	switch l.State() {
	case record.Open:
		return 3 + gross
	case record.Waiting:
		return 2
	case record.Accepted:
		return 1 + gross
	}
	return 0
}

// lastOf is the last of some looks that is so, nil when none.
func lastOf(looks []*record.LookState, is func(*record.LookState) bool) *record.LookState {
	for i := len(looks) - 1; i >= 0; i-- {
		if is(looks[i]) {
			return looks[i]
		}
	}
	return nil
}

// waiting is the newest finding whose repair at a joint waits for its second look,
// "" for none.
func waiting(j *record.JointState) string {
	l := lastOf(j.Looks, func(l *record.LookState) bool { return l.Stands() && l.State() == record.Waiting })
	if l == nil {
		return ""
	}
	return l.ID
}

// jointMark is a joint's shape now.
func jointMark(j *record.JointState) Mark { return markInRound(j.Looks) }

// lastMark is the shape of the last of some looks, as it stands now.
func lastMark(looks []*record.LookState) Mark {
	if len(looks) == 0 {
		return Blank
	}
	last := looks[len(looks)-1]
	if last.OwnFinding() {
		return markOfFinding(last)
	}
	return markOf(last)
}

// severity orders marks from harmless to grave.
var severity = map[Mark]int{Ring: 0, Blank: 1, Dash: 2, Half: 3, Waiting: 4, Drop: 5, Burst: 6}

// worst is the gravest of some marks, Blank for none.
func worst(marks []Mark) Mark {
	if len(marks) == 0 {
		return Blank
	}
	grave := marks[0]
	for _, m := range marks {
		if severity[m] > severity[grave] {
			grave = m
		}
	}
	return grave
}

// kept is how many looks a joint's card holds: a year of rounds with a second
// look in each.
const kept = 24

// strip is a joint's last looks, oldest first.
func strip(j *record.JointState) []LookMark {
	looks := shown(j.Looks)
	if len(looks) > kept {
		looks = looks[len(looks)-kept:]
	}
	marks := make([]LookMark, len(looks))
	for i, l := range looks {
		marks[i] = LookMark{Mark: markOf(l), Time: l.Made.Time, Round: l.Round, Less: less(l)}
	}
	return marks
}

func jointCard(j *record.JointState, photo *record.PictureState) JointCard {
	card := JointCard{
		ID: j.ID, Event: j.Base, Name: j.Name, Kind: j.Kind, Circuit: j.Circuit,
		Tube: j.Tube, Order: j.Order, Pin: pinIn(photo, j), Run: j.Run, Mark: jointMark(j), History: strip(j),
	}
	if l := worstOf(j.Looks); l != nil {
		card.Finding, card.State = l.ID, string(l.State())
	} else if n := len(j.Looks); n > 0 {
		card.Less = less(j.Looks[n-1])
	}
	for _, l := range j.Looks {
		if l.Stands() {
			card.Standing++
		}
	}
	return card
}
