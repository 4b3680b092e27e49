package engine

import "slices"

// keyHolder is where the state keeps who holds a shared device.
const keyHolder = "holder"

// own stands before the keys of what belongs to the device and not to who holds it.
const own = "device:"

// hold lets another of those who share this device hold it: what is recorded from now on is theirs. Error: CodeUnknownPerson.
func (e *Engine) hold(h Hold) (Nothing, error) {
	if e.told == nil || !slices.ContainsFunc(e.told.Mates, func(m Mate) bool { return m.ID == h.Person }) {
		return Nothing{}, &Fault{Code: CodeUnknownPerson, Field: "person"}
	}
	if err := e.pool.State().Set(keyHolder, h.Person); err != nil {
		return Nothing{}, err
	}
	e.seat()
	return Nothing{}, nil
}

// seat takes up who holds this device: who was chosen, or who brought it in.
func (e *Engine) seat() {
	me, holder := *e.told, ""
	_, _ = e.pool.State().Load(keyHolder, &holder)          // unreadable: as if nobody was chosen
	for _, person := range []string{me.Person.ID, holder} { // the second outweighs the first
		if at := slices.IndexFunc(e.told.Mates, func(m Mate) bool { return m.ID == person }); at >= 0 {
			me = e.told.heldBy(e.told.Mates[at])
		}
	}
	e.me = &me
	e.rename()
}

// heldBy is what the device is to one of those who share it.
func (m Me) heldBy(mate Mate) Me {
	m.Person = Person{ID: mate.ID, Name: mate.Name, Duties: mate.Duties}
	var sites []Site
	for _, site := range m.Sites {
		if site.Duties = slices.Concat(mate.Grants["*"], mate.Grants[site.ID]); len(site.Duties) > 0 {
			sites = append(sites, site)
		}
	}
	m.Sites = sites
	return m
}

// noteKey keeps the drafts of those who share a device apart. Those of who brought it in stay where they were before it
// was shared.
func (e *Engine) noteKey(key string) string {
	if e.me == nil || e.me.Person.ID == e.told.Person.ID || len(key) > len(own) && key[:len(own)] == own {
		return notes + key
	}
	return notes + e.me.Person.ID + "/" + key
}
