package web

import (
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// codeNotYours is why what corrects or takes back somebody else's entry is set aside.
const codeNotYours = "not-your-entry"

// mayCorrect: who wrote an entry may correct it and take it back, and so may the supervisors of its site. An entry that is not
// here came with the same push, from who corrects it: nobody else has seen it.
func (s *Server) mayCorrect(p Person, e journal.Event) (bool, error) {
	kind := record.Kind(e.Kind)
	if kind != record.LookAmended && kind != record.Withdrawn || p.does(supervises, e.About.Site) {
		return true, nil
	}
	return s.noneBefore(e, func(before journal.Event) bool { return corrected(before, e) && before.By != e.By })
}

// corrected tells whether an entry is the one that a later one corrects or takes back.
func corrected(entry, by journal.Event) bool {
	if record.Kind(by.Kind) == record.Withdrawn {
		return entry.ID == by.Base
	}
	return record.Kind(entry.Kind) == record.LookMade && entry.About.Of == by.About.Of
}
