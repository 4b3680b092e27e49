package summary

import (
	"jointwalk/calc/quantity"
	"jointwalk/sync/record"
)

// Fixture tells all of one fixture.
func (d *Desk) Fixture(q FixtureQuestion) (Fixture, error) {
	f, err := d.seen(d.Book.Fixture(q.ID), UnknownFixture)
	if err != nil {
		return Fixture{}, err
	}
	last := lastConditions(f)
	out := Fixture{
		ID: f.ID, Site: f.Site, SiteName: d.siteName(f.Site), Name: f.Name, Place: f.Place, Note: f.Note, Tag: f.Tag,
		Mark: fixtureMark(f), Says: d.fixtureSays(f), Program: d.programCard(f.Program()),
		Joints: []JointCard{}, Retired: []JointCard{}, Rounds: d.roundCards(f),
		Findings: d.cards(f, f.Looks, (*record.LookState).Stands),
		Last:     last, Cautions: cautions(last, f.Program()), Made: d.stamp(f.Made),
		Base: f.Base, Seen: f.Beside(record.Noun{Kind: "fixture", ID: f.ID}, f.Base), Conflicts: d.conflictCards(f),
		Tags: []TagCard{}, Notes: d.notes(f, lasting(f)), Running: d.openRounds(f, nil),
	}
	for _, tag := range f.Tags {
		out.Tags = append([]TagCard{{Code: tag.Code, Given: d.stamp(tag.Given)}}, out.Tags...)
	}
	photo := photoOf(f)
	if photo != nil {
		card := d.pictureCard(photo)
		out.Photo = &card
	}
	if holder := d.Book.FixtureByTag(f.Tag); holder != nil && holder.ID != f.ID {
		out.TagOn = holder.Name
	}
	for _, j := range f.Joints {
		card := jointCard(j, photo)
		card.Seen = f.Beside(record.Noun{Kind: "joint", ID: j.ID}, j.Base)
		if j.Retired {
			out.Retired = append(out.Retired, card)
		} else {
			out.Joints = append(out.Joints, card)
		}
	}
	if r := f.OpenRound(); r != nil {
		out.OpenRound = r.ID
	}
	return out, nil
}

// roundCards lists a fixture's rounds, newest first.
func (d *Desk) roundCards(f *record.FixtureState) []RoundCard {
	rounds := append([]*record.RoundState(nil), f.Rounds...)
	record.Arrange(rounds, func(a, b *record.RoundState) bool { return b.Started.Before(&a.Started) })
	cards := []RoundCard{}
	for _, r := range rounds {
		card := RoundCard{ID: r.ID, Started: d.stamp(r.Started), Says: d.roundSays(f, r)}
		if r.Ended != nil {
			ended := d.stamp(*r.Ended)
			card.Ended = &ended
		}
		cards = append(cards, card)
	}
	return cards
}

// lastConditions are those of the last round or, before the first, those that
// the program suggests: nil without either.
func lastConditions(f *record.FixtureState) *record.Conditions {
	if n := len(f.Rounds); n > 0 {
		c := f.Rounds[n-1].Conditions
		return &c
	}
	p := f.Program()
	if p == nil {
		return nil
	}
	return &record.Conditions{
		Gas: p.Gas, Pressure: p.Pressure, Ambient: record.Amount{Value: 20, Unit: "degC"},
		Solution: "film", Wetted: "after",
	}
}

// The cautions before a round, as codes. Their words defer to the rated
// pressure, site rules, local codes and licensed practice.
const (
	CautionLockout = "lockout" // automatic cycle off and locked out
	CautionRated   = "rated"   // never above the lowest rated part
	CautionVacuum  = "vacuum"  // a vacuum station under positive pressure throws its part
	CautionWetting = "wetting"
	CautionGas     = "gas"
	CautionInert   = "gas-inert" // inert gas in a pit asphyxiates
)

// cautions are those that belong to the start of a round under conditions; nil
// conditions give those that always belong. A station whose program tests under
// vacuum has its caution whatever the round's pressure: it is a round under
// positive pressure that throws its part.
func cautions(c *record.Conditions, p *record.ProgramState) []string {
	out := []string{CautionLockout, CautionRated}
	if c != nil && vacuum(c.Pressure) || p != nil && vacuum(p.Pressure) {
		out = append(out, CautionVacuum)
	}
	out = append(out, CautionWetting, CautionGas)
	if c != nil && c.Gas != "air" {
		out = append(out, CautionInert)
	}
	return out
}

func vacuum(pressure record.Amount) bool {
	p, err := quantity.From[quantity.Gauge](pressure.Value, pressure.Unit)
	return err == nil && p < 0
}
