package people

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"

	"jointwalk/server/store"
)

// PersonChange is what a change of a person changes; nil leaves as it is.
type PersonChange struct{ Duties, Sites []string }

// ChangePerson changes what a person may do and where. The audit line names each site and duty gained or lost. Errors:
// UnknownPerson, BadSite, BadDuty, this also when nobody would be left to supervise.
func (g *Gate) ChangePerson(by, id string, change PersonChange) (Person, error) {
	var before Person
	err := g.rows.View(func(r store.RowReader) error { return get(r, tablePeople, id, &before) })
	if err != nil {
		return Person{}, orElse(err, UnknownPerson)
	}
	after, err := g.changed(before, change)
	if err != nil {
		return Person{}, err
	}
	words := append(differences("site", before.Sites, after.Sites), differences("duty", before.Duties, after.Duties)...)
	if len(words) == 0 {
		return before, nil
	}
	err = g.change(by, "person changed: "+strings.Join(words, ", "), id, func(w store.RowWriter) error {
		var now Person
		if err := get(w, tablePeople, id, &now); err != nil {
			return err
		}
		if !slices.Equal(now.Sites, before.Sites) || !slices.Equal(now.Duties, before.Duties) {
			return errAgain
		}
		return errors.Join(put(w, tablePeople, id, after), supervised(w))
	})
	switch {
	case errors.Is(err, errAgain):
		return g.ChangePerson(by, id, change)
	case err != nil:
		return Person{}, err
	}
	return after, nil
}

// errAgain ends a change that was drawn up on what another has changed meanwhile.
var errAgain = errors.New("people: changed meanwhile")

// changed is a person after a change.
func (g *Gate) changed(p Person, change PersonChange) (Person, error) {
	if change.Duties != nil {
		p.Duties = change.Duties
	}
	if change.Sites != nil {
		p.Sites = change.Sites
	}
	return p, g.checkGrant(p.Duties, p.Sites)
}

// differences says what was gained and lost.
func differences(what string, before, after []string) (words []string) {
	for _, b := range before {
		if !slices.Contains(after, b) {
			words = append(words, what+" lost "+b)
		}
	}
	for _, a := range after {
		if !slices.Contains(before, a) {
			words = append(words, what+" gained "+a)
		}
	}
	return words
}

// supervised refuses a change after which there is no supervisor: nobody could undo it.
func supervised(r store.RowReader) error {
	some := false
	err := r.Each(tablePeople, func(_ string, raw []byte) error {
		var p Person
		if err := json.Unmarshal(raw, &p); err != nil {
			return err
		}
		some = some || slices.Contains(p.Duties, Supervisor)
		return nil
	})
	if err == nil && !some {
		return &Fault{BadDuty}
	}
	return err
}
