package people

import (
	"crypto/rand"
	"errors"
	"strings"
	"testing"
	"time"

	"jointwalk/server/store"
	"jointwalk/server/store/memory"
)

// meddled lets a test do something between what the gate reads and what it changes.
type meddled struct {
	store.Rows
	before func(store.RowWriter) error
}

func (m *meddled) Change(a store.Audit, do func(store.RowWriter) error) error {
	if before := m.before; before != nil {
		m.before = nil
		if err := m.Rows.Change(store.Audit{}, before); err != nil {
			return err
		}
	}
	return m.Rows.Change(a, do)
}

func newMeddled(t *testing.T) (*meddled, *Gate) {
	t.Helper()
	rows := &meddled{Rows: memory.NewRows()}
	g, err := New(rows, time.Now, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	return rows, g
}

func TestASessionEndedInBetween(t *testing.T) {
	rows, g := newMeddled(t)
	_, token, err := g.Setup(g.SetupCode(), "Somebody", "Desk")
	if err != nil {
		t.Fatal(err)
	}
	rows.before = func(w store.RowWriter) error { return w.Drop(tableSessions, hash(token)) }
	if err := g.Leave(token); err != nil {
		t.Errorf("it is gone, as was wanted: %v", err)
	}
}

// What happens to an invitation between its finding and its use is seen by its use.
func TestAnInvitationChangedInBetween(t *testing.T) {
	for code, change := range map[string]func(*invitation){
		InvitationUnknown: func(i *invitation) { i.Link, i.Typed = hash("another"), hash("one") },
		InvitationUsed:    func(i *invitation) { i.Used = true },
		InvitationBlocked: func(i *invitation) { i.Wrong = wrongTries },
		InvitationExpired: func(i *invitation) { i.Expires = time.Now().Add(-time.Second) },
	} {
		rows, g := newMeddled(t)
		in, err := g.Invite("by", "Somebody", Everywhere(Technician))
		if err != nil {
			t.Fatal(err)
		}
		rows.before = func(w store.RowWriter) error {
			var row invitation
			if err := get(w, tableInvitations, in.Code[:handleLength], &row); err != nil {
				return err
			}
			change(&row)
			return put(w, tableInvitations, in.Code[:handleLength], row)
		}
		_, _, err = g.Pair(in.Code, "Phone")
		wants(t, err, code)
		if people, err := g.People(); err != nil || len(people) != 0 {
			t.Errorf("%s: %d came in, %v", code, len(people), err)
		}
	}
}

func TestPendingHoldsOnlyWhatCanBeTaken(t *testing.T) {
	d := newDoor(t)
	d.invite()
	used, blocked := d.invite(), d.invite()
	if _, _, err := d.Pair(used.Code, "Phone"); err != nil {
		t.Fatal(err)
	}
	for range wrongTries {
		_, _, err := d.Pair(blocked.Code[:handleLength]+"0000000", "Phone")
		wants(t, err, InvitationUnknown)
	}
	waiting, err := d.Pending()
	if err != nil || len(waiting) != 1 || waiting[0].Name != "Technician two" || !waiting[0].Expires.Equal(d.at.Add(invitationLife)) {
		t.Errorf("%+v, %v", waiting, err)
	}
}

func TestCodesAreReadAsPeopleTypeThem(t *testing.T) {
	for typed, want := range map[string]string{"o0 iIlL1-z": "0011111Z", "  abc-def ": "ABCDEF", "": ""} {
		if got := plain(typed); got != want {
			t.Errorf("%q read as %q, want %q", typed, got, want)
		}
	}
}

// All 32 characters come up about as often: 5 bits a character are really 5.
func TestSecretsUseTheWholeAlphabet(t *testing.T) {
	_, g := newMeddled(t)
	const each = 1000
	text, err := g.secret(len(alphabet) * each)
	if err != nil || len(text) != len(alphabet)*each {
		t.Fatalf("%d characters, %v", len(text), err)
	}
	for _, c := range alphabet {
		if n := strings.Count(text, string(c)); n < each-250 || n > each+250 { // eight standard deviations
			t.Errorf("%c came %d times in %d", c, n, len(text))
		}
	}
}

// rigged gives the same byte for ever.
type rigged byte

func (r rigged) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = byte(r)
	}
	return len(p), nil
}

// When no handle is free the invitation is refused with an error and does not hang.
func TestNoFreeHandle(t *testing.T) {
	g, err := New(memory.NewRows(), time.Now, rigged(3))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []error{nil, errNoHandle} {
		if _, err := g.Invite("by", "Somebody", Everywhere(Technician)); !errors.Is(err, want) {
			t.Errorf("invitation %d: %v", i, err)
		}
	}
}
