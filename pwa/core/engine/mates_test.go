package engine

import (
	"encoding/json"
	"errors"
	"testing"

	"jointwalk/sync/journal"
	"jointwalk/sync/summary"
)

const southPlant = "0190a000-0000-7000-8000-0000000000b2"

// shared makes the phone Ann's and Bob's: both work at the plant, Bob as an engineer at another site too.
func (p *phone) shared() {
	p.t.Helper()
	me := Me{Person: Person{ID: "ann", Name: "Ann", Duties: []string{"technician", "engineer"}}, Device: Device{ID: "device-ann"}, Installation: installation, People: []Person{},
		Sites: []Site{{ID: plant, Name: "Plant", Duties: []string{"technician"}}, {ID: southPlant, Name: "South", Duties: []string{"engineer"}}},
		Mates: []Mate{{ID: "ann", Name: "Ann", Duties: []string{"technician"}, Grants: map[string][]string{plant: {"technician"}}},
			{ID: "bob", Name: "Bob", Duties: []string{"technician", "engineer"}, Grants: map[string][]string{"*": {"engineer"}, plant: {"technician"}}}}}
	raw, err := json.Marshal(me)
	if err != nil {
		p.t.Fatal(err)
	}
	p.told.Me, p.told.Mark, p.told.Sites = raw, journal.Hash(raw), []string{plant, southPlant}
	p.welcomed()
}

// The author is who held the phone when it was saved; what the other had not sent yet stays as it is.
func TestWhoHoldsASharedPhoneIsTheAuthor(t *testing.T) {
	p := newPhone(t, 1)
	p.belong("ann", plant)
	fixture, joint, round := p.station(plant)
	p.shared()
	p.write(leaking(plant, fixture, joint, round))
	unsent := p.Standing().Unsent
	p.call("hold", Hold{Person: "bob"}, nil)
	p.write(tight(plant, fixture, joint, round))
	if s := p.Standing(); s.Unsent != unsent+1 || s.Me.Person.ID != "bob" || len(s.Me.Mates) != 2 {
		t.Errorf("%+v", s)
	}
	p.start()
	if s := p.Standing(); s.Me.Person.ID != "bob" || s.Me.Person.Name != "Bob" {
		t.Errorf("after a start: %+v", s.Me)
	}
	var by []string
	_ = p.pool.Log().Each(func(line journal.Line) bool {
		event, err := journal.Parse(line)
		if err != nil {
			t.Fatal(err)
		}
		by = append(by, event.By)
		return true
	})
	if n := len(by); n < 3 || by[n-2] != "ann" || by[n-1] != "bob" {
		t.Errorf("authors: %v", by)
	}
}

// Each sees the sites where they work, with what they do there.
func TestASharedPhoneShowsWhatIsOfWhoHoldsIt(t *testing.T) {
	p := newPhone(t, 1)
	p.belong("ann", plant)
	p.station(plant)
	p.shared()
	sites := func() (names []string) {
		var home summary.Home
		p.ask("home", summary.HomeQuestion{}, &home)
		for _, site := range home.Sites {
			names = append(names, site.Name)
		}
		return names
	}
	if me := p.Standing().Me; me.Person.ID != "ann" || len(me.Person.Duties) != 1 || len(sites()) != 1 {
		t.Errorf("nobody chosen: as who brought it in: %+v", me)
	}
	p.call("hold", Hold{Person: "ann"}, nil)
	if me := p.Standing().Me; len(me.Sites) != 1 || me.Sites[0].ID != plant || len(me.Person.Duties) != 1 || len(sites()) != 1 {
		t.Errorf("%+v", me)
	}
	p.call("hold", Hold{Person: "bob"}, nil)
	if me := p.Standing().Me; len(me.Sites) != 2 || len(me.Sites[0].Duties) != 2 || len(me.Sites[1].Duties) != 1 || len(sites()) != 2 {
		t.Errorf("%+v", me)
	}
	var fault *Fault
	for _, person := range []string{"eve", ""} {
		if _, err := p.hold(Hold{Person: person}); !errors.As(err, &fault) || fault.Code != CodeUnknownPerson {
			t.Errorf("%q: %v", person, err)
		}
	}
}

// A draft belongs to who made it; what is kept for the device is everybody's.
func TestDraftsOfASharedPhoneAreApart(t *testing.T) {
	p := newPhone(t, 1)
	p.belong("ann", plant)
	p.call("keep", Note{Key: "look", Value: json.RawMessage(`"before"`)}, nil)
	p.shared()
	draft := func(key string) string {
		var n Note
		p.call("draft", Note{Key: key}, &n)
		return string(n.Value)
	}
	p.call("hold", Hold{Person: "bob"}, nil)
	p.call("keep", Note{Key: "device:pins", Value: json.RawMessage(`"pins"`)}, nil)
	if got := draft("look"); got != "" {
		t.Errorf("Bob sees Ann's draft %s", got)
	}
	p.call("keep", Note{Key: "look", Value: json.RawMessage(`"Bob's"`)}, nil)
	p.call("hold", Hold{Person: "ann"}, nil)
	if look, pins := draft("look"), draft("device:pins"); look != `"before"` || pins != `"pins"` {
		t.Errorf("%s %s", look, pins)
	}
	p.call("hold", Hold{Person: "bob"}, nil)
	if got := draft("look"); got != `"Bob's"` {
		t.Errorf("%s", got)
	}
}
