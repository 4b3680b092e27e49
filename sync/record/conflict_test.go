package record

import (
	"encoding/json"
	"strings"
	"testing"

	"jointwalk/sync/journal"
	"pgregory.net/rapid"
)

// two are two people with a phone each, who know the same of one fixture.
func two(t *testing.T) (*story, *story) {
	one := newStory(t)
	one.look("l1", "r1", "j1", Leaks)
	return one, one.elsewhere("log-b", "person-b")
}

func name(text string, seen ...string) JointEdit { return JointEdit{Name: &text, Seen: seen} }

// standing tells the conflicts that stand: noun, field, owner, and the sides
// with their values.
func standing(f *FixtureState) string {
	var all []string
	for _, c := range f.Conflicting() {
		told := c.Noun.Kind + " " + c.Noun.ID + " " + c.Field + " of " + c.Owner + ":"
		for _, side := range c.Sides {
			told += " " + side.By.Event + "=" + string(side.Value)
		}
		all = append(all, told)
	}
	return strings.Join(all, "; ")
}

func TestConflicts(t *testing.T) {
	const both = `joint j1 name of person-a: a6="Left" b6="Right"`
	cases := []struct {
		name string
		then func(a, b *story)
		want string
	}{
		{"two names from one base", func(a, b *story) {
			a.writeBase(JointEdited, "j1", "a2", name("Left"))
			b.writeBase(JointEdited, "j1", "a2", name("Right"))
		}, both},
		{"the same name twice", func(a, b *story) {
			a.writeBase(JointEdited, "j1", "a2", name("Left"))
			b.writeBase(JointEdited, "j1", "a2", name("Left"))
		}, ""},
		{"two fields", func(a, b *story) {
			circuit := "clamp"
			a.writeBase(JointEdited, "j1", "a2", name("Left"))
			b.writeBase(JointEdited, "j1", "a2", JointEdit{Circuit: &circuit})
		}, ""},
		{"two joints", func(a, b *story) {
			a.writeBase(JointEdited, "j1", "a2", name("Left"))
			b.writeBase(JointEdited, "j2", "a3", name("Right"))
		}, ""},
		{"one after the other", func(a, b *story) {
			id := a.writeBase(JointEdited, "j1", "a2", name("Left"))
			b.writeBase(JointEdited, "j1", id, name("Right"))
		}, ""},
		{"one phone twice from an old base", func(a, b *story) {
			a.writeBase(JointEdited, "j1", "a2", name("Left"))
			a.writeBase(JointEdited, "j1", "a2", name("Right"))
		}, ""},
		{"an edit without base has seen all before it", func(a, b *story) {
			a.writeBase(JointEdited, "j1", "a2", name("Left"))
			b.write(JointEdited, "j1", name("Right"))
		}, ""},
		{"an edit after one without base", func(a, b *story) {
			a.write(JointEdited, "j1", name("Left"))
			b.writeBase(JointEdited, "j1", "a2", name("Right"))
		}, ""},
		{"one side taken back", func(a, b *story) {
			a.writeBase(JointEdited, "j1", "a2", name("Left"))
			id := b.writeBase(JointEdited, "j1", "a2", name("Right"))
			b.writeBase(Withdrawn, "j1", id, Reason{})
		}, ""},
		{"a further edit that saw one side settles nothing", func(a, b *story) {
			a.writeBase(JointEdited, "j1", "a2", name("Left"))
			id := b.writeBase(JointEdited, "j1", "a2", name("Right"))
			b.writeBase(JointEdited, "j1", id, name("Far right"))
		}, `joint j1 name of person-a: a6="Left" b7="Far right"`},
		{"settled by naming the other side", func(a, b *story) {
			a.writeBase(JointEdited, "j1", "a2", name("Left"))
			id := b.writeBase(JointEdited, "j1", "a2", name("Right"))
			b.writeBase(JointEdited, "j1", id, name("Right", "a6"))
		}, ""},
		{"settled by who made one side and starts from the other", func(a, b *story) {
			id := a.writeBase(JointEdited, "j1", "a2", name("Left"))
			b.writeBase(JointEdited, "j1", "a2", name("Right"))
			b.writeBase(JointEdited, "j1", id, name("Middle"))
		}, ""},
		{"settled, and the settling taken back", func(a, b *story) {
			a.writeBase(JointEdited, "j1", "a2", name("Left"))
			id := b.writeBase(JointEdited, "j1", "a2", name("Right"))
			settled := b.writeBase(JointEdited, "j1", id, name("Middle", "a6"))
			b.writeBase(Withdrawn, "j1", settled, Reason{})
		}, both},
		{"settled by agreeing", func(a, b *story) {
			a.writeBase(JointEdited, "j1", "a2", name("Left"))
			id := b.writeBase(JointEdited, "j1", "a2", name("Right"))
			b.writeBase(JointEdited, "j1", id, name("Left"))
		}, ""},
		{"seen by way of another noun", func(a, b *story) {
			id := a.writeBase(JointEdited, "j1", "a2", name("Left"))
			b.writeBase(JointEdited, "j2", id, name("Plug"))
			b.writeBase(JointEdited, "j1", "a2", name("Right"))
		}, ""},
		{"two programs are one field each", func(a, b *story) {
			a.writeBase(ProgramSet, "", "a1", program(10))
			b.writeBase(ProgramSet, "", "a1", program(20))
		}, "program"},
		{"one program twice, from what each had seen", func(a, b *story) {
			seen := program(10)
			seen.Seen = []string{"elsewhere"}
			a.writeBase(ProgramSet, "", "a1", program(10))
			b.writeBase(ProgramSet, "", "a1", seen)
		}, ""},
		{"two sites", func(a, b *story) {
			a.writeBase(FixtureMoved, "", "a1", Move{Site: "site-b"})
			b.writeBase(FixtureMoved, "", "a1", Move{Site: "site-c"})
		}, `fixture ` + fixtureID + ` site of person-a: a6="site-b" b6="site-c"`},
		{"one blank tag registered twice, by one name", func(a, b *story) {
			b.write(FixtureRegistered, "", RegisteredBody{Name: "Valve body rig", Place: "Hall 2", Tag: tagOf("4K7Q2M9XTC")})
		}, ""},
		{"registered twice by two names: the first shows", func(a, b *story) {
			b.write(FixtureRegistered, "", RegisteredBody{Name: "Rig of bodies", Tag: tagOf("4K7Q2M9XTC")})
		}, `fixture ` + fixtureID + ` name of person-a: b6="Rig of bodies" a1="Valve body rig"`},
		{"renamed by who knew the first alone", func(a, b *story) {
			other := "Body rig"
			a.writeBase(FixtureEdited, "", "a1", FixtureEdit{Name: &other})
			b.write(FixtureRegistered, "", RegisteredBody{Name: "Rig of bodies", Tag: tagOf("4K7Q2M9XTC")})
		}, `fixture ` + fixtureID + ` name of person-a: b6="Rig of bodies" a6="Body rig"`},
		{"registered twice, and settled", func(a, b *story) {
			other := "Body rig"
			id := b.write(FixtureRegistered, "", RegisteredBody{Name: "Rig of bodies", Tag: tagOf("4K7Q2M9XTC")})
			b.writeBase(FixtureEdited, "", "a1", FixtureEdit{Name: &other, Seen: []string{id}})
		}, ""},
		{"registered twice, and one taken back", func(a, b *story) {
			id := b.write(FixtureRegistered, "", RegisteredBody{Name: "Rig of bodies", Tag: tagOf("4K7Q2M9XTC")})
			b.writeBase(Withdrawn, "", id, Reason{})
		}, ""},
		{"two observations", func(a, b *story) {
			a.writeBase(LookAmended, "l1", "a5", LookAmendment{Observation: train(24), Why: "miscounted"})
			b.writeBase(LookAmended, "l1", "a5", LookAmendment{Observation: train(6), Why: "looked again"})
		}, "look"},
		{"two reasons for one observation", func(a, b *story) {
			a.writeBase(LookAmended, "l1", "a5", LookAmendment{Observation: train(24), Why: "miscounted"})
			b.writeBase(LookAmended, "l1", "a5", LookAmendment{Observation: train(24), Why: "looked again"})
		}, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			a, b := two(t)
			c.then(a, b)
			got := standing(merged(t, a, b))
			if got != c.want && !(len(c.want) > 0 && !strings.Contains(c.want, ":") && strings.HasPrefix(got, c.want+" ")) {
				t.Errorf("standing: %q, want %q", got, c.want)
			}
		})
	}
}

func program(test float64) Program {
	return Program{Gas: "air", Pressure: Amount{200, "kPa"}, Volume: Amount{200, "cm3"}, Test: test, Allowance: 0.1, ShowUnit: "mol/s"}
}

// While a conflict stands the later side shows; what settled it is told.
func TestAConflictIsToldUntilItIsSettled(t *testing.T) {
	a, b := two(t)
	a.writeBase(JointEdited, "j1", "a2", name("Left"))
	id := b.writeBase(JointEdited, "j1", "a2", name("Right"))
	f := merged(t, a, b)
	c := f.Conflicts[0]
	if f.Joint("j1").Name != "Right" || f.Joint("j1").Base != id || c.Since.Event != id || c.Settled != nil {
		t.Errorf("joint %+v, conflict %+v", f.Joint("j1"), c)
	}
	if beside := f.Beside(Noun{"joint", "j1"}, f.Joint("j1").Base); len(beside) != 0 {
		t.Errorf("who edits on has not seen the other side: %v", beside)
	}
	settling := b.writeBase(JointEdited, "j1", id, name("Left", "a6"))
	f = merged(t, a, b)
	if c = f.Conflicts[0]; c.Settled == nil || c.Settled.Event != settling || len(c.Sides) != 2 || len(f.Conflicting()) != 0 {
		t.Errorf("settled: %+v", c)
	}
}

// Two phones that register one blank tag apart mean one fixture: the first name
// shows, a place that only the second gave too, and the joints of both stay.
func TestOneBlankTagRegisteredTwice(t *testing.T) {
	first := func(log, name, place, joint string) *story {
		s := &story{t: t, log: log, by: "person-" + log, prefix: log}
		s.write(FixtureRegistered, "", RegisteredBody{Name: name, Place: place, Tag: tagOf("4K7Q2M9XTC")})
		s.write(JointAdded, joint, Joint{Name: "Nut of " + log, Kind: "compression", Circuit: "test", Order: 1})
		return s
	}
	a, b := first("a", "Rig", "", "j-a"), first("b", "Bench", "Hall 2", "j-b")
	for _, f := range []*FixtureState{merged(t, a, b), merged(t, b, a)} {
		if f.Name != "Rig" || f.Place != "Hall 2" || f.Made.Person != "person-a" || len(f.Joints) != 2 || f.Tag != tagOf("4K7Q2M9XTC") {
			t.Errorf("%+v", f)
		}
		if got := standing(f); got != `fixture `+fixtureID+` name of person-a: b1="Bench" a1="Rig"` {
			t.Error(got)
		}
	}
}

// Edits of two fields by two people are no conflict, and who then edits from
// what both made conflicts with neither.
func TestAScreenNamesWhatItSaw(t *testing.T) {
	a, b := two(t)
	circuit := "clamp"
	a.writeBase(JointEdited, "j1", "a2", name("Left"))
	b.writeBase(JointEdited, "j1", "a2", JointEdit{Circuit: &circuit})
	f := merged(t, a, b)
	base, seen := f.Joint("j1").Base, f.Beside(Noun{"joint", "j1"}, f.Joint("j1").Base)
	if base != "b6" || len(seen) != 1 || seen[0] != "a6" {
		t.Fatalf("base %s, beside %v", base, seen)
	}
	third := a.elsewhere("log-c", "person-c")
	third.writeBase(JointEdited, "j1", base, name("Upper", seen...))
	if got := standing(merged(t, a, b, third)); got != "" {
		t.Errorf("standing: %s", got)
	}
	blind := a.elsewhere("log-d", "person-d")
	blind.writeBase(JointEdited, "j1", base, name("Lower"))
	if got := standing(merged(t, a, b, blind)); got == "" {
		t.Error("without naming what it saw, the edit of the name must conflict")
	}
}

// In worlds where screens give the base that their book names, nobody who knew
// an edit ever conflicts with it, and the fold finds the same sides as the words
// of Conflict do, taken literally.
func TestOnlyWhoDidNotKnowConflicts(t *testing.T) {
	conflicts := 0
	rapid.Check(t, func(rt *rapid.T) {
		w := newWorld(rt, 3)
		for range rapid.IntRange(0, 40).Draw(rt, "acts") {
			w.act()
		}
		f := disordered(rt, w.events).Fixture(fixtureID)
		for _, c := range f.Conflicts {
			conflicts++
			for i, later := range c.Sides {
				for _, earlier := range c.Sides[:i] {
					id := later.By.Event
					if w.knew[id][earlier.By.Event] && !w.sided[id][earlier.By.Event] {
						rt.Errorf("%s knew %s and conflicts with it: %+v", id, earlier.By.Event, c)
					}
				}
			}
		}
		literal := literally(w.events)
		for key, edits := range f.fields {
			if got := ids(edits.heads); got != literal[key] {
				rt.Errorf("%v: heads %s, want %s", key, got, literal[key])
			}
		}
	})
	if conflicts == 0 {
		t.Error("no conflict in any world")
	}
}

// A conflict is never missed where two edits were made apart.
func TestEditsMadeApartConflict(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		w := newWorld(rt, 2)
		for range rapid.IntRange(0, 20).Draw(rt, "acts") {
			w.act()
		}
		one, other := w.devices[0], w.devices[1]
		w.tell(one, other)
		w.tell(other, one)
		if len(one.book.Fixture(fixtureID).Conflicting()) > 0 {
			return
		}
		for i, d := range w.devices {
			text := []string{"this way", "that way"}[i]
			f := d.book.Fixture(fixtureID)
			w.write(d, JointEdited, "j1", f.Joint("j1").Base, name(text, f.Beside(Noun{"joint", "j1"}, f.Joint("j1").Base)...))
		}
		w.tell(one, other)
		if got := standing(other.book.Fixture(fixtureID)); !strings.HasPrefix(got, "joint j1 name of ") {
			rt.Errorf("standing: %q", got)
		}
	})
}

// merged folds what several stories wrote.
func merged(t *testing.T, all ...*story) *FixtureState {
	t.Helper()
	b := NewBook()
	for _, s := range all {
		for _, e := range s.events {
			b.Add(e)
		}
	}
	return b.Fixture(fixtureID)
}

// literally are the heads of every field, worked out from sets.
func literally(events []journal.Event) map[string]string {
	sorted := inReplayOrder(events)
	gone := map[string]bool{}
	for _, e := range sorted {
		if Kind(e.Kind) == Withdrawn {
			gone[e.Base] = true
		}
	}
	past := map[string]map[string]bool{}
	heads := map[string][]journal.Event{}
	for i, e := range sorted {
		past[e.ID] = map[string]bool{}
		direct := append(seenOf(e), e.Base)
		for _, x := range sorted[:i] {
			if x.Log == e.Log {
				direct = append(direct, x.ID)
			}
		}
		for _, id := range direct {
			past[e.ID][id] = true
			for older := range past[id] {
				past[e.ID][older] = true
			}
		}
		for _, key := range editedBy(e) {
			if gone[e.ID] {
				continue
			}
			var stay []journal.Event
			for _, head := range heads[key] {
				if !past[e.ID][head.ID] {
					stay = append(stay, head)
				}
			}
			if Kind(e.Kind) == FixtureRegistered {
				heads[key] = append([]journal.Event{e}, stay...)
				continue
			}
			heads[key] = append(stay, e)
		}
	}
	out := map[string]string{}
	for key, all := range heads {
		for _, e := range all {
			out[key] += e.ID + " "
		}
	}
	return out
}

func inReplayOrder(events []journal.Event) []journal.Event {
	p := &page{seen: map[identity]*entry{}}
	for _, e := range events {
		p.add(e)
	}
	p.read(fixtureID)
	var all []journal.Event
	for _, e := range p.events {
		all = append(all, e.Event)
	}
	return all
}

func seenOf(e journal.Event) []string {
	body, err := decode[struct{ Seen []string }](e.Body)
	if err != nil {
		return nil
	}
	return body.Seen
}

// editedBy are the fields that an event of the invented world edits.
func editedBy(e journal.Event) []string {
	var noun Noun
	switch Kind(e.Kind) {
	case FixtureRegistered, FixtureEdited, FixtureMoved:
		noun = Noun{"fixture", e.About.Fixture}
	case JointEdited:
		noun = Noun{"joint", e.About.Of}
	case LookAmended:
		noun = Noun{"look", e.About.Of}
	default:
		return nil
	}
	body, _ := decode[map[string]any](e.Body)
	var keys []string
	for field := range *body {
		if field != "seen" && (field != "tag" || Kind(e.Kind) != FixtureRegistered) {
			keys = append(keys, noun.key(field))
		}
	}
	return keys
}

func ids(sides []*Side) string {
	all := ""
	for _, side := range sides {
		all += side.By.Event + " "
	}
	return all
}

func decode[T any](body json.RawMessage) (*T, error) {
	into := new(T)
	return into, json.Unmarshal(body, into)
}
