package people

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"jointwalk/server/store"
)

// everything is all rows and all of the trail, as text.
func (d *door) everything() string {
	d.t.Helper()
	var all strings.Builder
	err := d.rows.View(func(r store.RowReader) error {
		for _, table := range []string{tablePeople, tableDevices, tableSessions, tableInvitations, tableSites, tableSelf, tableLogs, tablePhones, tableLost} {
			err := r.Each(table, func(id string, row []byte) error {
				fmt.Fprintln(&all, table, id, string(row))
				return nil
			})
			if err != nil {
				return err
			}
		}
		return nil
	})
	audits, err2 := d.rows.Audits(0, 1<<20)
	if err != nil || err2 != nil {
		d.t.Fatal(err, err2)
	}
	for _, a := range audits {
		fmt.Fprintln(&all, a)
	}
	return all.String()
}

// erasable is a technician called Ada Lovell with two devices, a lost log and an invitation that waits.
func erasable(d *door) (Visit, string) {
	d.t.Helper()
	in, err := d.Invite("by", "Ada Lovell", Everywhere(Technician))
	if err != nil {
		d.t.Fatal(err)
	}
	v, token, err := d.Pair(in.Code, "Ada's phone")
	if err != nil {
		d.t.Fatal(err)
	}
	second, err := d.InviteDevice("by", v.Person.ID)
	if err == nil {
		_, _, err = d.Pair(second.Code, "Ada's tablet")
	}
	if err == nil {
		_, err = d.InviteDevice("by", v.Person.ID)
	}
	if err == nil {
		_, err = d.Meet(v.Device.ID, "log-1", 9, nil, holds(nil))
	}
	if err == nil {
		_, err = d.Meet(v.Device.ID, "log-2", 1, nil, holds(nil))
	}
	if lost, err2 := d.Lost(); err != nil || err2 != nil || len(lost) != 1 || lost[0].DeviceName != "Ada's phone" {
		d.t.Fatal(lost, err, err2)
	}
	return v, token
}

// After erasing, the name stands nowhere in the store; the id stays, and whatever was written under it.
func TestErase(t *testing.T) {
	d := newDoor(t)
	boss, bossToken := d.first()
	v, token := erasable(d)
	waiting, err := d.InviteDevice("by", v.Person.ID)
	if err != nil || !strings.Contains(d.everything(), "Ada") {
		t.Fatal("nothing to erase", err)
	}
	d.at = d.at.Add(time.Minute)
	before := len(d.trail())
	for range 2 { // the second does nothing
		if err := d.Erase(boss.Person.ID, v.Person.ID); err != nil {
			t.Fatal(err)
		}
	}
	if all := d.everything(); strings.Contains(all, "Ada") || !strings.Contains(all, v.Person.ID) {
		t.Error(all)
	}
	audits, err := d.rows.Audits(uint64(before), 9)
	if err != nil || len(audits) != 1 || audits[0].By != boss.Person.ID || audits[0].About != v.Person.ID || audits[0].What != "name erased, devices revoked" {
		t.Errorf("%+v, %v", audits, err)
	}
	got, known, err := d.Person(v.Person.ID)
	if err != nil || !known || got.Name != "" || !got.Erased.Equal(d.at) || !slices.Equal(got.Grants.Duties(), v.Person.Grants.Duties()) {
		t.Errorf("%+v, %v", got, err)
	}
	if visit, err := d.Session(token); err != nil || !visit.Revoked {
		t.Errorf("%+v, %v", visit, err)
	}
	if visit, err := d.Session(bossToken); err != nil || visit.Revoked || visit.Device.Name != "Desk" {
		t.Errorf("another person: %+v, %v", visit, err)
	}
	devices, err := d.Devices()
	if err != nil || len(devices) != 3 {
		t.Fatalf("%+v, %v", devices, err)
	}
	for _, device := range devices {
		if own := device.Person == v.Person.ID; own == device.Revoked.IsZero() || own != (device.Name == "") {
			t.Errorf("%+v", device)
		}
	}
	_, _, err = d.Pair(waiting.Code, "Phone")
	wants(t, err, InvitationUnknown)
}

// Nobody comes in as a person without a name, and nothing is changed of one.
func TestAfterErasing(t *testing.T) {
	d := newDoor(t)
	boss, _ := d.first()
	v, _ := erasable(d)
	if err := d.Erase(boss.Person.ID, v.Person.ID); err != nil {
		t.Fatal(err)
	}
	before := d.everything()
	_, err := d.InviteDevice("by", v.Person.ID)
	wants(t, err, PersonErased)
	_, err = d.ChangePerson("by", v.Person.ID, Everywhere(Engineer))
	wants(t, err, PersonErased)
	wants(t, d.Erase("by", "nobody"), UnknownPerson)
	wants(t, d.Erase("by", boss.Person.ID), BadDuty) // nobody would supervise
	if after := d.everything(); after != before {
		t.Errorf("%s\nbefore:\n%s", after, before)
	}
}

// One whose name is erased counts no more among those who supervise.
func TestErasingASupervisor(t *testing.T) {
	d := newDoor(t)
	boss, _ := d.first()
	other, err := d.AddPerson("by", "Other", Everywhere(Supervisor))
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Erase(other.ID, boss.Person.ID); err != nil {
		t.Fatal(err)
	}
	_, err = d.ChangePerson("by", other.ID, Everywhere(Technician))
	wants(t, err, BadDuty)
}

// An invitation under the same name may be for the same person: it goes, others stay.
func TestErasingClearsInvitationsOfTheName(t *testing.T) {
	d := newDoor(t)
	boss, _ := d.first()
	v, _ := d.pair()
	same := d.invite()
	other, err := d.Invite("by", "Somebody else", Everywhere(Technician))
	if err == nil {
		err = d.Erase(boss.Person.ID, v.Person.ID)
	}
	if err != nil {
		t.Fatal(err)
	}
	_, _, err = d.Pair(same.Code, "Phone")
	wants(t, err, InvitationUnknown)
	if _, _, err := d.Pair(other.Code, "Phone"); err != nil {
		t.Error(err)
	}
}

// A device of somebody else on which the person writes too stays in, without the person.
func TestErasingOneOfSeveralOnADevice(t *testing.T) {
	d := newDoor(t)
	boss, bossToken := d.first()
	v, _ := d.pair()
	err := d.rows.Keep(func(w store.RowWriter) error {
		shared := boss.Device
		shared.People = []string{boss.Person.ID, v.Person.ID}
		entered := session{Person: v.Person.ID, Device: shared.ID, Made: d.at}
		return errors.Join(put(w, tableDevices, shared.ID, shared), put(w, tableSessions, hash("there"), entered))
	})
	if err == nil {
		err = d.Erase(boss.Person.ID, v.Person.ID)
	}
	enrolled, err2 := d.Enrolled(boss.Device.ID)
	visit, err3 := d.Session(bossToken)
	if err != nil || err2 != nil || err3 != nil || visit.Revoked || visit.Device.Name != "Desk" || !slices.Equal(enrolled, []string{boss.Person.ID}) {
		t.Errorf("%v %+v, %v %v %v", enrolled, visit, err, err2, err3)
	}
	if visit, err := d.Session("there"); err != nil || !visit.Revoked {
		t.Errorf("the erased person there: %+v, %v", visit, err)
	}
}

// A change that was drawn up before a name was erased does not bring it back.
func TestErasedWhileChanged(t *testing.T) {
	rows, g := newMeddled(t)
	person, err := g.AddPerson("by", "Somebody", Everywhere(Technician))
	if err != nil {
		t.Fatal(err)
	}
	rows.before = func(w store.RowWriter) error {
		erased := person
		erased.Name, erased.Erased = "", time.Now().UTC()
		return put(w, tablePeople, person.ID, erased)
	}
	_, err = g.ChangePerson("by", person.ID, Everywhere(Engineer))
	wants(t, err, PersonErased)
	if p, _, err := g.Person(person.ID); err != nil || p.Name != "" {
		t.Errorf("%+v, %v", p, err)
	}
}

// An invitation taken between the erasing's decision and now brings nobody in: whoever holds the code of one for an erased
// person is refused inside the change.
func TestErasedInBetween(t *testing.T) {
	rows, g := newMeddled(t)
	person, err := g.AddPerson("by", "Somebody", Everywhere(Technician))
	if err != nil {
		t.Fatal(err)
	}
	in, err := g.InviteDevice("by", person.ID)
	if err != nil {
		t.Fatal(err)
	}
	rows.before = func(w store.RowWriter) error {
		person.Name, person.Erased = "", time.Now()
		return put(w, tablePeople, person.ID, person)
	}
	_, _, err = g.Pair(in.Code, "Phone")
	wants(t, err, PersonErased)
}
