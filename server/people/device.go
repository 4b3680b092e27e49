package people

import (
	"errors"
	"time"

	"jointwalk/server/store"
)

// Device is a phone or a browser of a person. A device is never deleted.
type Device struct {
	ID      string    `json:"id"`
	Person  string    `json:"person"`           // who brought it in
	People  []string  `json:"people,omitempty"` // who may write on it; nil means Person alone
	Name    string    `json:"name"`
	Made    time.Time `json:"made"`
	Revoked time.Time `json:"revoked,omitzero"` // zero while it may come in
}

// Enrolled are the ids of those who may write on it.
func (d Device) Enrolled() []string {
	if len(d.People) == 0 {
		return []string{d.Person}
	}
	return d.People
}

// Enrolled lists the persons whose events may come from a device's logs. Error: UnknownDevice.
func (g *Gate) Enrolled(device string) ([]string, error) {
	var d Device
	err := g.rows.View(func(r store.RowReader) error { return get(r, tableDevices, device, &d) })
	if err != nil {
		return nil, orElse(err, UnknownDevice)
	}
	return d.Enrolled(), nil
}

// DeviceSeen is a device with the day, in UTC, on which it was here last, "" when it never was.
type DeviceSeen struct {
	Device
	Seen string
}

// Devices lists all devices by the time they came, revoked ones too.
func (g *Gate) Devices() ([]DeviceSeen, error) {
	devices, err := all[Device](g.rows, tableDevices)
	if err != nil {
		return nil, err
	}
	list := make([]DeviceSeen, len(devices))
	err = g.rows.View(func(r store.RowReader) error {
		for i, d := range devices {
			var p phone
			if err := get(r, tablePhones, d.ID, &p); err != nil && !errors.Is(err, store.ErrNoRow) {
				return err
			}
			list[i] = DeviceSeen{Device: d, Seen: p.Seen}
		}
		return nil
	})
	return list, err
}

// Revoke shuts a device out at once and for good: its sessions stay known, as revoked. What it wrote stays. A device that
// is revoked already stays as it is. Error: UnknownDevice.
func (g *Gate) Revoke(by, device string) error {
	err := g.change(by, "device revoked", device, func(w store.RowWriter) error {
		var d Device
		if err := get(w, tableDevices, device, &d); err != nil {
			return orElse(err, UnknownDevice)
		}
		if !d.revoke(g.now()) {
			return errNothing
		}
		return put(w, tableDevices, device, d)
	})
	return unlessNothing(err)
}

// revoke shuts a device out; false when it was before.
func (d *Device) revoke(at time.Time) bool {
	if !d.Revoked.IsZero() {
		return false
	}
	d.Revoked = at.UTC()
	return true
}

// RevokeAll shuts out all devices of a person in one step, as Revoke does each, and takes back what invites one more.
// On somebody else's device the person stays. Nothing to shut out is no error. Error: UnknownPerson.
func (g *Gate) RevokeAll(by, person string) error {
	err := g.change(by, "all devices revoked", person, func(w store.RowWriter) error {
		var p Person
		if err := get(w, tablePeople, person, &p); err != nil {
			return orElse(err, UnknownPerson)
		}
		shut, err := g.shutOut(w, person)
		forgot, undropped := forgetInvitations(w, person, "")
		if shut || forgot || err != nil || undropped != nil {
			return errors.Join(err, undropped)
		}
		return errNothing
	})
	return unlessNothing(err)
}

// shutOut revokes the devices that a person brought in; any says whether one came in until now.
func (g *Gate) shutOut(w store.RowWriter, person string) (any bool, err error) {
	err = eachRow(w, tableDevices, func(id string, d Device) error {
		if d.Person != person || !d.revoke(g.now()) {
			return nil
		}
		any = true
		return put(w, tableDevices, id, d)
	})
	return any, err
}

// errNothing ends a change that has nothing to change: nothing is kept, and no audit line.
var errNothing = errors.New("people: nothing to change")

func unlessNothing(err error) error {
	if errors.Is(err, errNothing) {
		return nil
	}
	return err
}
