package people

import (
	"bytes"
	"crypto/rand"
	"slices"
	"strings"
	"testing"
	"time"

	"jointwalk/server/store"
	"jointwalk/server/store/memory"
)

// pair brings a technician in.
func (d *door) pair() (Visit, string) {
	d.t.Helper()
	v, token, err := d.Pair(d.invite().Code, "Phone")
	if err != nil {
		d.t.Fatal(err)
	}
	return v, token
}

// trail is what was audited, in order.
func (d *door) trail() (what []string) {
	d.t.Helper()
	all, err := d.rows.Audits(0, 1<<20)
	if err != nil {
		d.t.Fatal(err)
	}
	for _, a := range all {
		what = append(what, a.What)
	}
	return what
}

func TestRevokedAtOnce(t *testing.T) {
	d := newDoor(t)
	boss, bossToken := d.first()
	v, token := d.pair()
	if got, err := d.Session(token); err != nil || got.Revoked {
		t.Fatalf("%+v, %v", got, err)
	}
	before := len(d.trail())
	for range 2 {
		if err := d.Revoke(boss.Person.ID, v.Device.ID); err != nil {
			t.Fatal(err)
		}
		d.at = d.at.Add(time.Minute)
	}
	got, err := d.Session(token)
	if err != nil || !got.Revoked || got.Person.ID != v.Person.ID || got.Device.ID != v.Device.ID {
		t.Errorf("%+v, %v", got, err)
	}
	if got, err := d.Session(bossToken); err != nil || got.Revoked {
		t.Errorf("another device: %+v, %v", got, err)
	}
	if what := d.trail()[before:]; !slices.Equal(what, []string{"device revoked"}) {
		t.Errorf("%v", what)
	}
	audits, err := d.rows.Audits(uint64(before), 1)
	if err != nil || audits[0].By != boss.Person.ID || audits[0].About != v.Device.ID {
		t.Errorf("%+v, %v", audits, err)
	}
	wants(t, d.Revoke(boss.Person.ID, "none"), UnknownDevice)
}

// A revoked device does not come back by pairing: that makes another one, and the old session stays revoked.
func TestPairingAnewAfterRevoking(t *testing.T) {
	d := newDoor(t)
	v, token := d.pair()
	if err := d.Revoke("by", v.Device.ID); err != nil {
		t.Fatal(err)
	}
	other, fresh := d.pair()
	if got, err := d.Session(fresh); err != nil || got.Revoked || other.Device.ID == v.Device.ID {
		t.Errorf("%+v, %v", got, err)
	}
	if got, err := d.Session(token); err != nil || !got.Revoked {
		t.Errorf("%+v, %v", got, err)
	}
}

func TestDevicesAreListed(t *testing.T) {
	d := newDoor(t)
	boss, _ := d.first()
	d.at = d.at.Add(time.Second) // ids sort by the time they were made
	v, _ := d.pair()
	if err := d.Revoke("by", v.Device.ID); err != nil {
		t.Fatal(err)
	}
	revoked := d.at
	d.at = time.Date(2026, 3, 4, 23, 59, 0, 0, time.FixedZone("", -3600)) // the next day in UTC
	if _, err := d.Meet(boss.Device.ID, "", 0, nil, holds(nil)); err != nil {
		t.Fatal(err)
	}
	list, err := d.Devices()
	if err != nil || len(list) != 2 {
		t.Fatalf("%+v, %v", list, err)
	}
	if one := list[0]; one.ID != boss.Device.ID || one.Person != boss.Person.ID || one.Name != "Desk" || one.Seen != "2026-03-05" || !one.Revoked.IsZero() {
		t.Errorf("%+v", one)
	}
	if one := list[1]; one.ID != v.Device.ID || one.Person != v.Person.ID || one.Seen != "" || !one.Revoked.Equal(revoked) || !one.Made.Equal(v.Device.Made) {
		t.Errorf("%+v", one)
	}
}

// Rows from before devices had persons of their own are read as they were meant; a shared one lists all.
func TestEnrolled(t *testing.T) {
	d := newDoor(t)
	v, _ := d.pair()
	err := d.rows.Change(store.Audit{}, func(w store.RowWriter) error {
		if err := w.Put(tableDevices, "old", []byte(`{"id":"old","person":"p-1","name":"Phone","made":"2026-01-02T03:04:05Z"}`)); err != nil {
			return err
		}
		return w.Put(tableDevices, "shared", []byte(`{"id":"shared","person":"p-1","people":["p-1","p-2"],"name":"Phone","made":"2026-01-02T03:04:05Z"}`))
	})
	if err != nil {
		t.Fatal(err)
	}
	for device, want := range map[string][]string{v.Device.ID: {v.Person.ID}, "old": {"p-1"}, "shared": {"p-1", "p-2"}} {
		if got, err := d.Enrolled(device); err != nil || !slices.Equal(got, want) {
			t.Errorf("%s: %v, %v", device, got, err)
		}
	}
	_, err = d.Enrolled("none")
	wants(t, err, UnknownDevice)
}

func TestReceiptKey(t *testing.T) {
	rows := memory.NewRows()
	open := func() *Gate {
		g, err := New(rows, time.Now, rand.Reader)
		if err != nil {
			t.Fatal(err)
		}
		return g
	}
	one := open().ReceiptKey()
	if len(one) != 32 || bytes.Equal(one, make([]byte, 32)) {
		t.Errorf("%x", one)
	}
	one[0]++ // it belongs to the caller
	g := open()
	if again := g.ReceiptKey(); again[0] != one[0]-1 || !bytes.Equal(again[1:], one[1:]) {
		t.Errorf("%x became %x", one, again)
	}
	if other := crowded(t).ReceiptKey(); bytes.Equal(other, g.ReceiptKey()) {
		t.Error("two installations share a key")
	}
	// An installation from before gets a key and keeps its id.
	err := rows.Change(store.Audit{}, func(w store.RowWriter) error { return w.Drop(tableSelf, "receipt-key") })
	if err != nil {
		t.Fatal(err)
	}
	if after := open(); after.Installation() != g.Installation() || len(after.ReceiptKey()) != 32 || bytes.Equal(after.ReceiptKey(), g.ReceiptKey()) {
		t.Errorf("%s %x", after.Installation(), after.ReceiptKey())
	}
	err = rows.Change(store.Audit{}, func(w store.RowWriter) error { return w.Put(tableSelf, "receipt-key", []byte(`{"key":"AAAA"}`)) })
	if err != nil {
		t.Fatal(err)
	}
	if _, err := New(rows, time.Now, rand.Reader); err == nil {
		t.Error("a spoilt key was taken")
	}
	if _, err := New(memory.NewRows(), time.Now, strings.NewReader(strings.Repeat("x", 16+31))); err == nil {
		t.Error("no randomness for the key must be an error")
	}
}

// All devices of a person go in one step, and what would let in one more; those of others stay.
func TestRevokeAll(t *testing.T) {
	d := newDoor(t)
	boss, bossToken := d.first()
	v, first := d.pair()
	more := func() string {
		in, err := d.InviteDevice("by", v.Person.ID)
		if err != nil {
			t.Fatal(err)
		}
		return in.Code
	}
	_, second, err := d.Pair(more(), "Tablet")
	if err != nil {
		t.Fatal(err)
	}
	open := more()
	before := len(d.trail())
	for range 2 {
		if err := d.RevokeAll(boss.Person.ID, v.Person.ID); err != nil {
			t.Fatal(err)
		}
	}
	for _, token := range []string{first, second} {
		if got, err := d.Session(token); err != nil || !got.Revoked {
			t.Errorf("%+v, %v", got, err)
		}
	}
	if got, err := d.Session(bossToken); err != nil || got.Revoked {
		t.Errorf("another person's: %+v, %v", got, err)
	}
	_, _, err = d.Pair(open, "Phone of a stranger")
	wants(t, err, InvitationUnknown)
	if what := d.trail()[before:]; !slices.Equal(what, []string{"all devices revoked"}) {
		t.Errorf("%v", what)
	}
	wants(t, d.RevokeAll("by", "nobody"), UnknownPerson)
	if _, _, err := d.Pair(more(), "New phone"); err != nil {
		t.Errorf("the person comes in again: %v", err)
	}
}

// Somebody who has no device open any more may have been invited with one more: that ends too, and nobody else's does.
func TestRevokeAllTakesBackWhatIsOpen(t *testing.T) {
	d := newDoor(t)
	boss, _ := d.first()
	v, _ := d.pair()
	invite := func(person string) string {
		in, err := d.InviteDevice("by", person)
		if err != nil {
			t.Fatal(err)
		}
		return in.Code
	}
	for range 2 {
		open, another := invite(v.Person.ID), invite(boss.Person.ID)
		if err := d.RevokeAll(boss.Person.ID, v.Person.ID); err != nil {
			t.Fatal(err)
		}
		_, _, err := d.Pair(open, "Phone of a stranger")
		wants(t, err, InvitationUnknown)
		if _, _, err := d.Pair(another, "Tablet"); err != nil {
			t.Errorf("another person's invitation: %v", err)
		}
	}
}
