package record

import (
	"slices"
	"strings"

	"jointwalk/sync/journal"
	"jointwalk/sync/lightjson"
)

// checked is a body that can check itself.
type checked interface{ check(*checker) }

// bodies is the table of kinds: what body each takes.
var bodies = map[Kind]func() checked{
	FixtureRegistered: func() checked { return new(RegisteredBody) },
	FixtureEdited:     func() checked { return new(FixtureEdit) },
	ProgramSet:        func() checked { return new(Program) },
	JointAdded:        func() checked { return new(Joint) },
	JointEdited:       func() checked { return new(JointEdit) },
	JointRetired:      func() checked { return new(Reason) },
	RoundStarted:      func() checked { return new(RoundStart) },
	RoundEnded:        func() checked { return new(RoundEnd) },
	LookMade:          func() checked { return new(Look) },
	LookAmended:       func() checked { return new(LookAmendment) },
	FindingMended:     func() checked { return new(Mend) },
	FindingReviewed:   func() checked { return new(Review) },
	PictureAdded:      func() checked { return new(Picture) },
	Withdrawn:         func() checked { return new(Reason) },
	FixtureMoved:      func() checked { return new(Move) },
	NoteAdded:         func() checked { return new(Noted) },
}

// Kinds are all kinds that this build knows, in the order of the alphabet.
func Kinds() []Kind {
	var all []Kind
	for kind := range bodies {
		all = append(all, kind)
	}
	slices.Sort(all)
	return all
}

// Blank is a pointer to an empty body of a kind, nil for an unknown one.
func Blank(kind Kind) any {
	if blank := bodies[kind]; blank != nil {
		return blank()
	}
	return nil
}

// bodyOf is an event's body, nil for a kind or version of a later build and for a
// body that cannot be read.
func bodyOf(e *journal.Event) checked {
	blank, known := bodies[Kind(e.Kind)]
	if !known || e.V > Version {
		return nil
	}
	if Kind(e.Kind) == LookMade {
		if look := new(Look); quickLook(e.Body, look) {
			return look
		}
	}
	body := blank()
	if lightjson.Unmarshal(e.Body, body) != nil {
		return nil
	}
	return body
}

// CheckBody checks the body of an event that arrived: known kinds of known
// versions must hold what the kind says. Unknown kinds and newer versions pass:
// they are kept for a build that knows them. The error is a *Fault.
func CheckBody(kind string, v int, body []byte) error {
	if _, known := bodies[Kind(kind)]; !known || v > Version {
		return nil
	}
	read := bodyOf(&journal.Event{Kind: kind, V: v, Body: body})
	if read == nil {
		return &Fault{Code: BadBody, Field: kind}
	}
	c := &checker{}
	read.check(c)
	if c.fault != nil {
		return c.fault
	}
	return nil
}

// MovesTo is the site that an event moves its fixture to, "" for an event that
// moves nothing.
func MovesTo(e journal.Event) string {
	if Kind(e.Kind) != FixtureMoved {
		return ""
	}
	if body, ok := bodyOf(&e).(*Move); ok {
		return body.Site
	}
	return ""
}

// Check is the check before writing: the body's own, and that what the event
// is about is there. The error is a *Fault.
func Check(kind string, body []byte, about journal.About, base string, book *Book) error {
	if _, known := bodies[Kind(kind)]; !known {
		return &Fault{Code: UnknownKind, Field: kind}
	}
	if err := CheckBody(kind, Version, body); err != nil {
		return err
	}
	if about.Site == "" || about.Fixture == "" {
		return &Fault{Code: Missing, Field: "site"}
	}
	if Kind(kind) == FixtureRegistered {
		return nil
	}
	if _, picture := book.Album.AddedBy(about.Fixture, base); picture && Kind(kind) == Withdrawn {
		return CheckReason(body)
	}
	f := book.Fixture(about.Fixture)
	if f == nil {
		return &Fault{Code: UnknownNoun, Field: "fixture"}
	}
	return checkNoun(Kind(kind), body, about, base, f)
}

// CheckReason is what CheckBody does not ask of a withdrawal, and that of a
// picture needs: it says why. The error is a *Fault.
func CheckReason(body []byte) error {
	var reason Reason
	_ = lightjson.Unmarshal(body, &reason) // CheckBody was asked before
	if strings.TrimSpace(reason.Why) == "" {
		return &Fault{Code: Missing, Field: "why"}
	}
	return nil
}

// checkNoun holds that the noun an event is about exists.
func checkNoun(kind Kind, body []byte, about journal.About, base string, f *FixtureState) error {
	switch kind {
	case JointEdited, JointRetired:
		return nounThere(f.Joint(about.Of) != nil, "joint")
	case RoundEnded:
		return nounThere(f.Round(about.Of) != nil, "round")
	case PictureAdded:
		return nounThere(about.Of == about.Fixture || f.LookByID(about.Of) != nil, "finding")
	case LookAmended, FindingMended, FindingReviewed:
		return nounThere(f.LookByID(about.Of) != nil, "finding")
	case NoteAdded:
		there := about.Of == about.Fixture || f.LookByID(about.Of) != nil || f.Joint(about.Of) != nil || f.Round(about.Of) != nil
		return nounThere(there, "noun")
	case Withdrawn:
		return nounThere(base != "", "base")
	case LookMade:
		return checkLookNouns(body, f)
	}
	return nil
}

func nounThere(there bool, field string) error {
	if there {
		return nil
	}
	return &Fault{Code: UnknownNoun, Field: field}
}

func checkLookNouns(body []byte, f *FixtureState) error {
	var look Look
	if lightjson.Unmarshal(body, &look) != nil {
		return &Fault{Code: BadBody}
	}
	round := f.Round(look.Round)
	if round == nil || f.Joint(look.Joint) == nil {
		return nounThere(false, "round")
	}
	if round.Ended != nil {
		return &Fault{Code: RoundIsEnded, Field: "round"}
	}
	return nil
}
