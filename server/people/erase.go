package people

import (
	"encoding/json"
	"errors"
	"slices"

	"jointwalk/server/store"
)

// Erase takes a person's name away for good, and with it what else holds it or may: the names of their devices and their
// invitations. What they wrote stays under their id. Nobody comes in as this person any more: their devices are revoked, as
// Revoke does, and where they write on somebody else's device they are taken off it. A person whose name is erased already
// stays as it is. Errors: UnknownPerson; BadDuty when nobody would be left to supervise.
func (g *Gate) Erase(by, id string) error {
	err := g.change(by, "name erased, devices revoked", id, func(w store.RowWriter) error {
		var p Person
		if err := get(w, tablePeople, id, &p); err != nil {
			return orElse(err, UnknownPerson)
		}
		if !p.Erased.IsZero() {
			return errNothing
		}
		name := p.Name
		p.Name, p.Erased = "", g.now().UTC()
		_, forgot := forgetInvitations(w, id, name)
		return errors.Join(put(w, tablePeople, id, p), supervised(w), g.closeDevices(w, id), forgetLost(w, id), forgot)
	})
	return unlessNothing(err)
}

// closeDevices revokes the devices that a person brought in and takes their names away; others go on without the person.
func (g *Gate) closeDevices(w store.RowWriter, person string) error {
	return eachRow(w, tableDevices, func(id string, d Device) error {
		switch {
		case d.Person == person:
			d.Name = ""
			d.revoke(g.now())
		case slices.Contains(d.People, person):
			d.People = slices.DeleteFunc(d.People, func(p string) bool { return p == person })
		default:
			return nil
		}
		return put(w, tableDevices, id, d)
	})
}

// forgetLost takes the names of a person's devices out of the notes of lost logs.
func forgetLost(w store.RowWriter, person string) error {
	return eachRow(w, tableLost, func(log string, row LostLog) error {
		if row.Person != person || row.DeviceName == "" {
			return nil
		}
		row.DeviceName = ""
		return put(w, tableLost, log, row)
	})
}

// forgetInvitations drops those for a person, and any under the same name, which may mean that person; an empty name means nobody.
func forgetInvitations(w store.RowWriter, person, name string) (any bool, err error) {
	err = eachRow(w, tableInvitations, func(handle string, row invitation) error {
		if row.Person != person && row.New != person && (name == "" || row.Name != name) {
			return nil
		}
		any = true
		return w.Drop(tableInvitations, handle)
	})
	return any, err
}

// eachRow calls do with each row of a table as it was before; do may write.
func eachRow[T any](w store.RowWriter, table string, do func(id string, row T) error) error {
	rows, ids := map[string]T{}, []string{}
	err := w.Each(table, func(id string, raw []byte) error {
		var row T
		err := json.Unmarshal(raw, &row)
		rows[id], ids = row, append(ids, id)
		return err
	})
	for _, id := range ids {
		if err == nil {
			err = do(id, rows[id])
		}
	}
	return err
}
