package record

import (
	"encoding/json"
	"strings"
	"testing"

	"jointwalk/sync/journal"
)

// laterBook holds a story of two rounds as the lines that a start finds.
func laterBook(t *testing.T) *Book {
	t.Helper()
	s := newStory(t)
	rounds(s, 2, nil)
	b := NewBook()
	for _, e := range s.events {
		line, err := json.Marshal(e)
		if err != nil || b.Later(line, nil) != nil {
			t.Fatal(err, string(line))
		}
	}
	return b
}

// Whatever is asked first reads what it needs.
func TestLinesAreReadWhenTheyAreAskedFor(t *testing.T) {
	for question, answered := range map[string]func(b *Book) bool{
		"fixture":     func(b *Book) bool { return len(b.Fixture(fixtureID).Rounds) == 2 },
		"fixtures":    func(b *Book) bool { return len(b.Fixtures()[0].Rounds) == 2 },
		"tag":         func(b *Book) bool { return len(b.FixtureByTag(b.Fixture(fixtureID).Tag).Rounds) == 2 },
		"round":       func(b *Book) bool { return b.FixtureOfRound("r2").ID == fixtureID },
		"look":        func(b *Book) bool { return b.FixtureOfLook("r2j1").ID == fixtureID },
		"no look":     func(b *Book) bool { return b.FixtureOfLook("r2") == nil },
		"site left":   func(b *Book) bool { b.DropSite("site-a"); return b.Fixture(fixtureID) == nil },
		"site stayed": func(b *Book) bool { b.DropSite("site-b"); return b.Fixture(fixtureID) != nil },
		"old": func(b *Book) bool {
			return !b.Old(journal.Event{About: journal.About{Fixture: fixtureID, Of: "r1"}}) && len(b.pages[fixtureID].events) > 4
		},
		"added after": func(b *Book) bool {
			return b.Add(journal.Event{ID: "e", Log: "z", Seq: 1, Tick: 1, About: journal.About{Fixture: fixtureID}}) &&
				len(b.Fixture(fixtureID).Rounds) == 2
		},
	} {
		t.Run(question, func(t *testing.T) {
			if b := laterBook(t); !answered(b) {
				t.Errorf("another answer than of events added")
			}
		})
	}
}

// A line is not read before its fixture is asked for, and one that cannot be read then is counted and takes no other along.
func TestAnUnreadableLineIsCountedWhenItIsAskedFor(t *testing.T) {
	b := laterBook(t)
	line := `{"v":1,"id":"e-9","log":"log-9","seq":1,"prev":"","tick":9,"time":"t","zone":"Z","by":"ann","about":{"site":"site-a","fixture":"` +
		fixtureID + `","of":"r9"},"kind":"round-ended","body":{}}}`
	if err := b.Later([]byte(line), nil); err != nil || b.Unread() != 0 {
		t.Fatal(err, b.Unread())
	}
	if f := b.Fixture(fixtureID); len(f.Rounds) != 2 || b.Unread() != 1 {
		t.Errorf("%d rounds, %d unread", len(f.Rounds), b.Unread())
	}
	if err := b.Later([]byte(line[:200]), nil); err == nil {
		t.Error("a line without its half was taken")
	}
	if err := b.Later([]byte(strings.TrimSuffix(line, "}")), []byte("no receipt")); err != nil {
		t.Fatal(err)
	}
	if b.Fixture(fixtureID); b.Unread() != 1 || b.pages[fixtureID].seen[identity{"log-9", 1}] == nil {
		t.Errorf("%d unread, or the event went with its receipt", b.Unread())
	}
}

// Where two fixtures claim one round, the smaller id has it: also where that one is heard of after somebody asked, and not after
// its site was left.
func TestARoundsFixtureIsFoundAnew(t *testing.T) {
	const other = "00000000-0000-5000-8000-000000000001"
	claims := func(add func(b *Book, line journal.Line, e journal.Event)) {
		b := laterBook(t)
		if b.FixtureOfRound("r2").ID != fixtureID {
			t.Fatal("the round is not found")
		}
		s := newStory(t)
		rounds(s, 2, nil)
		for _, e := range s.events {
			e.ID, e.Log, e.About.Fixture, e.About.Site = "o"+e.ID[1:], "log-other", other, "site-b"
			line, err := json.Marshal(e)
			if err != nil {
				t.Fatal(err)
			}
			add(b, line, e)
		}
		if f := b.FixtureOfRound("r2"); f == nil || f.ID != other {
			t.Errorf("found %v, want the smaller id", f)
		}
		b.DropSite("site-b")
		if f := b.FixtureOfRound("r2"); f == nil || f.ID != fixtureID {
			t.Errorf("found %v after the site was left", f)
		}
	}
	claims(func(b *Book, line journal.Line, _ journal.Event) {
		if err := b.Later(line, nil); err != nil {
			t.Fatal(err)
		}
	})
	claims(func(b *Book, _ journal.Line, e journal.Event) { b.Add(e) })
}
