package record

// replayer applies a fixture's events in order. gone holds, by the ids of the
// events that were withdrawn, what withdrew each first; events are those
// applied so far.
type replayer struct {
	f      *FixtureState
	gone   map[string]*entry
	events []*entry
	joints bool // whether joints must be put into place order
}

// replay makes a fixture's state from its events, which are in replay order.
func replay(id string, events []*entry) *replayer {
	f := &FixtureState{ID: id, joints: map[string]*JointState{}, rounds: map[string]*RoundState{}, looks: map[string]*LookState{}, fields: map[string]*field{}}
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
		Arrange(r.f.Joints, func(a, b *JointState) bool {
			return a.Order < b.Order || a.Order == b.Order && a.ID < b.ID
		})
		r.joints = false
	}
}

func withdrawnIn(events []*entry) map[string]*entry {
	gone := map[string]*entry{}
	for _, e := range events {
		if Kind(e.Kind) == Withdrawn && gone[e.Base] == nil {
			gone[e.Base] = e
		}
	}
	return gone
}

// apply applies one event; a kind or version of a later build, or a body that
// cannot be read, is skipped.
func (r *replayer) apply(e *entry) {
	body := bodyOf(&e.Event)
	if body == nil {
		return
	}
	switch Kind(e.Kind) {
	case LookMade:
		r.lookMade(e, body.(*Look))
	case PictureAdded:
		if e.About.Of == r.f.ID {
			r.f.Photos = append(r.f.Photos, r.picture(e, body.(*Picture)))
			return
		}
		r.applyLook(e, body)
	case NoteAdded:
		r.noteAdded(e, body.(*Noted))
	case LookAmended, FindingMended, FindingReviewed, Withdrawn:
		r.applyLook(e, body)
	default:
		if r.gone[e.ID] == nil {
			r.applyStanding(e, body)
		}
	}
}

// applyStanding applies an event that no later one took back.
func (r *replayer) applyStanding(e *entry, body checked) {
	f := r.f
	switch b := body.(type) {
	case *RegisteredBody:
		if f.Made.Event == "" {
			f.Site, f.Name, f.Place, f.Tag, f.Made, f.Base = e.About.Site, b.Name, b.Place, b.Tag, byOf(e), e.ID
			f.Tags = append(f.Tags, TagState{b.Tag, f.Made})
			return
		}
		r.registeredAgain(e, b)
	case *FixtureEdit:
		set(&f.Name, b.Name)
		set(&f.Place, b.Place)
		set(&f.Note, b.Note)
		if set(&f.Tag, b.Tag); b.Tag != nil {
			f.Tags = append(f.Tags, TagState{f.Tag, byOf(e)})
		}
		f.Base = e.ID
		r.edited(e, Noun{"fixture", f.ID})
	case *Move:
		f.Site, f.Base = b.Site, e.ID
		r.edited(e, Noun{"fixture", f.ID})
	case *Program:
		b.Seen = nil
		f.Programs = append(f.Programs, &ProgramState{Program: *b, Set: byOf(e)})
		r.edited(e, Noun{"program", f.ID})
	case *RoundStart, *RoundEnd:
		r.applyRound(e, body)
	default:
		r.applyJoint(e, body)
	}
}

// noteAdded keeps a note with what it is about; one about a look is also told
// in the look's story.
func (r *replayer) noteAdded(e *entry, b *Noted) {
	if r.f.looks[e.About.Of] != nil {
		r.applyLook(e, b)
	}
	if r.gone[e.ID] == nil {
		r.f.Notes = append(r.f.Notes, &NoteState{Noted: *b, Of: e.About.Of, Added: byOf(e)})
	}
}

// set replaces a field where an edit names it.
func set[T any](field *T, value *T) {
	if value != nil {
		*field = *value
	}
}

func (r *replayer) applyJoint(e *entry, body checked) {
	joint := r.f.joints[e.About.Of]
	if added, adds := body.(*Joint); adds {
		if joint == nil && e.About.Of != "" {
			joint = &JointState{Joint: *added, ID: e.About.Of, Added: byOf(e), Named: byOf(e), Base: e.ID}
			r.f.joints[joint.ID] = joint
			r.f.Joints = append(r.f.Joints, joint)
			r.joints = true
		}
		return
	}
	if joint == nil {
		return
	}
	switch b := body.(type) {
	case *Reason:
		joint.Retired = true
	case *JointEdit:
		if set(&joint.Name, b.Name); b.Name != nil {
			joint.Named = byOf(e)
		}
		set(&joint.Kind, b.Kind)
		set(&joint.Circuit, b.Circuit)
		set(&joint.Order, b.Order)
		set(&joint.Run, b.Run)
		if b.Tube != nil {
			joint.Tube = b.Tube
		}
		if b.Pin != nil {
			joint.Pin = b.Pin
		}
		joint.Base, r.joints = e.ID, true
		r.edited(e, Noun{"joint", joint.ID})
	}
}

func (r *replayer) applyRound(e *entry, body checked) {
	round := r.f.rounds[e.About.Of]
	switch b := body.(type) {
	case *RoundStart:
		if round == nil && e.About.Of != "" {
			round = &RoundState{RoundStart: *b, ID: e.About.Of, Started: byOf(e)}
			r.f.rounds[round.ID] = round
			r.f.Rounds = append(r.f.Rounds, round)
		}
	case *RoundEnd:
		if round != nil {
			by := byOf(e)
			round.Ended, round.End = &by, *b
		}
	}
}
