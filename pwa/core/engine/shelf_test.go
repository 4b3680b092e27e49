package engine

import (
	"math/rand/v2"
	"testing"

	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

// listed is what a phone lists of its fixtures, held against the same without a shelf.
func (p *phone) listed(when string) string {
	p.t.Helper()
	var told summary.Home
	p.ask("home", summary.HomeQuestion{}, &told)
	made, err := summary.NewDesk(p.book, p.desk.Names).Home(summary.HomeQuestion{})
	if err != nil {
		p.t.Fatal(err)
	}
	if a, b := asJSON(p.t, told), asJSON(p.t, made); a != b {
		p.t.Fatalf("%s: the list says\n%s\nand its lines say\n%s", when, a, b)
	}
	return asJSON(p.t, told)
}

// unread is how many fixtures nobody read since the start.
func (p *phone) unread() (n int) {
	for _, id := range p.book.IDs() {
		if _, unread := p.book.Print(id); unread {
			n++
		}
	}
	return n
}

func TestAListIsToldAgainWithoutReading(t *testing.T) {
	p := newPhone(t, 1)
	p.belong("ann", plant)
	fixture, joint, round := p.station(plant)
	p.station(plant)
	p.start()
	before := p.askHome()
	if n := p.unread(); n != 0 {
		t.Fatalf("%d fixtures unread at the first list: nothing was kept of them", n)
	}
	p.start()
	if again := p.askHome(); again != before || p.unread() != 2 {
		t.Errorf("%d of 2 left unread, then\n%s\nwas\n%s", p.unread(), again, before)
	}
	p.start()
	p.write(leaking(plant, fixture, joint, round))
	if after := p.listed("after a leak"); after == before {
		t.Error("a leak does not show")
	}
	p.start()
	if p.askHome(); p.unread() != 1 {
		t.Errorf("%d unread where one of two fixtures got a line", p.unread())
	}
}

// askHome is the list without looking into the book.
func (p *phone) askHome() string {
	p.t.Helper()
	var told summary.Home
	p.ask("home", summary.HomeQuestion{}, &told)
	return asJSON(p.t, told)
}

func TestTheListIsWhatItsLinesSay(t *testing.T) {
	for seed := range byte(20) {
		p := newPhone(t, seed)
		p.belong("ann", plant, annex)
		chance := rand.New(rand.NewPCG(uint64(seed), 0))
		var stations [][3]string
		for step := range 40 {
			switch n := chance.IntN(6); {
			case n == 0 || len(stations) == 0:
				f, j, r := p.station([]string{plant, annex}[chance.IntN(2)])
				stations = append(stations, [3]string{f, j, r})
			case n < 3:
				s := stations[chance.IntN(len(stations))]
				p.write([]func(site, fixture, joint, round string) Draft{leaking, tight}[chance.IntN(2)](p.book.Fixture(s[0]).Site, s[0], s[1], s[2]))
			case n == 3:
				s := stations[chance.IntN(len(stations))]
				name := string(rune('a' + step%26))
				edit := draft(record.FixtureEdited, p.book.Fixture(s[0]).Site, s[0], record.FixtureEdit{Name: &name})
				edit.Of, edit.Base = s[0], p.book.Fixture(s[0]).Base
				p.write(edit)
			case n == 4:
				p.start()
				p.askHome()
			default:
				p.start()
				p.listed("at a start")
			}
		}
	}
}

// listing is a phone with one fixture that was listed once.
func listing(t *testing.T) *phone {
	t.Helper()
	p := newPhone(t, 1)
	p.belong("ann", plant)
	p.station(plant)
	p.start()
	p.askHome()
	return p
}

func TestAnotherVersionMakesItsOwnCards(t *testing.T) {
	p := listing(t)
	p.env.App = "another"
	p.start()
	if p.askHome(); p.unread() != 0 {
		t.Error("it told what an app of another version had made")
	}
}

func TestNothingIsKeptOfASiteThatWasLeft(t *testing.T) {
	p := listing(t)
	if _, there := p.pool.State().Get(keyShelf); !there {
		t.Fatal("nothing was kept")
	}
	p.sweep()
	if raw, there := p.pool.State().Get(keyShelf); there {
		t.Errorf("kept still: %s", raw)
	}
	if p.start(); p.askHome() == "" || p.unread() != 0 {
		t.Error("a list off an empty shelf")
	}
}
