package summary

import "jointwalk/sync/record"

// markOf is the shape of one look by itself.
func markOf(l *record.LookState) Mark {
	switch l.Result {
	case record.None:
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

// standing returns the finding that makes a joint leak now, nil when none: the
// newest that stands.
func standing(j *record.JointState) *record.LookState {
	for i := len(j.Looks) - 1; i >= 0; i-- {
		if j.Looks[i].Stands() {
			return j.Looks[i]
		}
	}
	return nil
}

// jointMark is a joint's shape now: its standing finding's, or else its last
// look's.
func jointMark(j *record.JointState) Mark {
	if l := standing(j); l != nil {
		return markOfFinding(l)
	}
	return lastMark(j.Looks)
}

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
		marks[i] = LookMark{Mark: markOf(l), Time: l.Made.Time, Round: l.Round}
	}
	return marks
}

func jointCard(j *record.JointState) JointCard {
	card := JointCard{
		ID: j.ID, Event: j.Base, Name: j.Name, Kind: j.Kind, Circuit: j.Circuit,
		Tube: j.Tube, Order: j.Order, Mark: jointMark(j), History: strip(j),
	}
	if l := standing(j); l != nil {
		card.Finding, card.State = l.ID, string(l.State())
	}
	return card
}
