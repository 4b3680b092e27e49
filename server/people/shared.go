package people

import (
	"slices"

	"jointwalk/server/store"
)

// mostShare is how many people may use one device.
const mostShare = 12

// Join lets one more person use the device of a session, by an invitation of theirs: somebody new, or who is here already. It
// gives that person.
// Who uses it already stays as they are; the invitation is spent. Errors: NoSession, those of an invitation, SharedFull,
// and SharedSupervisor when one of them supervises: what a supervisor may do is not for everybody who holds the phone.
func (g *Gate) Join(token, code string) (Person, error) {
	v, err := g.Session(token)
	if err != nil {
		return Person{}, err
	}
	code = plain(code)
	row, err := g.pointedAt(code)
	if err != nil {
		return Person{}, err
	}
	if !row.opens(code) {
		return Person{}, g.wrongTry(code)
	}
	joiner, err := g.joiner(row)
	if err != nil {
		return Person{}, err
	}
	return joiner, g.change(v.Person.ID, "device shared with "+joiner.ID, v.Device.ID, func(w store.RowWriter) error {
		if err := g.use(w, code, v.Device.Name); err != nil {
			return err
		}
		if row.Person == "" {
			if err := put(w, tablePeople, joiner.ID, joiner); err != nil {
				return err
			}
		}
		return share(w, v.Device.ID, joiner)
	})
}

// joiner is whom an invitation is for.
func (g *Gate) joiner(row invitation) (Person, error) {
	if row.Person == "" {
		return Person{ID: row.New, Name: row.Name, Grants: row.Grants, Made: g.now().UTC()}, nil
	}
	p, known, err := g.Person(row.Person)
	if err == nil && !known {
		err = &Fault{UnknownPerson}
	}
	return p, err
}

// share adds a person to those who use a device.
func share(w store.RowWriter, device string, joiner Person) error {
	var d Device
	if err := get(w, tableDevices, device, &d); err != nil {
		return orElse(err, UnknownDevice)
	}
	d.People = d.Enrolled()
	crew, err := crewOf(w, d)
	if err != nil {
		return err
	}
	switch {
	case slices.Contains(d.People, joiner.ID):
		return nil
	case len(d.People) >= mostShare:
		return &Fault{SharedFull}
	case slices.ContainsFunc(append(crew, joiner), func(p Person) bool { return slices.Contains(p.Grants.Duties(), Supervisor) }):
		return &Fault{SharedSupervisor}
	}
	d.People = append(slices.Clone(d.People), joiner.ID)
	return put(w, tableDevices, device, d)
}

// Part ends that a person uses the device of a session. Whoever brought it in stays; to end that, end the session. Errors:
// NoSession, UnknownPerson for somebody who does not use it, or brought it in.
func (g *Gate) Part(token, person string) error {
	v, err := g.Session(token)
	if err != nil {
		return err
	}
	return g.change(v.Person.ID, "device shared no more with "+person, v.Device.ID, func(w store.RowWriter) error {
		var d Device
		if err := get(w, tableDevices, v.Device.ID, &d); err != nil {
			return orElse(err, UnknownDevice)
		}
		at := slices.Index(d.Enrolled(), person)
		if at < 0 || person == v.Person.ID || person == d.Person {
			return &Fault{UnknownPerson}
		}
		d.People = slices.Delete(slices.Clone(d.Enrolled()), at, at+1)
		return put(w, tableDevices, d.ID, d)
	})
}

// crewOf are the people who use a device.
func crewOf(r store.RowReader, d Device) (crew []Person, err error) {
	for _, id := range d.Enrolled() {
		var p Person
		if err := get(r, tablePeople, id, &p); err != nil {
			return nil, err
		}
		crew = append(crew, p)
	}
	return crew, nil
}

// shared is a visit of a device that several people use: whoever holds it may do what one of them may, save for supervising.
func (v Visit) shared(crew []Person) Visit {
	if len(crew) < 2 {
		return v
	}
	all := Grants{}
	for i, p := range crew {
		crew[i].Grants = p.Grants.without(Supervisor)
		for site, duties := range crew[i].Grants {
			all[site] = joined(all[site], duties)
		}
	}
	v.Person.Grants, v.Crew = all, crew
	return v
}

// without are these grants less one duty.
func (g Grants) without(duty string) Grants {
	rest := Grants{}
	for site, duties := range g {
		rest[site] = lacking([]string{duty}, duties, "")
	}
	return Grants{}.with(rest)
}

// joined are all of two lists of duties, each once.
func joined(some, more []string) []string {
	return append(slices.Clone(some), lacking(some, more, "")...)
}
