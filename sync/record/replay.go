package record

import (
	"encoding/json"
	"sort"
)

// replayer applies a fixture's events in order. gone holds the ids of events
// that a later one withdrew; events are those applied so far.
type replayer struct {
	f      *FixtureState
	gone   map[string]bool
	events []*entry
	joints bool // whether joints must be put into place order
}

// replay makes a fixture's state from its events, which are in replay order.
func replay(id string, events []*entry) *replayer {
	f := &FixtureState{ID: id, joints: map[string]*JointState{}, rounds: map[string]*RoundState{}, looks: map[string]*LookState{}, fields: map[fieldKey]*field{}}
	r := &replayer{f: f, gone: withdrawnIn(events)}
	for i, e := range events {
		r.events = events[:i+1]
		r.apply(e)
	}
	return r
}

// sortJoints puts the joints into place order, once after they changed.
func (r *replayer) sortJoints() {
	if r.joints {
		sort.Sort(inPlace(r.f.Joints))
		r.joints = false
	}
}

type inPlace []*JointState

func (all inPlace) Len() int      { return len(all) }
func (all inPlace) Swap(i, j int) { all[i], all[j] = all[j], all[i] }
func (all inPlace) Less(i, j int) bool {
	if all[i].Order != all[j].Order {
		return all[i].Order < all[j].Order
	}
	return all[i].ID < all[j].ID
}

func withdrawnIn(events []*entry) map[string]bool {
	gone := map[string]bool{}
	for _, e := range events {
		if Kind(e.Kind) == Withdrawn {
			gone[e.Base] = true
		}
	}
	return gone
}

func decode[T any](body json.RawMessage) (*T, error) {
	into := new(T)
	if err := json.Unmarshal(body, into); err != nil {
		return nil, &Fault{Code: BadBody}
	}
	return into, nil
}

// apply applies one event; a kind or version of a later build, or a body that
// cannot be read, is skipped.
func (r *replayer) apply(e *entry) {
	if e.V > Version {
		return
	}
	by := byOf(e)
	switch Kind(e.Kind) {
	case FixtureRegistered, FixtureEdited, ProgramSet, FixtureMoved:
		r.applyFixture(e, by)
	case JointAdded, JointEdited, JointRetired:
		r.applyJoint(e, by)
	case RoundStarted, RoundEnded:
		r.applyRound(e, by)
	case LookMade:
		on(e, func(b *Look) { r.lookMade(e, by, b) })
	case LookAmended, FindingMended, FindingReviewed, PictureAdded, Withdrawn:
		r.applyLook(e, by)
	}
}

// on decodes a body and hands it on; a body that cannot be read is skipped.
func on[T any](e *entry, do func(*T)) {
	if body, err := decode[T](e.Body); err == nil {
		do(body)
	}
}

func (r *replayer) applyFixture(e *entry, by By) {
	if r.gone[e.ID] {
		return
	}
	f := r.f
	switch Kind(e.Kind) {
	case FixtureRegistered:
		on(e, func(b *RegisteredBody) {
			if f.Made.Event == "" {
				f.Site, f.Name, f.Place, f.Tag, f.Made, f.Base = e.About.Site, b.Name, b.Place, b.Tag, by, e.ID
			}
		})
	case FixtureEdited:
		on(e, func(b *FixtureEdit) {
			set(&f.Name, b.Name)
			set(&f.Place, b.Place)
			set(&f.Note, b.Note)
			f.Base = e.ID
			r.edited(e, Noun{"fixture", f.ID})
		})
	case ProgramSet:
		on(e, func(b *Program) {
			r.edited(e, Noun{"program", f.ID})
			b.Seen = nil
			f.Programs = append(f.Programs, &ProgramState{Program: *b, Set: by})
		})
	case FixtureMoved:
		on(e, func(b *Move) {
			f.Site, f.Base = b.Site, e.ID
			r.edited(e, Noun{"fixture", f.ID})
		})
	}
}

// set replaces a field where an edit names it.
func set[T any](field *T, value *T) {
	if value != nil {
		*field = *value
	}
}

func (r *replayer) applyJoint(e *entry, by By) {
	if r.gone[e.ID] {
		return
	}
	joint := r.f.joints[e.About.Of]
	if Kind(e.Kind) == JointAdded {
		on(e, func(b *Joint) {
			if joint == nil && e.About.Of != "" {
				joint = &JointState{Joint: *b, ID: e.About.Of, Added: by, Base: e.ID}
				r.joints = true
				r.f.joints[joint.ID] = joint
				r.f.Joints = append(r.f.Joints, joint)
			}
		})
		return
	}
	if joint == nil {
		return
	}
	if Kind(e.Kind) == JointRetired {
		joint.Retired = true
		return
	}
	on(e, func(b *JointEdit) {
		set(&joint.Name, b.Name)
		set(&joint.Kind, b.Kind)
		set(&joint.Circuit, b.Circuit)
		set(&joint.Order, b.Order)
		if b.Tube != nil {
			joint.Tube = b.Tube
		}
		joint.Base, r.joints = e.ID, true
		r.edited(e, Noun{"joint", joint.ID})
	})
}

func (r *replayer) applyRound(e *entry, by By) {
	if r.gone[e.ID] || e.About.Of == "" {
		return
	}
	round := r.f.rounds[e.About.Of]
	switch Kind(e.Kind) {
	case RoundStarted:
		on(e, func(b *RoundStart) {
			if round == nil {
				round = &RoundState{RoundStart: *b, ID: e.About.Of, Started: by}
				r.f.rounds[round.ID] = round
				r.f.Rounds = append(r.f.Rounds, round)
			}
		})
	case RoundEnded:
		on(e, func(b *RoundEnd) {
			if round != nil {
				round.Ended, round.End = &by, *b
			}
		})
	}
}
