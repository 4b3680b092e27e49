package record

import (
	"bytes"
	"encoding/json"
	"slices"

	"jointwalk/sync/lightjson"
)

// Noun names what an edit is about: "fixture", "program" (of a fixture, under
// the fixture's id), "joint" or "look".
type Noun struct{ Kind, ID string }

// Conflict is one field of one noun that two or more people changed without
// having seen each other's change. Both sides are kept; the value that shows is
// that of the last side in the order of replay.
//
// An edit has seen: what its own log holds before it, what its base or an event
// named in its Seen has seen, these events themselves, and everything that led
// up to any of these in the same way. An edit without base counts as having
// seen all that stands before it, and never conflicts. Two edits of one field
// conflict when neither has seen the other and their values differ; a program
// is one field, since it is set as a whole.
//
// Who registers a fixture gives it a name and a place. Two phones that register
// one blank tag apart do so as two edits would, only that what the first gave
// shows until somebody settles it: nobody renames a fixture by registering it
// once more.
//
// A conflict is settled by an edit of the field that has seen every side: one
// side is then its base and the others stand in its Seen. It is settled too
// when one value is left. The owner is who made its first side; any supervisor
// may settle it.
//
// After a fork, what the two branches of one log wrote later counts as seen by
// both; only the forked events themselves are told apart.
type Conflict struct {
	Noun    Noun
	Field   string
	Owner   string  // person id
	Since   *By     // the edit that made it a conflict
	Sides   []*Side // in the order of replay, further registrations before all; the last one shows
	Settled *By     // the edit that settled it, nil while it stands
}

// Side is one edit of a field, with its value as JSON.
type Side struct {
	By    By
	Value json.RawMessage
}

// field holds the edits of a field that no later edit has seen, and the conflict
// that they stand in, nil for none.
type field struct {
	heads    []*Side
	conflict *Conflict
}

// key finds a field of a noun.
func (n Noun) key(field string) string { return n.Kind + " " + n.ID + " " + field }

// fieldNames are the fields that edits replace, in the order in which conflicts
// that one edit brings up are listed.
var fieldNames = []string{
	"name", "place", "note", "tag", "site", "program", "kind", "circuit", "tube", "order", "pin", "run", "result", "observation", "wiped", "vented", "rewets",
}

// edits are the kinds that replace a field.
var edits = []Kind{FixtureEdited, FixtureMoved, ProgramSet, JointEdited, LookAmended}

// edited follows an edit that was just applied.
func (r *replayer) edited(e *entry, noun Noun) {
	r.eachField(e, noun, func(name string, edit *Side) {
		f := r.field(noun, name)
		heads, differ := r.apartFrom(f, edit)
		f.heads = append(heads, edit)
		r.settle(f, noun, name, edit, differ)
	})
}

// registered are the fields that a registration gives.
var registered = []string{"name", "place"}

// registeredAgain follows a registration after the first one. It stands before
// what was there; of a field that nobody edited, that is what the first gave. A
// place that nobody gave before is taken.
func (r *replayer) registeredAgain(e *entry, b *RegisteredBody) {
	noun := Noun{"fixture", r.f.ID}
	r.eachField(r.f.Made.entry, noun, func(name string, given *Side) {
		if f := r.field(noun, name); slices.Contains(registered, name) && len(f.heads) == 0 {
			f.heads = []*Side{given}
		}
	})
	if len(r.field(noun, "place").heads) == 0 {
		r.f.Place = b.Place
	}
	r.eachField(e, noun, func(name string, again *Side) {
		if f := r.field(noun, name); slices.Contains(registered, name) {
			heads, differ := r.apartFrom(f, again)
			f.heads = append([]*Side{again}, heads...)
			r.settle(f, noun, name, again, differ)
		}
	})
}

// eachField hands on the fields that an event gives a noun, as sides.
func (r *replayer) eachField(e *entry, noun Noun, do func(name string, side *Side)) {
	var body map[string]json.RawMessage
	if lightjson.Unmarshal(e.Body, &body) != nil {
		return
	}
	if noun.Kind == "program" {
		body = map[string]json.RawMessage{"program": e.Body}
	}
	for _, name := range fieldNames {
		if value, named := body[name]; named {
			do(name, &Side{byOf(e), canonical(value)})
		}
	}
}

// canonical is a JSON value in one form whoever wrote it, without what an edit
// has seen.
func canonical(raw json.RawMessage) json.RawMessage {
	var value any
	if lightjson.Unmarshal(raw, &value) != nil {
		return raw
	}
	if members, ok := value.(map[string]any); ok {
		delete(members, "seen")
	}
	if same, err := lightjson.Marshal(value); err == nil {
		return same
	}
	return raw
}

func (r *replayer) field(noun Noun, name string) *field {
	f := r.f.fields[noun.key(name)]
	if f == nil {
		f = &field{}
		r.f.fields[noun.key(name)] = f
	}
	return f
}

// apartFrom are the edits of a field that a further one has not seen, and
// whether its value differs from one of theirs.
func (r *replayer) apartFrom(f *field, edit *Side) (heads []*Side, differ bool) {
	for _, head := range f.heads {
		if edit.apart() && head.apart() && !r.hasSeen(edit.By.entry, head.By.entry) {
			heads = append(heads, head)
			differ = differ || string(head.Value) != string(edit.Value)
		}
	}
	return heads, differ
}

// apart says whether what an edit has seen is known: see Conflict.
func (s *Side) apart() bool {
	return s.By.entry.Base != "" || Kind(s.By.entry.Kind) == FixtureRegistered
}

// settle begins, carries on or ends the conflict of a field whose heads an edit
// just changed.
func (r *replayer) settle(f *field, noun Noun, name string, edit *Side, differ bool) {
	switch {
	case differ && f.conflict == nil:
		first := f.heads[0]
		if first == edit {
			first = f.heads[1]
		}
		f.conflict = &Conflict{Noun: noun, Field: name, Owner: first.By.Person, Since: &edit.By, Sides: f.heads}
		r.f.Conflicts = append(r.f.Conflicts, f.conflict)
	case differ:
		f.conflict.Sides = f.heads
	case f.conflict != nil:
		f.conflict.Settled, f.conflict = &edit.By, nil
	}
}

// hasSeen says whether an edit had seen an earlier event: see Conflict. It walks
// back over the events between the two, which the order of replay puts after
// all that they have seen.
func (r *replayer) hasSeen(e, earlier *entry) bool {
	upto := map[string]uint64{}
	seen := map[string]bool{}
	for i := len(r.events) - 1; i >= 0; i-- {
		x := r.events[i]
		known := x == e || seen[x.ID] || x.Seq <= upto[x.Log]
		switch {
		case x == earlier:
			return known
		case !known:
			continue
		}
		upto[x.Log] = max(upto[x.Log], x.Seq-1)
		seen[x.Base] = true
		for _, id := range x.named() {
			seen[id] = true
		}
	}
	return false
}

// named are the events that an edit says it has seen besides its base.
func (e *entry) named() []string {
	if e.V > Version || !slices.Contains(edits, Kind(e.Kind)) || !bytes.Contains(e.Body, []byte(`"seen"`)) {
		return nil
	}
	var body struct {
		Seen []string `json:"seen"`
	}
	if lightjson.Unmarshal(e.Body, &body) != nil {
		return nil
	}
	return body.Seen
}

// Conflicting are the conflicts that stand, oldest first.
func (f *FixtureState) Conflicting() []*Conflict {
	var standing []*Conflict
	for _, c := range f.Conflicts {
		if c.Settled == nil {
			standing = append(standing, c)
		}
	}
	return standing
}

// Beside are the edits of a noun, but for its base, that a screen has seen when
// it shows the noun: what a further edit names as Seen so that it conflicts with
// none of them. The sides of a conflict that stands are left out, since only who
// settles it has seen them.
func (f *FixtureState) Beside(noun Noun, base string) []string {
	var beside []string
	for _, name := range fieldNames {
		edits := f.fields[noun.key(name)]
		if edits == nil || edits.conflict != nil {
			continue
		}
		for _, head := range edits.heads {
			if id := head.By.Event; id != base && !slices.Contains(beside, id) {
				beside = append(beside, id)
			}
		}
	}
	return beside
}
