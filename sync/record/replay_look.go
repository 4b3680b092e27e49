package record

import "slices"

// lookMade adds a look to its joint and its round. A look that was withdrawn
// stays findable by its id and is attached to nothing.
func (r *replayer) lookMade(e *entry, b *Look) {
	if e.About.Of == "" || r.f.looks[e.About.Of] != nil {
		return
	}
	by := byOf(e)
	look := &LookState{Look: *b, ID: e.About.Of, Made: by, Base: e.ID, Withdrawn: r.gone[e.ID] != nil}
	look.Order = r.orderIn(b)
	look.Story = []Step{{Kind: LookMade, Done: by, Body: b, Withdrawn: look.Withdrawn}}
	r.f.looks[look.ID] = look
	r.f.Looks = append(r.f.Looks, look)
	if look.Withdrawn {
		return
	}
	r.answerEarlier(look)
	if joint := r.f.joints[b.Joint]; joint != nil {
		joint.Looks = append(joint.Looks, look)
		joint.note(look)
	}
	if round := r.f.rounds[b.Round]; round != nil {
		round.Looks = append(round.Looks, look)
	}
}

// orderIn is the order of pressure and wetting at a look.
func (r *replayer) orderIn(b *Look) string {
	if round := r.f.rounds[b.Round]; b.Wetted == "" && round != nil {
		return round.Conditions.Wetted
	}
	return b.Wetted
}

// answerEarlier makes a look the second look of the finding it names and, in a
// later round, of every finding that still stands at its joint and that it is
// about: a leak, and a look that names a finding, is about one spot; any other
// look is about the joint as a whole.
func (r *replayer) answerEarlier(look *LookState) {
	for _, earlier := range r.standingAt(look) {
		earlier.Again = append(earlier.Again, look)
		earlier.Story = append(earlier.Story, Step{Kind: LookMade, Done: look.Made, Body: &look.Look})
		if look.IsFinding() && look.Second != earlier.ID && look.Round != earlier.Round {
			earlier.SeenAgain = look.ID
		}
	}
}

func (r *replayer) standingAt(look *LookState) []*LookState {
	var standing []*LookState
	if named := r.f.looks[look.Second]; named != nil && !named.Withdrawn {
		standing = append(standing, named)
	}
	joint := r.f.joints[look.Joint]
	if joint == nil {
		return standing
	}
	spot, one := r.spotOf(look)
	for _, earlier := range joint.leaky {
		if one && earlier.Spot != spot {
			continue
		}
		if earlier.ID != look.Second && earlier.Round != look.Round && earlier.Stands() {
			standing = append(standing, earlier)
		}
	}
	return standing
}

// spotOf is the one spot that a look is about, if it is about one.
func (r *replayer) spotOf(look *LookState) (spot string, one bool) {
	if named := r.f.looks[look.Second]; named != nil {
		return named.Spot, true
	}
	return look.Spot, look.Spot != "" || look.IsFinding()
}

// note keeps a look among those that a later one may answer.
func (j *JointState) note(look *LookState) {
	if look.IsFinding() && !slices.Contains(j.leaky, look) {
		j.leaky = append(j.leaky, look)
	}
}

// applyLook applies an event about a look or finding that exists.
func (r *replayer) applyLook(e *entry, body checked) {
	look := r.f.looks[e.About.Of]
	if look == nil {
		return
	}
	off := r.gone[e.ID] != nil && Kind(e.Kind) != Withdrawn
	look.add(Step{Kind(e.Kind), byOf(e), body, off})
	if picture, added := body.(*Picture); added {
		look.Pictures = append(look.Pictures, r.picture(e, picture))
	}
	if Kind(e.Kind) == LookAmended && !off {
		look.Base = e.ID
		if joint := r.f.joints[look.Joint]; joint != nil && !look.Withdrawn {
			joint.note(look)
		}
		r.edited(e, Noun{"look", look.ID})
	}
}

// add puts a step into a look's story and, unless it was withdrawn, lets it
// act.
func (l *LookState) add(step Step) {
	l.Story = append(l.Story, step)
	if step.Withdrawn {
		return
	}
	switch b := step.Body.(type) {
	case *LookAmendment:
		l.amend(b)
	case *Mend:
		l.Mends = append(l.Mends, &MendState{Mend: *b, Done: step.Done})
	case *Review:
		l.Reviews = append(l.Reviews, &ReviewState{Review: *b, Done: step.Done})
	}
}

// picture is a picture with what withdrew it, if anything did.
func (r *replayer) picture(e *entry, b *Picture) *PictureState {
	p := &PictureState{Picture: *b, Taken: byOf(e)}
	if gone := r.gone[e.ID]; gone != nil {
		by := byOf(gone)
		p.Withdrawn = &by
		if reason, ok := bodyOf(&gone.Event).(*Reason); ok {
			p.Why = reason.Why
		}
	}
	return p
}

func (l *LookState) amend(b *LookAmendment) {
	set(&l.Result, b.Result)
	set(&l.Wiped, b.Wiped)
	set(&l.Vented, b.Vented)
	set(&l.Rewets, b.Rewets)
	set(&l.Note, b.Note)
	if b.Observation != nil {
		l.Observation = b.Observation
	}
	if b.Shown != nil {
		l.Shown = b.Shown
	}
}
