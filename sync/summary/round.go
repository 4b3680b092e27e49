package summary

import (
	"strconv"

	"jointwalk/sync/record"
)

// Round tells all of one round.
func (d *Desk) Round(q RoundQuestion) (Round, error) {
	f, err := d.seen(d.Book.FixtureOfRound(q.ID), UnknownRound)
	if err != nil {
		return Round{}, err
	}
	r := f.Round(q.ID)
	out := Round{
		ID: r.ID, Fixture: f.ID, FixtureName: f.Name, Site: f.Site, Tag: f.Tag, Started: d.stamp(r.Started),
		Conditions: r.Conditions, Program: d.programCard(f.ProgramVersion(r.Program)),
		Joints: d.roundJoints(f, r), Says: d.roundSays(f, r),
		Findings: d.cards(f, r.Looks, func(*record.LookState) bool { return true }),
		PutBack:  record.PutBacks, PutBackDone: append([]string{}, r.End.PutBack...),
		Unseen: unseenIn(f, r), EndNote: r.End.Note, Others: d.openRounds(f, r), Notes: d.notes(f, during(f, r)),
	}
	out.Done, _ = progress(f, r)
	out.Left, out.Changed = d.left(r), d.changed(f, r)
	if r.Ended != nil {
		ended := d.stamp(*r.Ended)
		out.Ended = &ended
	}
	return out, nil
}

// roundJoints are the joints in place order; retired ones only where this
// round looked at them.
func (d *Desk) roundJoints(f *record.FixtureState, r *record.RoundState) []RoundJoint {
	out, places := []RoundJoint{}, walk(f)
	for _, j := range f.Joints {
		looks := looksIn(j, r.ID)
		if j.Retired && len(looks) == 0 {
			continue
		}
		joint := d.roundJoint(f, j, r, looks)
		joint.Walk = places[j.ID]
		out = append(out, joint)
	}
	return out
}

func looksIn(j *record.JointState, round string) []*record.LookState {
	var looks []*record.LookState
	for _, l := range j.Looks {
		if l.Round == round {
			looks = append(looks, l)
		}
	}
	return looks
}

func (d *Desk) roundJoint(f *record.FixtureState, j *record.JointState, r *record.RoundState, looks []*record.LookState) RoundJoint {
	out := RoundJoint{
		ID: j.ID, Name: j.Name, Kind: j.Kind, Circuit: j.Circuit, Tube: j.Tube,
		Mark: markInRound(looks), Before: beforeRound(j, r), Retired: j.Retired, Waits: waiting(j),
	}
	for _, other := range f.Moved(j, r.ID) {
		out.Moved = append(out.Moved, other.ID)
	}
	if len(looks) == 0 {
		return out
	}
	last := looks[len(looks)-1]
	out.LookID, out.EventID, out.Why, out.Seconds = last.ID, last.Made.Event, last.Why, last.Seconds
	out.Less = less(last)
	if l := findingIn(looks); l != nil {
		card := d.findingCard(f, l)
		out.Finding, out.State, out.Figure, out.Sign = l.ID, card.State, card.Figure, card.Sign
		out.Spots, out.NextSpot = d.spots(f, looks), nextSpot(looks)
		out.Leaking, out.Together = leakingNow(out.Spots, yardOf(sceneOf(f, r, "").program, ambientOf(r.Conditions)))
	}
	return out
}

// findingIn is the worst finding of its own among a joint's looks that stands, or
// else the last one; nil when none.
func findingIn(looks []*record.LookState) *record.LookState {
	if l := worstOf(looks); l != nil {
		return l
	}
	return lastOf(looks, (*record.LookState).OwnFinding)
}

// markInRound is what looks at a joint say of it, those of a round or all: the
// worst finding that stands, or else the last look.
func markInRound(looks []*record.LookState) Mark {
	if l := worstOf(looks); l != nil {
		return markOfFinding(l)
	}
	return lastMark(looks)
}

// beforeRound is what was found at a joint before a round.
func beforeRound(j *record.JointState, r *record.RoundState) Mark {
	for i := len(j.Looks) - 1; i >= 0; i-- {
		if l := j.Looks[i]; l.Round != r.ID && l.Made.Corrected() <= r.Started.Corrected() {
			return markOf(l)
		}
	}
	return Blank
}

// roundSays is a round's outcome in sentences.
func (d *Desk) roundSays(f *record.FixtureState, r *record.RoundState) []Phrase {
	if r.Ended != nil && len(r.Looks) == 0 {
		return []Phrase{{Code: SayGivenUp}}
	}
	t := &tally{}
	for _, j := range f.Joints {
		looks := looksIn(j, r.ID)
		if j.Retired && len(looks) == 0 {
			continue
		}
		t.count(j.Name, j.Circuit, markInRound(looks), func() []FindingCard { return d.cards(f, looks, leaksStill) })
	}
	var program *record.Program
	if p := f.ProgramVersion(r.Program); p != nil {
		program = &p.Program
	}
	says := t.phrases(yardOf(program, ambientOf(r.Conditions)))
	if r.Ended != nil {
		return says
	}
	done, all := progress(f, r)
	open := Phrase{Code: SayRoundOpen, Args: map[string]string{"done": strconv.Itoa(done), "all": strconv.Itoa(all)}}
	return append([]Phrase{open}, says...)
}
