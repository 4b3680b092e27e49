package summary

import (
	"encoding/json"

	"jointwalk/sync/record"
)

// ConflictsQuestion asks for the conflicts that stand: all sites or one.
type ConflictsQuestion struct {
	Site string `json:"site,omitempty"`
}

// Conflicts lists what two people changed without knowing of each other, the
// longest standing first.
type Conflicts struct {
	Conflicts []*ConflictCard `json:"conflicts"`
}

// ConflictCard is one field that two or more people changed apart. Noun is
// "fixture", "program", "joint" or "look", Of its id and Name how it is called.
// Sides stand in the order of replay: the last one shows meanwhile. Owner is the
// person who is to settle it; any supervisor may. It is settled by an edit whose
// base is Base and whose seen is Seen.
type ConflictCard struct {
	Site        string         `json:"site"`
	Fixture     string         `json:"fixture"`
	FixtureName string         `json:"fixtureName"`
	Noun        string         `json:"noun"`
	Of          string         `json:"of"`
	Name        string         `json:"name"`
	Field       string         `json:"field"`
	Owner       string         `json:"owner"`
	OwnerName   string         `json:"ownerName"`
	Since       Stamp          `json:"since"`
	Sides       []ConflictSide `json:"sides"`
	Base        string         `json:"base"`
	Seen        []string       `json:"seen"`

	since *record.By
}

// ConflictSide is one person's change: the event and the value that it gave the
// field, a program as a whole.
type ConflictSide struct {
	Event string          `json:"event"`
	Who   Stamp           `json:"who"`
	Value json.RawMessage `json:"value"`
}

// Conflicts lists the conflicts that stand.
func (d *Desk) Conflicts(q ConflictsQuestion) (Conflicts, error) {
	out := Conflicts{Conflicts: []*ConflictCard{}}
	for _, f := range d.Book.Fixtures() {
		if d.sees(f.Site) && (q.Site == "" || q.Site == f.Site) {
			out.Conflicts = append(out.Conflicts, d.conflictCards(f)...)
		}
	}
	record.Arrange(out.Conflicts, func(a, b *ConflictCard) bool {
		return a.since.Before(b.since) || !b.since.Before(a.since) && a.Field < b.Field
	})
	return out, nil
}

// conflictCards are the conflicts that stand in a fixture, nil for none.
func (d *Desk) conflictCards(f *record.FixtureState) []*ConflictCard {
	var cards []*ConflictCard
	for _, c := range f.Conflicting() {
		cards = append(cards, d.conflictCard(f, c))
	}
	return cards
}

func (d *Desk) conflictCard(f *record.FixtureState, c *record.Conflict) *ConflictCard {
	card := &ConflictCard{
		Site: f.Site, Fixture: f.ID, FixtureName: f.Name, Noun: c.Noun.Kind, Of: c.Noun.ID, Name: nameOf(f, c.Noun),
		Field: c.Field, Owner: c.Owner, OwnerName: d.Names.People[c.Owner], Since: d.stamp(*c.Since),
		Sides: []ConflictSide{}, Seen: []string{}, since: c.Since,
	}
	for _, side := range c.Sides {
		card.Sides = append(card.Sides, ConflictSide{Event: side.By.Event, Who: d.stamp(side.By), Value: side.Value})
		if card.Base != "" {
			card.Seen = append(card.Seen, card.Base)
		}
		card.Base = side.By.Event
	}
	return card
}

// nameOf is how a noun is called: a joint by its name, a look by its joint's, all
// else by the fixture's.
func nameOf(f *record.FixtureState, noun record.Noun) string {
	joint := noun.ID
	if l := f.LookByID(noun.ID); noun.Kind == "look" && l != nil {
		joint = l.Joint
	}
	if j := f.Joint(joint); j != nil {
		return j.Name
	}
	return f.Name
}
