package record

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"jointwalk/sync/journal"
)

func photo(letters string, size int) Picture {
	return Picture{Hash: strings.Repeat(letters, 32), Bytes: size, Type: "image/jpeg", Width: 4, Height: 3}
}

// Of each fixture its photo that shows now, as its replay has it; the one added last first, as far as there is room.
func TestThePhotosOfFixtures(t *testing.T) {
	const second = "00000000-0000-5000-8000-00000000000e"
	s := newStory(t)
	s.look("l1", "r1", "j1", Leaks)
	s.write(PictureAdded, fixtureID, photo("aa", 10))
	s.write(PictureAdded, fixtureID, photo("bb", 30))
	gone := s.write(PictureAdded, fixtureID, photo("cc", 10))
	rig := s.rig(second, tagOf("7ZZZZZZZZ1"))
	rig(PictureAdded, "", photo("dd", 40)) // of no finding, and not of the fixture: About.Of is empty
	rig(PictureAdded, "", photo("ee", 20))
	s.events[len(s.events)-1].About.Of = second
	s.write(PictureAdded, "l1", photo("ff", 10))
	s.writeBase(Withdrawn, fixtureID, gone, Reason{Why: "a face"})
	backwards := slices.Clone(s.events)
	slices.Reverse(backwards)
	names := func(b *Book, most int) (text string) {
		for _, hash := range b.Photos(most) {
			text += hash[:1]
		}
		return text
	}
	for _, events := range [][]journal.Event{s.events, backwards, append(backwards, s.events...)} {
		for n, b := range books(t, events) {
			got := fmt.Sprint(names(b, 50), " ", names(b, 49), " ", names(b, 19))
			if got != "eb e " {
				t.Errorf("book %d: %q", n, got)
			}
			if f := b.Fixture(fixtureID); f.Photos[1].Hash != b.Photos(50)[1] {
				t.Errorf("book %d: the replay has %+v", n, f.Photos)
			}
			if dropped := b.DropSite("site-a"); len(dropped) != 2 || names(b, 50) != "" {
				t.Errorf("book %d: a site that is given back leaves %v %q", n, dropped, names(b, 50))
			}
		}
	}
}
