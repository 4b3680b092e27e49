package summary

import "jointwalk/sync/record"

// estimateOf is what a finding says now, remembered where the desk remembers.
func (d *Desk) estimateOf(f *record.FixtureState, l *record.LookState) Estimate {
	newest := l.Newest()
	if newest.Observation == nil {
		return Estimate{CannotSay: "not-sized"}
	}
	scene := sceneOf(f, f.Round(newest.Round), newest.Joint)
	key := remembered{newest.ID, newest.Story[len(newest.Story)-1].Done.Event, scene.circuit, scene.program}
	if e, known := d.memo[key]; known {
		return e
	}
	e := sizeUp(newest.Observation, scene)
	if d.memo != nil {
		d.memo[key] = e
	}
	return e
}

// remembered is all that an estimate follows from and that events may change:
// the look with its last amendment, the joint's circuit, the round's program
// (versions never change; a replay makes them anew, and then the estimate too).
type remembered struct {
	look, step, circuit string
	program             *record.Program
}

// findingCard is a finding in a list.
func (d *Desk) findingCard(f *record.FixtureState, l *record.LookState) FindingCard {
	e := d.estimateOf(f, l)
	card := FindingCard{
		ID: l.ID, Fixture: f.ID, FixtureName: f.Name, Round: l.Round, Joint: l.Joint,
		Mark: markOfFinding(l), State: string(l.State()), Sign: l.Sign, Figure: e.Figure, Share: e.Share,
		CannotSay: e.CannotSay, Seen: d.stamp(l.Made), Review: l.Verdict(),
		Obstacle: l.Unclosed(),
	}
	if j := f.Joint(l.Joint); j != nil {
		card.JointName, card.Circuit, card.Spot = j.Name, j.Circuit, spotOf(f, l)
	}
	return card
}

// outranks is the order in which to mend findings: gross first, then by size.
func outranks(a, b *FindingCard) bool {
	switch x, y := weight(a), weight(b); {
	case x != y:
		return x > y
	case a.JointName != b.JointName:
		return a.JointName < b.JointName
	case a.Spot != b.Spot:
		return a.Spot < b.Spot
	}
	return a.ID < b.ID
}

// weight is a finding's size in mol/s; a gross leak outweighs every sized one,
// a leak without a figure stands last.
func weight(c *FindingCard) float64 {
	const grossest = 1e9
	switch {
	case c.Mark == Burst:
		return grossest
	case c.Figure == nil:
		return 0
	}
	return c.Figure.MolPerSecond[0]
}

// cards are the findings among some looks, ranked; only those that pass keep.
func (d *Desk) cards(f *record.FixtureState, looks []*record.LookState, keep func(*record.LookState) bool) []FindingCard {
	var ranked []*FindingCard
	for _, l := range looks {
		if l.OwnFinding() && keep(l) {
			card := d.findingCard(f, l)
			ranked = append(ranked, &card)
		}
	}
	record.Arrange(ranked, outranks)
	out := []FindingCard{}
	for _, card := range ranked {
		out = append(out, *card)
	}
	return out
}
