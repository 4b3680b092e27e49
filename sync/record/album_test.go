package record

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"jointwalk/sync/journal"
)

// snap is a picture whose hash repeats a letter.
func snap(letter string) Picture {
	return Picture{Hash: strings.Repeat(letter, 64), Bytes: 9, Type: "image/jpeg", Width: 4, Height: 3}
}

// A picture that was withdrawn stands with its hash, and with who withdrew it, when and why; the first to do so counts.
func TestAWithdrawnPictureStaysWithItsHash(t *testing.T) {
	s := newStory(t)
	s.look("l1", "r1", "j1", Leaks)
	one := s.write(PictureAdded, "l1", snap("a"))
	s.write(PictureAdded, "l1", snap("b"))
	later := s.elsewhere("log-b", "person-b")
	gone := later.writeBase(Withdrawn, "l1", one, Reason{Why: "a face"})
	later.writeBase(Withdrawn, "l1", one, Reason{Why: "again"})
	for _, order := range []func([]journal.Event){func([]journal.Event) {}, slices.Reverse[[]journal.Event]} {
		events := slices.Clone(later.events)
		order(events)
		pictures := bookOf(events).Fixture(fixtureID).LookByID("l1").Pictures
		if len(pictures) != 2 || pictures[0].Hash != snap("a").Hash || pictures[0].Taken.Person != "person-a" || pictures[1].Withdrawn != nil {
			t.Fatalf("%+v", pictures)
		}
		w := pictures[0].Withdrawn
		if w == nil || pictures[0].Why != "a face" || w.Person != "person-b" || w.Event != gone || w.Time == "" {
			t.Errorf("%+v", w)
		}
	}
}

// A picture that comes last and one that is folded anew stand alike.
func TestAWithdrawalComesBeforeItsPicture(t *testing.T) {
	s := newStory(t)
	s.look("l1", "r1", "j1", Leaks)
	b := bookOf(s.events)
	b.Fixture(fixtureID) // folded: what follows is applied at once
	n := len(s.events)
	one := s.write(PictureAdded, "l1", snap("a"))
	s.writeBase(Withdrawn, "l1", one, Reason{Why: "a face"})
	for _, e := range []int{n + 1, n} {
		b.Add(s.events[e])
		b.Fixture(fixtureID)
	}
	if got, want := b.Digest(), bookOf(s.events).Digest(); got != want {
		t.Error("it depends on the order")
	}
	if w := b.Fixture(fixtureID).LookByID("l1").Pictures[0].Withdrawn; w == nil || !b.Album.Withdrawn(snap("a").Hash) {
		t.Errorf("%+v", w)
	}
}

// A picture is withdrawn when all that speaks of it was taken back, in whatever order that came, and once or twice.
func TestAlbum(t *testing.T) {
	a, b := snap("a").Hash, snap("b").Hash
	s := newStory(t)
	s.look("l1", "r1", "j1", Leaks)
	one, two := s.write(PictureAdded, "l1", snap("a")), s.write(PictureAdded, "l1", snap("a"))
	s.write(PictureAdded, "l1", snap("b"))
	s.writeBase(Withdrawn, "l1", one, Reason{Why: "a face"})
	half := len(s.events)
	s.writeBase(Withdrawn, "l1", two, Reason{Why: "the same face"})
	stranger := s.events[half]
	stranger.About.Fixture, stranger.Base = "another fixture", s.events[half-2].ID
	for _, order := range []func([]journal.Event){func([]journal.Event) {}, slices.Reverse[[]journal.Event]} {
		album := NewAlbum()
		events := slices.Clone(s.events[:half])
		order(events)
		for _, e := range append(events, append(events, stranger)...) {
			album.Note(&e)
		}
		if album.Withdrawn(a) || !album.Stands(a) {
			t.Error("one event still speaks of it")
		}
		if got := album.Note(&s.events[half]); got != a || !album.Withdrawn(a) || album.Stands(a) {
			t.Errorf("%q", got)
		}
		if album.Withdrawn(b) || !album.Stands(b) || album.Withdrawn("unheard of") || album.Stands("unheard of") {
			t.Error("another picture was withdrawn too")
		}
		album.Expect(a)
		if album.Withdrawn(a) || !album.Stands(a) {
			t.Error("it comes again")
		}
		if !album.Wanted(a) || album.Wanted(a) || !album.Withdrawn(a) {
			t.Error("it is waited for more than once")
		}
		again := s.events[half-2]
		again.ID, again.Body = "again", s.events[half-3].Body
		if album.Note(&again); !album.Stands(a) || !album.Wanted(a) || !album.Wanted(a) {
			t.Error("it came again")
		}
		again.Kind, again.Base = string(Withdrawn), "again"
		if album.Note(&again); !album.Withdrawn(a) {
			t.Error("and was withdrawn again")
		}
	}
}

func TestWhoAddedAPicture(t *testing.T) {
	s := newStory(t)
	s.look("l1", "r1", "j1", Leaks)
	one := s.write(PictureAdded, "l1", snap("a"))
	album := bookOf(s.events).Album
	if by, known := album.AddedBy(fixtureID, one); by != "person-a" || !known {
		t.Errorf("%q %v", by, known)
	}
	for _, none := range [][2]string{{fixtureID, s.events[0].ID}, {"another fixture", one}, {fixtureID, ""}} {
		if by, known := album.AddedBy(none[0], none[1]); by != "" || known {
			t.Errorf("%v: %q", none, by)
		}
	}
	forged := s.events[len(s.events)-1]
	forged.By = "person-b"
	album.Note(&forged)
	if by, known := album.AddedBy(fixtureID, one); by != "" || !known {
		t.Errorf("two events of one id: %q %v", by, known)
	}
}

// A picture's withdrawal says why; taking back something else need not.
func TestAPicturesWithdrawalSaysWhy(t *testing.T) {
	s := newStory(t)
	look := s.look("l1", "r1", "j1", Leaks)
	picture := s.write(PictureAdded, "l1", snap("a"))
	b := bookOf(s.events)
	for why, want := range map[string]string{"a face": "", "": Missing, " \n": Missing} {
		body, err := json.Marshal(Reason{Why: why})
		if err != nil {
			t.Fatal(err)
		}
		about := journal.About{Site: "site-a", Fixture: fixtureID, Of: "l1"}
		var fault *Fault
		if err := Check(string(Withdrawn), body, about, picture, b); errors.As(err, &fault) != (want != "") || want != "" && (fault.Code != want || fault.Field != "why") {
			t.Errorf("%q: %v, want %q", why, err, want)
		}
		if err := Check(string(Withdrawn), body, about, look, b); err != nil {
			t.Errorf("a look, %q: %v", why, err)
		}
	}
}

// A phone that may do without a round is told of its withdrawn pictures all the same: it may hold them still.
func TestAPicturesWithdrawalIsNeverOld(t *testing.T) {
	s := newStory(t)
	s.look("l1", "r1", "j1", None)
	picture := s.write(PictureAdded, "l1", snap("a"))
	s.writeBase(Withdrawn, "l1", picture, Reason{Why: "a face"})
	s.writeBase(Withdrawn, "l1", "something else", Reason{Why: "undo"})
	n := len(s.events)
	rounds(s, KeptRounds+2, nil)
	b := bookOf(s.events)
	for back, want := range map[int]bool{3: true, 2: false, 1: true} {
		if got := b.Old(s.events[n-back]); got != want {
			t.Errorf("%s: old %v", s.events[n-back].Kind, got)
		}
	}
}

// The album knows pictures of lines that nobody asked for yet.
func TestTheAlbumOfUnreadLines(t *testing.T) {
	b := NewBook()
	log, err := journal.OpenLog(&journal.Memory{}, "018f0000-0000-7000-8000-0000000000c7")
	if err != nil {
		t.Fatal(err)
	}
	draft := func(id, kind, base string, body any) journal.Draft {
		return journal.Draft{ID: id, Time: "2026-03-01T08:00:00.000Z", Zone: "UTC", By: "person-a", Kind: kind, Base: base, Body: body,
			About: journal.About{Site: "site-a", Fixture: fixtureID, Of: "l1"}}
	}
	added := "018f0000-0000-7000-8000-0000000000e1"
	lines, err := log.Append([]journal.Draft{draft(added, string(PictureAdded), "", snap("a")),
		draft("018f0000-0000-7000-8000-0000000000e2", string(Withdrawn), added, Reason{Why: "a face"})})
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range lines {
		if err := b.Later(line, nil); err != nil {
			t.Fatal(err)
		}
	}
	if !b.Album.Withdrawn(snap("a").Hash) || len(b.pages[fixtureID].waiting) != 2 {
		t.Error("the withdrawal was not seen, or its fixture was read")
	}
}
