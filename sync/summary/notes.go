package summary

import "jointwalk/sync/record"

// notes are those of a fixture whose noun passes, newest first.
func (d *Desk) notes(f *record.FixtureState, keep func(of string) bool) []NoteCard {
	kept := append([]*record.NoteState(nil), f.Notes...)
	record.Arrange(kept, func(a, b *record.NoteState) bool { return b.Added.Before(&a.Added) })
	cards := []NoteCard{}
	for _, n := range kept {
		if keep(n.Of) {
			cards = append(cards, NoteCard{Event: n.Added.Event, Of: n.Of, JointName: jointNamed(f, n.Of), Text: n.Text, Added: d.stamp(n.Added)})
		}
	}
	return cards
}

// jointNamed is the name of a joint, or of the joint of a look; "" for what is neither.
func jointNamed(f *record.FixtureState, of string) string {
	if l := f.LookByID(of); l != nil {
		of = l.Joint
	}
	if j := f.Joint(of); j != nil {
		return j.Name
	}
	return ""
}

// lasting says whether a noun is a fixture or one of its joints: what is noted of these holds beyond a round.
func lasting(f *record.FixtureState) func(of string) bool {
	return func(of string) bool { return of == f.ID || f.Joint(of) != nil }
}

// during says whether a noun is a round, one of its looks, or a joint.
func during(f *record.FixtureState, r *record.RoundState) func(of string) bool {
	return func(of string) bool {
		l := f.LookByID(of)
		return of == r.ID || f.Joint(of) != nil || l != nil && l.Round == r.ID
	}
}
