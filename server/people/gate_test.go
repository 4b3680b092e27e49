package people

import (
	"errors"
	"math/rand"
	"slices"
	"strings"
	"testing"
	"time"

	"jointwalk/server/store"
	"jointwalk/server/store/memory"
)

// door is a gate with a clock that the test moves.
type door struct {
	*Gate
	t    *testing.T
	rows store.Rows
	at   time.Time
}

func newDoor(t *testing.T) *door {
	t.Helper()
	d := &door{t: t, rows: memory.NewRows(), at: time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)}
	gate, err := New(d.rows, func() time.Time { return d.at }, rand.New(rand.NewSource(7)))
	if err != nil {
		t.Fatal(err)
	}
	d.Gate = gate
	return d
}

// first makes the first person.
func (d *door) first() (Visit, string) {
	d.t.Helper()
	v, token, err := d.Setup(d.SetupCode(), "Somebody", "Desk")
	if err != nil {
		d.t.Fatal(err)
	}
	return v, token
}

func (d *door) invite() Invitation {
	d.t.Helper()
	in, err := d.Invite("by", "Technician two", Everywhere(Technician))
	if err != nil {
		d.t.Fatal(err)
	}
	return in
}

func wants(t *testing.T, err error, code string) {
	t.Helper()
	var fault *Fault
	if !errors.As(err, &fault) || fault.Code != code {
		t.Errorf("got %v, want %s", err, code)
	}
}

func TestSetupMakesTheFirstPersonOnce(t *testing.T) {
	d := newDoor(t)
	code := d.SetupCode()
	if len(code)*5 < 128 {
		t.Errorf("setup code of %d bits", len(code)*5)
	}
	_, _, err := d.Setup("00000000000000000000000000", "Somebody", "Desk")
	wants(t, err, SetupCode)
	v, token, err := d.Setup(" "+strings.ToLower(code)+" ", "  Some   body ", "Desk")
	if err != nil || v.Person.Name != "Some body" || len(v.Person.Grants) != 1 || len(v.Person.Grants[EverySite]) != 3 {
		t.Fatalf("%+v, %v", v, err)
	}
	if who, err := d.Session(token); err != nil || who.Person.ID != v.Person.ID || who.Device.Name != "Desk" {
		t.Errorf("%+v, %v", who, err)
	}
	_, _, err = d.Setup(code, "Somebody else", "Desk")
	wants(t, err, SetupDone)
	if d.SetupCode() != "" {
		t.Error("the code must be gone")
	}
}

func TestSetupExpires(t *testing.T) {
	d := newDoor(t)
	d.at = d.at.Add(setupLife + time.Second)
	_, _, err := d.Setup(d.SetupCode(), "Somebody", "Desk")
	wants(t, err, SetupExpired)
}

func TestABadNameUsesNothingUp(t *testing.T) {
	d := newDoor(t)
	for _, bad := range []string{"", "   ", strings.Repeat("ü", 81)} {
		_, _, err := d.Setup(d.SetupCode(), bad, "Desk")
		wants(t, err, BadName)
	}
	d.first()
	in := d.invite()
	_, _, err := d.Pair(in.Code, " ")
	wants(t, err, BadName)
	if _, _, err := d.Pair(in.Code, "Phone"); err != nil {
		t.Errorf("after a bad name the invitation must hold: %v", err)
	}
}

func TestRestartKeepsThePeople(t *testing.T) {
	d := newDoor(t)
	_, token := d.first()
	again, err := New(d.rows, d.now, rand.New(rand.NewSource(9)))
	if err != nil || again.SetupCode() != "" || again.Installation() != d.Installation() {
		t.Fatalf("code %q, installation %s, %v", again.SetupCode(), again.Installation(), err)
	}
	if _, err := again.Session(token); err != nil {
		t.Errorf("the session must hold: %v", err)
	}
}

func TestInvitationOpensOnce(t *testing.T) {
	for _, way := range []func(Invitation) string{
		func(in Invitation) string { return in.Secret },
		func(in Invitation) string { return in.Code },
		func(in Invitation) string { return strings.ToLower(strings.ReplaceAll(in.Code, "-", " ")) },
		func(in Invitation) string { return strings.NewReplacer("0", "o", "1", "l").Replace(in.Code) },
	} {
		d := newDoor(t)
		d.first()
		in := d.invite()
		v, token, err := d.Pair(way(in), "Phone")
		if err != nil || v.Person.Name != "Technician two" || !slices.Equal(v.Person.Grants[EverySite], []string{Technician}) || token == "" {
			t.Fatalf("%+v, %v", v, err)
		}
		_, _, err = d.Pair(in.Secret, "Phone")
		wants(t, err, InvitationUsed)
		_, _, err = d.Pair(in.Code, "Phone")
		wants(t, err, InvitationUsed)
	}
}

// One more device of somebody who is here: the same person, another device and session, and both stay.
func TestInviteDevice(t *testing.T) {
	d := newDoor(t)
	v, token := d.pair()
	in, err := d.InviteDevice(v.Person.ID, v.Person.ID)
	if err != nil {
		t.Fatal(err)
	}
	if waiting, err := d.Pending(); err != nil || len(waiting) != 1 || waiting[0].Name != v.Person.Name {
		t.Errorf("%+v, %v", waiting, err)
	}
	other, fresh, err := d.Pair(in.Code, "Tablet")
	if err != nil || other.Person.ID != v.Person.ID || other.Device.ID == v.Device.ID || other.Device.Name != "Tablet" || fresh == token {
		t.Fatalf("%+v, %v", other, err)
	}
	for _, each := range []string{token, fresh} {
		if got, err := d.Session(each); err != nil || got.Person.ID != v.Person.ID {
			t.Errorf("%+v, %v", got, err)
		}
	}
	if enrolled, err := d.Enrolled(other.Device.ID); err != nil || len(enrolled) != 1 || enrolled[0] != v.Person.ID {
		t.Errorf("%v, %v", enrolled, err)
	}
	people, err := d.People()
	if err != nil || len(people) != 1 {
		t.Errorf("%+v, %v", people, err)
	}
	_, _, err = d.Pair(in.Secret, "Another")
	wants(t, err, InvitationUsed)
	_, err = d.InviteDevice(v.Person.ID, "nobody")
	wants(t, err, UnknownPerson)
}

func TestInvitationExpires(t *testing.T) {
	d := newDoor(t)
	in := d.invite()
	d.at = in.Expires.Add(time.Second)
	_, _, err := d.Pair(in.Code, "Phone")
	wants(t, err, InvitationExpired)
	if waiting, _ := d.Pending(); len(waiting) != 0 {
		t.Errorf("%d invitations wait, want none", len(waiting))
	}
	d.at = d.at.Add(2 * invitationKept)
	d.invite()
	_, _, err = d.Pair(in.Code, "Phone")
	wants(t, err, InvitationUnknown)
}

func TestFiveWrongTriesBlock(t *testing.T) {
	d := newDoor(t)
	in := d.invite()
	wrong := in.Code[:handleLength] + "0000000"
	for range wrongTries {
		_, _, err := d.Pair(wrong, "Phone")
		wants(t, err, InvitationUnknown)
	}
	_, _, err := d.Pair(in.Code, "Phone")
	wants(t, err, InvitationBlocked)
	other := d.invite()
	if _, _, err := d.Pair(other.Code, "Phone"); err != nil {
		t.Errorf("another invitation must not suffer: %v", err)
	}
}

func TestUnknownCodes(t *testing.T) {
	d := newDoor(t)
	for _, code := range []string{"", "A", "ZZZZZ-ZZZZZ", "🦆🦆🦆🦆"} {
		_, _, err := d.Pair(code, "Phone")
		wants(t, err, InvitationUnknown)
	}
}

func TestTypedCodeIsLongEnough(t *testing.T) {
	if typedLength*5 < 34 || linkLength*5 < 128 || sessionLength*5 < 256 {
		t.Error("a secret is too short")
	}
}

// Nothing that opens a door may stand in the rows as it is.
func TestSecretsAreHashesAtRest(t *testing.T) {
	d := newDoor(t)
	setup := d.SetupCode()
	_, token := d.first()
	in := d.invite()
	secrets := []string{setup, token, in.Secret, in.Secret[handleLength:], plain(in.Code), plain(in.Code)[handleLength:]}
	err := d.rows.View(func(r store.RowReader) error {
		for _, table := range []string{tablePeople, tableDevices, tableSessions, tableInvitations, tableSites, tableSelf} {
			if err := r.Each(table, func(id string, row []byte) error {
				for _, secret := range secrets {
					if strings.Contains(id+string(row), secret) {
						t.Errorf("table %s holds a secret", table)
					}
				}
				return nil
			}); err != nil {
				return err
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestSessionsEnd(t *testing.T) {
	d := newDoor(t)
	_, token := d.first()
	if err := d.Leave(token); err != nil {
		t.Fatal(err)
	}
	_, err := d.Session(token)
	wants(t, err, NoSession)
	if err := d.Leave(token); err != nil {
		t.Errorf("leaving twice: %v", err)
	}
	_, err = d.Session("no token")
	wants(t, err, NoSession)
}

// A session ends when its device was away for too long, and after its time in any case; the shortest of a person's duties counts.
func TestSessionsGrowOld(t *testing.T) {
	for _, c := range []struct {
		duties    []string
		idle, all int // days
	}{
		{[]string{Technician}, 180, 400}, {[]string{Engineer}, 120, 400}, {[]string{Supervisor}, 60, 200}, {[]string{Technician, Supervisor}, 60, 200},
	} {
		d := newDoor(t)
		holds := func(token string, want bool) {
			t.Helper()
			if _, err := d.Session(token); (err == nil) != want {
				t.Errorf("%v after %v: %v", c.duties, d.at, err)
			} else if err != nil {
				wants(t, err, NoSession)
			}
		}
		come := func() (Visit, string) {
			t.Helper()
			in, err := d.Invite("by", "Somebody", Everywhere(c.duties...))
			if err != nil {
				t.Fatal(err)
			}
			v, token, err := d.Pair(in.Secret, "Phone")
			if err != nil {
				t.Fatal(err)
			}
			return v, token
		}
		began := d.at
		_, away := come()
		d.at = began.Add(time.Duration(c.idle)*day - time.Minute)
		holds(away, true)
		d.at = began.Add(time.Duration(c.idle)*day + time.Minute)
		holds(away, false)

		v, here := come()
		began = d.at
		for n := 0; n < c.all; n += 30 {
			d.at = began.Add(time.Duration(n) * day)
			holds(here, true)
			if _, err := d.Meet(v.Device.ID, "", 0, nil, func(string) (uint64, error) { return 0, nil }); err != nil {
				t.Fatal(err)
			}
		}
		d.at = began.Add(time.Duration(c.all)*day + time.Minute)
		holds(here, false)
	}
}

func TestGrantsAreChecked(t *testing.T) {
	d := newDoor(t)
	site, err := d.AddSite("by", Site{Name: "Plant", Zone: "Europe/Madrid"})
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		grants Grants
		code   string
	}{
		{nil, BadDuty},
		{Everywhere(), BadDuty},
		{Everywhere("king"), BadDuty},
		{Grants{site.ID: {Technician}, EverySite: {"king"}}, BadDuty},
		{Grants{"nowhere": {Technician}}, BadSite},
		{Grants{site.ID: {Technician}, "": {Technician}}, BadSite},
	} {
		_, err := d.Invite("by", "Somebody", c.grants)
		wants(t, err, c.code)
	}
	for _, good := range []Grants{{site.ID: {Technician, Engineer}}, {site.ID: {Supervisor}, EverySite: {Engineer}}, {site.ID: {Technician}, EverySite: nil}} {
		if _, err := d.Invite("by", "Somebody", good); err != nil {
			t.Errorf("%v: %v", good, err)
		}
	}
}

func TestSites(t *testing.T) {
	d := newDoor(t)
	_, err := d.AddSite("by", Site{Name: "Plant", Zone: "Mars/North"})
	wants(t, err, BadZone)
	_, err = d.AddSite("by", Site{Name: "", Zone: "UTC"})
	wants(t, err, BadName)
	site, err := d.AddSite("by", Site{Name: "Plant", Zone: "UTC"})
	if err != nil {
		t.Fatal(err)
	}
	renamed, place := "East plant", "Gate 4"
	if site, err = d.ChangeSite("by", site.ID, SiteChange{Name: &renamed, Place: &place}); err != nil || site.Name != renamed || site.Zone != "UTC" {
		t.Errorf("%+v, %v", site, err)
	}
	_, err = d.ChangeSite("by", "none", SiteChange{Name: &renamed})
	wants(t, err, UnknownSite)
	if sites, err := d.Sites(); err != nil || len(sites) != 1 || sites[0].Place != place {
		t.Errorf("%+v, %v", sites, err)
	}
}

func TestNoRandomnessIsAnError(t *testing.T) {
	if _, err := New(memory.NewRows(), time.Now, strings.NewReader("")); err == nil {
		t.Error("no randomness must be an error")
	}
}

func TestPersonByID(t *testing.T) {
	d := newDoor(t)
	v, _ := d.first()
	if p, known, err := d.Person(v.Person.ID); err != nil || !known || p.Name != "Somebody" || p.ID != v.Person.ID {
		t.Errorf("%+v %t %v", p, known, err)
	}
	if p, known, err := d.Person("nobody"); err != nil || known || p.ID != "" {
		t.Errorf("%+v %t %v", p, known, err)
	}
	d.Gate.rows = &brokenRows{Rows: d.rows, broken: errors.New("disk on fire")}
	if _, known, err := d.Person(v.Person.ID); err == nil || known {
		t.Errorf("a store that broke says that somebody is there: %t %v", known, err)
	}
}

// Who invited hears what came of it: that it waits, which device took it, that it is over or closed.
func TestWhatCameOfAnInvitation(t *testing.T) {
	d := newDoor(t)
	d.first()
	state := func(in Invitation, want, device string) {
		t.Helper()
		told, err := d.Invited(in.Handle)
		if err != nil || told.State != want || told.Device != device || told.By != "by" || len(told.Grants) != 1 {
			t.Errorf("%+v, %v, want %s %s", told, err, want, device)
		}
	}
	in := d.invite()
	state(in, Waiting, "")
	if _, _, err := d.Pair(in.Code, "Phone seven"); err != nil {
		t.Fatal(err)
	}
	state(in, Used, "Phone seven")
	in = d.invite()
	d.at = d.at.Add(invitationLife + time.Second)
	state(in, Expired, "")
	in = d.invite()
	for range wrongTries {
		_, _, err := d.Pair(in.Handle+"0000000", "Phone")
		wants(t, err, InvitationUnknown)
	}
	state(in, Blocked, "")
	_, err := d.Invited("0")
	wants(t, err, InvitationUnknown)
}
