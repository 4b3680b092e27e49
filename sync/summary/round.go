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
		Unseen: unseenIn(f, r), Others: otherRounds(f, r),
	}
	for _, j := range out.Joints {
		if j.Mark != Blank {
			out.Done++
		}
	}
	if r.Ended != nil {
		ended := d.stamp(*r.Ended)
		out.Ended = &ended
	}
	return out, nil
}

// otherRounds are the ids of other rounds open on the same fixture.
func otherRounds(f *record.FixtureState, r *record.RoundState) []string {
	var others []string
	for _, other := range f.Rounds {
		if other != r && other.Ended == nil {
			others = append(others, other.ID)
		}
	}
	return others
}

// roundJoints are the joints in place order; retired ones only where this
// round looked at them.
func (d *Desk) roundJoints(f *record.FixtureState, r *record.RoundState) []RoundJoint {
	out := []RoundJoint{}
	for _, j := range f.Joints {
		looks := looksIn(j, r.ID)
		if j.Retired && len(looks) == 0 {
			continue
		}
		out = append(out, d.roundJoint(f, j, r, looks))
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
		Mark: markInRound(looks), Before: beforeRound(j, r), Retired: j.Retired,
	}
	if len(looks) == 0 {
		return out
	}
	last := looks[len(looks)-1]
	out.LookID, out.EventID, out.Why, out.Seconds = last.ID, last.Made.Event, last.Why, last.Seconds
	if l := findingIn(looks); l != nil {
		card := d.findingCard(f, l)
		out.Finding, out.State, out.Figure = l.ID, card.State, card.Figure
	}
	return out
}

// findingIn is the last finding of its own among a joint's looks, nil when
// none.
func findingIn(looks []*record.LookState) *record.LookState {
	for i := len(looks) - 1; i >= 0; i-- {
		if looks[i].OwnFinding() {
			return looks[i]
		}
	}
	return nil
}

// markInRound is what a round's looks say of a joint: the gravest finding that
// stands, or else the last look.
func markInRound(looks []*record.LookState) Mark {
	var standing []Mark
	for _, l := range looks {
		if l.Stands() {
			standing = append(standing, markOfFinding(l))
		}
	}
	if len(standing) > 0 {
		return worst(standing)
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
	t := &tally{}
	done, all := 0, 0
	for _, j := range f.Joints {
		looks := looksIn(j, r.ID)
		if j.Retired && len(looks) == 0 {
			continue
		}
		all++
		mark := markInRound(looks)
		if mark != Blank {
			done++
		}
		t.count(j.Name, j.Circuit, mark, func() *FindingCard { return d.cardOf(f, findingIn(looks)) })
	}
	var program *record.Program
	if p := f.ProgramVersion(r.Program); p != nil {
		program = &p.Program
	}
	says := t.phrases(yardOf(program, ambientOf(r.Conditions)))
	if r.Ended != nil {
		return says
	}
	open := Phrase{Code: SayRoundOpen, Args: map[string]string{"done": strconv.Itoa(done), "all": strconv.Itoa(all)}}
	return append([]Phrase{open}, says...)
}
