package web

import (
	"encoding/json"
	"slices"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// begun are the kinds by which a fixture comes to be, from the first scan of its blank tag.
var begun = []record.Kind{record.FixtureRegistered, record.JointAdded, record.ProgramSet}

// mayBegin: supervisors set up fixtures, and only they give one a photo. Who records rounds registers the fixture of a blank tag, under
// the id that follows from the tag, and gives it joints that were lacking and its program; not what is known at another site, and no
// program in the place of somebody else's. What they add can be taken back, and changes nothing that stands: a further name is a
// conflict, not a new name.
func (s *Server) mayBegin(p Person, e journal.Event) (bool, error) {
	kind := record.Kind(e.Kind)
	switch {
	case p.does(supervises, e.About.Site):
		return true, nil
	case kind == record.PictureAdded && e.About.Of == e.About.Fixture:
		return false, nil // by the photo of a fixture people see that a tag is on the right one
	case !slices.Contains(begun, kind):
		return true, nil
	case kind == record.FixtureRegistered && e.About.Fixture != s.idByTag(e):
		return false, nil
	}
	return s.noneBefore(e, func(before journal.Event) bool {
		program := kind == record.ProgramSet && record.Kind(before.Kind) == record.ProgramSet
		return before.About.Site != e.About.Site || program && before.By != e.By
	})
}

// noneBefore says whether none of what is here of an event's fixture is so.
func (s *Server) noneBefore(e journal.Event, is func(before journal.Event) bool) (bool, error) {
	pairs, err := s.parts.Events.Fixture(e.About.Fixture)
	if err != nil {
		return false, err
	}
	for _, pair := range pairs {
		if before, err := journal.Glance(pair.Line); err != nil || is(before) {
			return false, err
		}
	}
	return true, nil
}

// idByTag is the id that the fixture of a registration has by its tag, "" for a body that cannot be read.
func (s *Server) idByTag(e journal.Event) string {
	var body record.RegisteredBody
	if json.Unmarshal(e.Body, &body) != nil {
		return ""
	}
	return record.FixtureID(s.parts.Gate.Installation(), body.Tag)
}
