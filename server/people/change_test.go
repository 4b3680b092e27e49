package people

import (
	"slices"
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
		change PersonChange
		duties []string
		sites  []string
		said   string
	}{
		{PersonChange{Sites: []string{north}}, []string{Technician}, []string{north}, "person changed: site lost *, site gained " + north},
		{PersonChange{Sites: []string{south, north}}, []string{Technician}, []string{south, north}, "person changed: site gained " + south},
		{PersonChange{}, []string{Technician}, []string{south, north}, ""},
		{PersonChange{Sites: []string{north, south}}, []string{Technician}, []string{south, north}, ""},
		{PersonChange{Duties: []string{Engineer}, Sites: []string{south}}, []string{Engineer}, []string{south},
			"person changed: site lost " + north + ", duty lost technician, duty gained engineer"},
	} {
		before := len(d.trail())
		got, err := d.ChangePerson(boss.Person.ID, v.Person.ID, c.change)
		if err != nil || !slices.Equal(got.Duties, c.duties) || !slices.Equal(got.Sites, c.sites) || got.Name != v.Person.Name {
			t.Errorf("%+v: %+v, %v", c.change, got, err)
		}
		if now, err := d.Session(token); err != nil || !slices.Equal(now.Person.Sites, c.sites) || !slices.Equal(now.Person.Duties, c.duties) {
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
		change PersonChange
		code   string
	}{
		{"nobody", PersonChange{Duties: []string{Technician}}, UnknownPerson},
		{v.Person.ID, PersonChange{Duties: []string{}}, BadDuty},
		{v.Person.ID, PersonChange{Duties: []string{"king"}}, BadDuty},
		{v.Person.ID, PersonChange{Sites: []string{}}, BadSite},
		{v.Person.ID, PersonChange{Sites: []string{"nowhere"}}, BadSite},
		{boss.Person.ID, PersonChange{Duties: []string{Technician}}, BadDuty}, // nobody could undo it
	} {
		_, err := d.ChangePerson("by", c.id, c.change)
		wants(t, err, c.code)
	}
	if what := d.trail()[before:]; len(what) != 0 {
		t.Errorf("%v", what)
	}
	if _, err := d.ChangePerson("by", v.Person.ID, PersonChange{Duties: []string{Supervisor}}); err != nil {
		t.Fatal(err)
	}
	if _, err := d.ChangePerson("by", boss.Person.ID, PersonChange{Duties: []string{Technician}}); err != nil {
		t.Errorf("another supervises now: %v", err)
	}
}

// Two changes at one moment are one after the other: neither undoes what it does not speak of.
func TestAPersonChangedInBetween(t *testing.T) {
	rows, g := newMeddled(t)
	person, err := g.AddPerson("by", "Somebody", []string{Technician}, []string{EverySite})
	if err != nil {
		t.Fatal(err)
	}
	site, err := g.AddSite("by", Site{Name: "Plant", Zone: "UTC"})
	if err != nil {
		t.Fatal(err)
	}
	rows.before = func(w store.RowWriter) error {
		other := person
		other.Duties = []string{Engineer, Supervisor}
		return put(w, tablePeople, person.ID, other)
	}
	got, err := g.ChangePerson("by", person.ID, PersonChange{Sites: []string{site.ID}})
	if err != nil || !slices.Equal(got.Sites, []string{site.ID}) || !slices.Equal(got.Duties, []string{Engineer, Supervisor}) {
		t.Errorf("%+v, %v", got, err)
	}
}
