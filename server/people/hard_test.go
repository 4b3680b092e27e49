package people

import (
	"crypto/rand"
	"errors"
	"strings"
	"sync"
	"testing"
	"time"

	"jointwalk/server/store"
	"jointwalk/server/store/memory"
)

// crowded is a gate that may be used by many at once.
func crowded(t *testing.T) *Gate {
	t.Helper()
	g, err := New(memory.NewRows(), time.Now, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// atOnce counts the outcomes of many tries at one moment, by code, "" for success.
func atOnce(tries int, try func(i int) error) map[string]int {
	counts, start := map[string]int{}, make(chan struct{})
	var mu sync.Mutex
	var all sync.WaitGroup
	for i := range tries {
		all.Go(func() {
			<-start
			code, fault := "", (*Fault)(nil)
			if err := try(i); errors.As(err, &fault) {
				code = fault.Code
			} else if err != nil {
				code = err.Error()
			}
			mu.Lock()
			counts[code]++
			mu.Unlock()
		})
	}
	close(start)
	all.Wait()
	return counts
}

func TestManyWrongTriesAtOnceAreNoMoreThanFive(t *testing.T) {
	g := crowded(t)
	in, err := g.Invite("by", "Somebody", Everywhere(Technician))
	if err != nil {
		t.Fatal(err)
	}
	counts := atOnce(60, func(int) error {
		_, _, err := g.Pair(in.Code[:handleLength]+"UUUUUUU", "Phone")
		return err
	})
	if counts[InvitationUnknown] != wrongTries || counts[InvitationBlocked] != 60-wrongTries {
		t.Errorf("%v", counts)
	}
	_, _, err = g.Pair(in.Secret, "Phone")
	wants(t, err, InvitationBlocked)
}

func TestManyPairingsAtOnceMakeOnePerson(t *testing.T) {
	g := crowded(t)
	in, err := g.Invite("by", "Somebody", Everywhere(Technician))
	if err != nil {
		t.Fatal(err)
	}
	counts := atOnce(30, func(i int) error {
		_, _, err := g.Pair([]string{in.Code, in.Secret}[i%2], "Phone")
		return err
	})
	people, err := g.People()
	if counts[""] != 1 || counts[InvitationUsed] != 29 || len(people) != 1 || err != nil {
		t.Errorf("%v, %d people, %v", counts, len(people), err)
	}
}

func TestManySetupsAtOnceMakeOnePerson(t *testing.T) {
	g := crowded(t)
	code := g.SetupCode()
	counts := atOnce(30, func(int) error {
		_, _, err := g.Setup(code, "Somebody", "Desk")
		return err
	})
	if people, err := g.People(); counts[""] != 1 || counts[SetupDone] != 29 || len(people) != 1 || err != nil {
		t.Errorf("%v, %d people, %v", counts, len(people), err)
	}
}

func TestLeavingManyTimesAtOnce(t *testing.T) {
	g := crowded(t)
	_, token, err := g.Setup(g.SetupCode(), "Somebody", "Desk")
	if err != nil {
		t.Fatal(err)
	}
	if counts := atOnce(20, func(int) error { return g.Leave(token) }); counts[""] != 20 {
		t.Errorf("%v", counts)
	}
}

// A code is bound to its own invitation: another's secret under this handle opens nothing.
func TestSecretsDoNotMix(t *testing.T) {
	d := newDoor(t)
	a, b := d.invite(), d.invite()
	_, _, err := d.Pair(a.Code[:handleLength]+plain(b.Code)[handleLength:], "Phone")
	wants(t, err, InvitationUnknown)
	_, _, err = d.Pair(a.Secret[:handleLength]+b.Secret[handleLength:], "Phone")
	wants(t, err, InvitationUnknown)
	if _, _, err := d.Pair(a.Code, "Phone"); err != nil {
		t.Errorf("two wrong tries must not block: %v", err)
	}
}

func TestUsedAndExpiredSayNothingToAWrongCode(t *testing.T) {
	d := newDoor(t)
	used, late := d.invite(), d.invite()
	if _, _, err := d.Pair(used.Code, "Phone"); err != nil {
		t.Fatal(err)
	}
	d.at = late.Expires.Add(time.Second)
	for _, in := range []Invitation{used, late} {
		_, _, err := d.Pair(in.Code[:handleLength]+"0000000", "Phone")
		wants(t, err, InvitationUnknown)
	}
}

// The setup code is made anew at each start while nobody is there; the old one is worth nothing.
func TestEachStartHasItsOwnSetupCode(t *testing.T) {
	rows := memory.NewRows()
	first, err := New(rows, time.Now, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	second, err := New(rows, time.Now, rand.Reader)
	if err != nil || first.SetupCode() == second.SetupCode() {
		t.Fatalf("one code for two starts, %v", err)
	}
	_, _, err = second.Setup(first.SetupCode(), "Somebody", "Desk")
	wants(t, err, SetupCode)
}

func TestNamesThatHideSomething(t *testing.T) {
	d := newDoor(t)
	for _, bad := range []string{"a\x00b", "a\u202eb", "\u2066x", "\xff", "\ufeff", "a\x1b[2J"} {
		_, _, err := d.Setup(d.SetupCode(), bad, "Desk")
		wants(t, err, BadName)
		_, _, err = d.Setup(d.SetupCode(), "Somebody", bad)
		wants(t, err, BadName)
	}
	for _, good := range []string{strings.Repeat("ü", 80), "Ñandú 3/4\"", "पंप", "🔧 bench"} {
		if _, err := d.AddPerson("by", good, Everywhere(Technician)); err != nil {
			t.Errorf("%q: %v", good, err)
		}
	}
}

func TestALocalZoneIsNone(t *testing.T) {
	d := newDoor(t)
	for _, bad := range []string{"", "Local", "../etc/passwd", "Europe", strings.Repeat("x", 300)} {
		_, err := d.AddSite("by", Site{Name: "Plant", Zone: bad})
		wants(t, err, BadZone)
	}
}

// brokenRows fails at everything once broken is set.
type brokenRows struct {
	store.Rows
	broken error
}

func (b *brokenRows) View(do func(store.RowReader) error) error {
	if b.broken != nil {
		return b.broken
	}
	return b.Rows.View(do)
}

func (b *brokenRows) Change(a store.Audit, do func(store.RowWriter) error) error {
	if b.broken != nil {
		return b.broken
	}
	return b.Rows.Change(a, do)
}

// A store that broke is never told as a wrong code, an ended session or an unknown site.
func TestABrokenStoreIsNoRefusal(t *testing.T) {
	rows := &brokenRows{Rows: memory.NewRows()}
	g, err := New(rows, time.Now, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	in, err := g.Invite("by", "Somebody", Everywhere(Technician))
	if err != nil {
		t.Fatal(err)
	}
	rows.broken = errors.New("disk gone")
	renamed := "Plant"
	for what, do := range map[string]func() error{
		"setup":   func() error { _, _, err := g.Setup(g.SetupCode(), "Somebody", "Desk"); return err },
		"pair":    func() error { _, _, err := g.Pair(in.Code, "Phone"); return err },
		"session": func() error { _, err := g.Session("token"); return err },
		"leave":   func() error { return g.Leave("token") },
		"site":    func() error { _, err := g.ChangeSite("by", "s", SiteChange{Name: &renamed}); return err },
		"people":  func() error { _, err := g.People(); return err },
		"person": func() error {
			_, err := g.ChangePerson("by", "p", Everywhere(Technician))
			return err
		},
		"devices":  func() error { _, err := g.Devices(); return err },
		"revoke":   func() error { return g.Revoke("by", "d") },
		"enrolled": func() error { _, err := g.Enrolled("d"); return err },
		"meet":     func() error { _, err := g.Meet("d", "log", 1, nil, holds(nil)); return err },
		"writer":   func() error { _, _, err := g.Writer("log"); return err },
		"lost":     func() error { _, err := g.Lost(); return err },
		"needs":    func() error { _, err := g.NeedsSetup(); return err },
		"pending":  func() error { _, err := g.Pending(); return err },
		"invite": func() error {
			_, err := g.Invite("by", "x", Everywhere(Technician))
			return err
		},
		"open": func() error { _, err := New(rows, time.Now, rand.Reader); return err },
	} {
		if err := do(); !errors.Is(err, rows.broken) {
			t.Errorf("%s: %v", what, err)
		}
	}
	rows.broken = nil
	if _, _, err := g.Setup(g.SetupCode(), "Somebody", "Desk"); err != nil {
		t.Errorf("a setup that broke must leave its code: %v", err)
	}
	if _, _, err := g.Pair(in.Code, "Phone"); err != nil {
		t.Errorf("a pairing that broke must leave its invitation: %v", err)
	}
}

// A row that lacks what it points at is a broken store, not an ended session.
func TestASessionWithoutItsPersonIsBroken(t *testing.T) {
	d := newDoor(t)
	v, token := d.first()
	err := d.rows.Change(store.Audit{}, func(w store.RowWriter) error { return w.Drop(tablePeople, v.Person.ID) })
	if err != nil {
		t.Fatal(err)
	}
	var fault *Fault
	if _, err := d.Session(token); err == nil || errors.As(err, &fault) {
		t.Errorf("%v", err)
	}
}

// Each change has its line in the trail, and no line holds a secret.
func TestTheTrail(t *testing.T) {
	d := newDoor(t)
	setup := d.SetupCode()
	v, token := d.first()
	site, err := d.AddSite(v.Person.ID, Site{Name: "Plant", Zone: "UTC"})
	if err != nil {
		t.Fatal(err)
	}
	renamed := "East plant"
	if _, err := d.ChangeSite(v.Person.ID, site.ID, SiteChange{Name: &renamed}); err != nil {
		t.Fatal(err)
	}
	in := d.invite()
	_, _, err = d.Pair(in.Code[:handleLength]+"0000000", "Phone")
	wants(t, err, InvitationUnknown)
	_, second, err := d.Pair(in.Code, "Phone")
	if err != nil || d.Leave(token) != nil {
		t.Fatal(err)
	}
	trail, err := d.rows.Audits(0, 100)
	if err != nil {
		t.Fatal(err)
	}
	var what []string
	for _, a := range trail {
		what = append(what, a.What)
		for _, secret := range []string{setup, token, second, in.Secret[handleLength:], plain(in.Code)[handleLength:]} {
			if strings.Contains(a.By+a.What+a.About, secret) {
				t.Errorf("%q holds a secret", a.What)
			}
		}
	}
	const want = "installation made, receipt key made, person came in, site added, site changed, invited: technician gained at *, wrong code tried, person came in, session ended"
	if got := strings.Join(what, ", "); got != want {
		t.Errorf("%s", got)
	}
}
