package record

// By says who did a thing, by person id, and when by the device's own clock.
type By struct {
	Person string
	Time   string
	Event  string // id of the event

	entry *entry // what the order of display needs, nil for none
}

// FixtureState is a fixture as its events left it. Site is where it stands now.
// Base, here and below, is the event that a further edit starts from.
type FixtureState struct {
	ID, Site, Name, Place, Note, Tag string

	Base     string
	Made     By
	Tags     []TagState      // every tag that it was given, oldest first
	Photos   []*PictureState // of itself, in the order of replay, withdrawn ones included
	Programs []*ProgramState // oldest first; the last one is in force
	Joints   []*JointState   // in place order, retired ones included
	Rounds   []*RoundState   // oldest first
	Looks    []*LookState    // oldest first, withdrawn ones included
	Notes    []*NoteState    // of it and all that is its, in the order of replay, withdrawn ones left out

	Conflicts []*Conflict // in the order in which they came up, settled ones included

	joints map[string]*JointState
	rounds map[string]*RoundState
	looks  map[string]*LookState
	fields map[string]*field
}

// NoteState is a note, and the id of what it is about: the fixture, a joint, a
// round or a look.
type NoteState struct {
	Noted
	Of    string
	Added By
}

// TagState is a tag that a fixture was given.
type TagState struct {
	Code  string
	Given By
}

// ProgramState is one version of the program.
type ProgramState struct {
	Program
	Set By
}

// JointState is a joint as its events left it.
type JointState struct {
	Joint
	ID      string
	Base    string
	Retired bool
	Added   By
	Named   By           // who gave it the name that it has
	Looks   []*LookState // oldest first, withdrawn ones left out

	leaky []*LookState // those that leak, or did before they were amended
}

// RoundState is a round with its looks.
type RoundState struct {
	RoundStart
	ID      string
	Started By
	Ended   *By
	End     RoundEnd
	Looks   []*LookState // oldest first, withdrawn ones left out
}

// LookState is a look with all that became of it. A look that leaks or is
// gross is a finding; its id is the finding's id.
type LookState struct {
	Look
	ID        string
	Base      string
	Made      By
	Withdrawn bool
	Order     string // of pressure and wetting: its own or, where it was not asked, its round's
	SeenAgain string // id of the finding of a later round at the same joint, "" when none
	Story     []Step
	Mends     []*MendState
	Again     []*LookState // second looks at this finding, oldest first
	Reviews   []*ReviewState
	Pictures  []*PictureState // in the order of replay, withdrawn ones included
}

// MendState is a repair of a finding that was not withdrawn.
type MendState struct {
	Mend
	Done By
}

// ReviewState is an engineer's answer that was not withdrawn.
type ReviewState struct {
	Review
	Done By
}

// PictureState is a picture. Of one that was withdrawn the hash stays, and who
// withdrew it first, when and why.
type PictureState struct {
	Picture
	Taken     By
	Withdrawn *By // nil while it stands
	Why       string
}

// Step is one event in a look's story, as it came.
type Step struct {
	Kind      Kind
	Done      By
	Body      any // *Look, *LookAmendment, *Mend, *Review, *Picture, *Noted, *Reason
	Withdrawn bool
}

// IsFinding says whether a look leaks.
func (l *LookState) IsFinding() bool {
	return l.Result == Leaks || l.Result == Gross
}

// Program returns the program in force, nil before the first.
func (f *FixtureState) Program() *ProgramState {
	if len(f.Programs) == 0 {
		return nil
	}
	return f.Programs[len(f.Programs)-1]
}

// ProgramVersion returns the version set by an event, nil when unknown.
func (f *FixtureState) ProgramVersion(event string) *ProgramState {
	for _, p := range f.Programs {
		if p.Set.Event == event {
			return p
		}
	}
	return nil
}

// Joint returns a joint by id, nil when unknown.
func (f *FixtureState) Joint(id string) *JointState { return f.joints[id] }

// Round returns a round by id, nil when unknown.
func (f *FixtureState) Round(id string) *RoundState { return f.rounds[id] }

// LookByID returns a look (or finding) by id, nil when unknown.
func (f *FixtureState) LookByID(id string) *LookState { return f.looks[id] }

// OpenRound returns the newest round that has not ended, nil when none.
func (f *FixtureState) OpenRound() *RoundState {
	for i := len(f.Rounds) - 1; i >= 0; i-- {
		if f.Rounds[i].Ended == nil {
			return f.Rounds[i]
		}
	}
	return nil
}
