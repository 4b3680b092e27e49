package summary

import (
	"encoding/json"
	"strconv"

	"jointwalk/sync/record"
)

// ConflictsQuestion asks for the conflicts that stand: all sites or one.
type ConflictsQuestion struct {
	Site string `json:"site,omitempty"`
}

// Conflicts lists what two people changed without knowing of each other, and
// joints to which they gave one name, the longest standing first.
type Conflicts struct {
	Conflicts []*ConflictCard `json:"conflicts"`
}

// ConflictCard is one field that two or more people changed apart. Noun is
// "fixture", "program", "joint" or "look", Of its id and Name how it is called.
// Sides stand in the order of replay: the last one shows meanwhile. Owner is the
// person who is to settle it; any supervisor may. It is settled by an edit whose
// base is Base and whose seen is Seen.
//
// Field "twin" is joints to which two devices gave one name: each side is one of
// them, oldest name first, Of and Base are the last one's. It is settled where all but one are retired or
// renamed; Free is a name for that.
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
	Free        string         `json:"free,omitempty"`

	since *record.By
}

// ConflictSide is one person's change: the event and the value that it gave the
// field, a program as a whole. Joint is one of several of a name, and there is no Value.
type ConflictSide struct {
	Event string          `json:"event"`
	Who   Stamp           `json:"who"`
	Value json.RawMessage `json:"value"`
	Joint *JointCard      `json:"joint,omitempty"`
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
	for _, joints := range f.Twins() {
		cards = append(cards, d.twinCard(f, joints))
	}
	return cards
}

// conflicting is how many conflicts stand in a fixture.
func conflicting(f *record.FixtureState) int { return len(f.Conflicting()) + len(f.Twins()) }

func (d *Desk) twinCard(f *record.FixtureState, joints []*record.JointState) *ConflictCard {
	record.Arrange(joints, func(a, b *record.JointState) bool { return a.Named.Before(&b.Named) })
	first, last := joints[0], joints[len(joints)-1]
	card := &ConflictCard{
		Site: f.Site, Fixture: f.ID, FixtureName: f.Name, Noun: "joint", Of: last.ID, Name: last.Name, Field: "twin",
		Owner: first.Named.Person, OwnerName: d.Names.People[first.Named.Person], Since: d.stamp(last.Named),
		Sides: []ConflictSide{}, Base: last.Base, Seen: []string{}, Free: freeName(f, last.Name), since: &last.Named,
	}
	for _, j := range joints {
		joint := jointCard(j, nil)
		joint.Seen = f.Beside(record.Noun{Kind: "joint", ID: j.ID}, j.Base)
		card.Sides = append(card.Sides, ConflictSide{Event: j.Named.Event, Who: d.stamp(j.Named), Joint: &joint})
	}
	return card
}

// freeName is a name with the first number behind it, from 2, that no joint of the
// fixture has, retired ones included.
func freeName(f *record.FixtureState, name string) string {
	taken := map[string]bool{}
	for _, j := range f.Joints {
		taken[j.Name] = true
	}
	for n := 2; ; n++ {
		if free := name + " (" + strconv.Itoa(n) + ")"; !taken[free] {
			return free
		}
	}
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
