package people

import (
	"encoding/json"
	"errors"
	"maps"
	"slices"
	"strings"

	"jointwalk/server/store"
)

// ChangePerson changes what a person does at the sites that the change names; no duties there take the site away. The
// audit line names each duty gained or lost, and where. Errors: UnknownPerson, PersonErased, BadSite, BadDuty, this also when nobody would
// be left who supervises everywhere.
func (g *Gate) ChangePerson(by, id string, change Grants) (Person, error) {
	var before Person
	err := g.rows.View(func(r store.RowReader) error { return get(r, tablePeople, id, &before) })
	if err != nil {
		return Person{}, orElse(err, UnknownPerson)
	}
	if !before.Erased.IsZero() {
		return Person{}, &Fault{PersonErased}
	}
	if err := g.checkGrants(change); err != nil {
		return Person{}, err
	}
	after := before
	after.Grants = before.Grants.with(change)
	words := differences(before.Grants, after.Grants)
	if len(words) == 0 {
		return before, nil
	}
	err = g.change(by, "person changed: "+strings.Join(words, ", "), id, func(w store.RowWriter) error {
		var now Person
		if err := get(w, tablePeople, id, &now); err != nil {
			return err
		}
		if !maps.EqualFunc(now.Grants, before.Grants, slices.Equal) || now.Erased != before.Erased {
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

// differences says what was gained and lost where.
func differences(before, after Grants) (words []string) {
	for _, site := range slices.Sorted(maps.Keys(before)) {
		words = append(words, lacking(after[site], before[site], " lost at "+site)...)
	}
	for _, site := range slices.Sorted(maps.Keys(after)) {
		words = append(words, lacking(before[site], after[site], " gained at "+site)...)
	}
	return words
}

// lacking are those of all that some do not have, each with what to say of it.
func lacking(some, all []string, says string) (words []string) {
	for _, one := range all {
		if !slices.Contains(some, one) {
			words = append(words, one+says)
		}
	}
	return words
}

// supervised refuses a change after which nobody supervises everywhere: nobody could undo it.
func supervised(r store.RowReader) error {
	some := false
	err := r.Each(tablePeople, func(_ string, raw []byte) error {
		var p Person
		if err := json.Unmarshal(raw, &p); err != nil {
			return err
		}
		some = some || p.Erased.IsZero() && slices.Contains(p.Grants[EverySite], Supervisor)
		return nil
	})
	if err == nil && !some {
		return &Fault{BadDuty}
	}
	return err
}
