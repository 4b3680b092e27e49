package people

import (
	"maps"
	"slices"
	"testing"
)

// inviteTo makes an invitation of a technician of some sites.
func (d *door) inviteTo(name string, grants Grants) Invitation {
	d.t.Helper()
	in, err := d.Invite("by", name, grants)
	if err != nil {
		d.t.Fatal(err)
	}
	return in
}

// joins lets somebody join, and gives the visit after it.
func (d *door) joins(token, code string) (Visit, error) {
	d.t.Helper()
	joiner, err := d.Join(token, code)
	if err != nil {
		return Visit{}, err
	}
	v, err := d.Session(token)
	if err == nil && !slices.ContainsFunc(v.Crew, func(p Person) bool { return p.ID == joiner.ID }) {
		d.t.Errorf("%s is not among %v", joiner.ID, v.Crew)
	}
	return v, err
}

func TestAPhoneIsShared(t *testing.T) {
	d := newDoor(t)
	d.first()
	north, south := d.plant("North"), d.plant("South")
	tom, token, err := d.Pair(d.inviteTo("Tom", Grants{north: {Technician}}).Code, "Phone")
	if err != nil || tom.Crew != nil {
		t.Fatalf("%+v, %v", tom, err)
	}
	before := len(d.trail())
	v, err := d.joins(token, d.inviteTo("Eva", Grants{south: {Engineer}, north: {Engineer}}).Secret)
	if err != nil || v.Person.ID != tom.Person.ID || v.Device.ID != tom.Device.ID || len(v.Crew) != 2 {
		t.Fatalf("%+v, %v", v, err)
	}
	eva := v.Crew[1]
	if eva.Name != "Eva" || v.Crew[0].ID != tom.Person.ID || !slices.Equal(v.Crew[0].Grants[north], []string{Technician}) {
		t.Errorf("%+v", v.Crew)
	}
	if all := (Grants{north: {Technician, Engineer}, south: {Engineer}}); !maps.EqualFunc(v.Person.Grants, all, slices.Equal) {
		t.Errorf("whoever holds it: %v", v.Person.Grants)
	}
	if who, err := d.Enrolled(v.Device.ID); err != nil || !slices.Equal(who, []string{tom.Person.ID, eva.ID}) {
		t.Errorf("%v, %v", who, err)
	}
	if said := d.trail()[before:]; len(said) != 2 || said[1] != "device shared with "+eva.ID {
		t.Errorf("%q", said)
	}
	in, err := d.InviteDevice("by", eva.ID)
	if err != nil {
		t.Fatal(err)
	}
	if again, err := d.joins(token, in.Code); err != nil || len(again.Crew) != 2 { // who forgot the PIN
		t.Errorf("once more: %+v, %v", again, err)
	}
	wantsJoin(t, d, token, in.Code, InvitationUsed)
	wantsJoin(t, d, token, "0000000000", InvitationUnknown)
	wantsJoin(t, d, "none", d.invite().Code, NoSession)

	if err := d.Part(token, eva.ID); err != nil {
		t.Fatal(err)
	}
	if alone, err := d.Session(token); err != nil || alone.Crew != nil || !maps.EqualFunc(alone.Person.Grants, tom.Person.Grants, slices.Equal) {
		t.Errorf("%+v, %v", alone, err)
	}
	for _, id := range []string{eva.ID, tom.Person.ID, "nobody"} {
		wants(t, d.Part(token, id), UnknownPerson)
	}
}

func wantsJoin(t *testing.T, d *door, token, code, fault string) {
	t.Helper()
	_, err := d.Join(token, code)
	wants(t, err, fault)
}

// Who supervises shares no device: neither brings one in for others, nor joins one. An invitation refused so is not spent.
func TestASupervisorSharesNoDevice(t *testing.T) {
	d := newDoor(t)
	_, bossToken := d.first()
	v, token := d.pair()
	wantsJoin(t, d, bossToken, d.invite().Code, SharedSupervisor)
	in := d.inviteTo("Boss two", Everywhere(Supervisor))
	wantsJoin(t, d, token, in.Code, SharedSupervisor)
	if _, _, err := d.Pair(in.Code, "Phone of the boss"); err != nil {
		t.Errorf("on a device of their own: %v", err)
	}
	shared, err := d.joins(token, d.invite().Code)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.ChangePerson("by", v.Person.ID, Everywhere(Technician, Supervisor)); err != nil {
		t.Fatal(err)
	}
	later, err := d.Session(token)
	if err != nil || slices.Contains(later.Person.Grants.Duties(), Supervisor) || len(later.Crew) != len(shared.Crew) {
		t.Errorf("who came to supervise later does not do so on a shared device: %+v, %v", later, err)
	}
	for _, p := range later.Crew {
		if slices.Contains(p.Grants.Duties(), Supervisor) {
			t.Errorf("%+v", p)
		}
	}
}

func TestSoManyShareADevice(t *testing.T) {
	d := newDoor(t)
	d.first()
	_, token := d.pair()
	for n := 2; n <= mostShare; n++ {
		if v, err := d.joins(token, d.invite().Code); err != nil || len(v.Crew) != n {
			t.Fatalf("%d: %+v, %v", n, v, err)
		}
	}
	wantsJoin(t, d, token, d.invite().Code, SharedFull)
}

// Wrong codes count as they do at pairing: after five the invitation is closed.
func TestGuessingWhileJoining(t *testing.T) {
	d := newDoor(t)
	d.first()
	_, token := d.pair()
	in := d.invite()
	for range wrongTries {
		wantsJoin(t, d, token, in.Code[:handleLength]+"0000000", InvitationUnknown)
	}
	wantsJoin(t, d, token, in.Code, InvitationBlocked)
}
