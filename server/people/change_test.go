package people

import (
	"encoding/json"
	"maps"
	"slices"
	"strings"
	"testing"

	"jointwalk/server/store"
)

// plant adds a site and gives its id.
func (d *door) plant(name string) string {
	d.t.Helper()
	site, err := d.AddSite("by", Site{Name: name, Zone: "UTC"})
	if err != nil {
		d.t.Fatal(err)
	}
	return site.ID
}

func TestChangePerson(t *testing.T) {
	d := newDoor(t)
	boss, _ := d.first()
	north, south := d.plant("North"), d.plant("South")
	v, token := d.pair()
	for _, c := range []struct {
		change, want Grants
		said         string
	}{
		{Grants{north: {Technician}, EverySite: {}}, Grants{north: {Technician}}, "person changed: technician lost at *, technician gained at " + north},
		{Grants{south: {Engineer}}, Grants{north: {Technician}, south: {Engineer}}, "person changed: engineer gained at " + south},
		{Grants{}, Grants{north: {Technician}, south: {Engineer}}, ""},
		{Grants{north: {Technician}}, Grants{north: {Technician}, south: {Engineer}}, ""},
		{Grants{north: {Supervisor}}, Grants{north: {Supervisor}, south: {Engineer}},
			"person changed: technician lost at " + north + ", supervisor gained at " + north},
		{Grants{north: nil, south: nil}, Grants{}, "person changed: supervisor lost at " + north + ", engineer lost at " + south},
	} {
		before := len(d.trail())
		got, err := d.ChangePerson(boss.Person.ID, v.Person.ID, c.change)
		if err != nil || !maps.EqualFunc(got.Grants, c.want, slices.Equal) || got.Name != v.Person.Name {
			t.Errorf("%+v: %+v, %v", c.change, got, err)
		}
		if now, err := d.Session(token); err != nil || !maps.EqualFunc(now.Person.Grants, c.want, slices.Equal) {
			t.Errorf("%+v, at once: %+v, %v", c.change, now, err)
		}
		said := d.trail()[before:]
		if c.said == "" && len(said) != 0 || c.said != "" && !slices.Equal(said, []string{c.said}) {
			t.Errorf("%+v: %q", c.change, said)
		}
	}
}

func TestChangesThatAreRefused(t *testing.T) {
	d := newDoor(t)
	boss, _ := d.first()
	v, _ := d.pair()
	before := len(d.trail())
	for _, c := range []struct {
		id     string
		change Grants
		code   string
	}{
		{"nobody", Everywhere(Technician), UnknownPerson},
		{v.Person.ID, Everywhere("king"), BadDuty},
		{v.Person.ID, Grants{"nowhere": {Technician}}, BadSite},
		{v.Person.ID, Grants{"nowhere": {}}, BadSite},
		{boss.Person.ID, Everywhere(Technician), BadDuty}, // nobody could undo it
	} {
		_, err := d.ChangePerson("by", c.id, c.change)
		wants(t, err, c.code)
	}
	if what := d.trail()[before:]; len(what) != 0 {
		t.Errorf("%v", what)
	}
	north := d.plant("North")
	if _, err := d.ChangePerson("by", v.Person.ID, Grants{north: {Supervisor}}); err != nil {
		t.Fatal(err)
	}
	_, err := d.ChangePerson("by", boss.Person.ID, Everywhere(Technician))
	wants(t, err, BadDuty) // at one site is not everywhere
	if _, err := d.ChangePerson("by", v.Person.ID, Everywhere(Supervisor)); err != nil {
		t.Fatal(err)
	}
	if _, err := d.ChangePerson("by", boss.Person.ID, Everywhere(Technician)); err != nil {
		t.Errorf("another supervises now: %v", err)
	}
}

// Two changes at one moment are one after the other: neither undoes what it does not speak of.
func TestAPersonChangedInBetween(t *testing.T) {
	rows, g := newMeddled(t)
	person, err := g.AddPerson("by", "Somebody", Everywhere(Supervisor))
	if err != nil {
		t.Fatal(err)
	}
	site, err := g.AddSite("by", Site{Name: "Plant", Zone: "UTC"})
	if err != nil {
		t.Fatal(err)
	}
	rows.before = func(w store.RowWriter) error {
		other := person
		other.Grants = Everywhere(Engineer, Supervisor)
		return put(w, tablePeople, person.ID, other)
	}
	got, err := g.ChangePerson("by", person.ID, Grants{site.ID: {Technician}})
	if want := (Grants{EverySite: {Engineer, Supervisor}, site.ID: {Technician}}); err != nil || !maps.EqualFunc(got.Grants, want, slices.Equal) {
		t.Errorf("%+v, %v", got, err)
	}
}

// A row of an earlier build, with the same duties at each site, says the same as one of today.
func TestRowsOfEarlierBuilds(t *testing.T) {
	var p Person
	earlier := `{"id":"p","name":"Tom","duties":["technician","engineer"],"sites":["a","b"],"made":"2026-03-01T08:00:00Z"}`
	if err := json.Unmarshal([]byte(earlier), &p); err != nil || p.ID != "p" || p.Name != "Tom" || p.Made.Year() != 2026 {
		t.Fatalf("%+v, %v", p, err)
	}
	both := []string{Technician, Engineer}
	if want := (Grants{"a": both, "b": both}); !maps.EqualFunc(p.Grants, want, slices.Equal) {
		t.Errorf("%v", p.Grants)
	}
	raw, err := json.Marshal(p)
	if err != nil || strings.Contains(string(raw), "sites") {
		t.Errorf("%s, %v", raw, err)
	}
	var again Person
	if err := json.Unmarshal(raw, &again); err != nil || !maps.EqualFunc(again.Grants, p.Grants, slices.Equal) {
		t.Errorf("%+v, %v", again, err)
	}
	d := newDoor(t)
	d.first()
	in, err := d.Invite("by", "Somebody", Everywhere(Technician))
	if err != nil {
		t.Fatal(err)
	}
	err = d.rows.Keep(func(w store.RowWriter) error {
		var row invitation
		if err := get(w, tableInvitations, in.Secret[:handleLength], &row); err != nil {
			return err
		}
		row.Grants = nil
		return put(w, tableInvitations, in.Secret[:handleLength], row)
	})
	if err != nil {
		t.Fatal(err)
	}
	_, _, err = d.Pair(in.Secret, "Phone")
	wants(t, err, InvitationExpired)
}
