package exchange

import (
	"slices"
	"strings"
	"testing"

	"jointwalk/sync/journal"
)

// gallery is an office that gives pictures, and a phone that is to hold some of them.
func gallery(t *testing.T, contents ...string) (*office, *hand, func(wanted ...string)) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true)
	for _, content := range contents {
		o.gives(content)
	}
	return o, h, func(wanted ...string) {
		h.Phone.env.Photos = func() (hashes []string) {
			for _, content := range wanted {
				hashes = append(hashes, journal.Hash([]byte(content)))
			}
			return hashes
		}
	}
}

func path(content string) string { return PathPictures + journal.Hash([]byte(content)) }

func (o *office) gives(content string) {
	o.refuse[path(content)] = Reply{Status: 200, Body: []byte(content)}
}

func (h *hand) holds(contents ...string) {
	h.t.Helper()
	var got []string
	for _, p := range h.pool.Pictures().List() {
		if content, err := h.pool.Pictures().Read(p.Hash); err == nil && p.Confirmed {
			got = append(got, string(content))
		}
	}
	slices.Sort(got)
	if !slices.Equal(got, contents) {
		h.t.Errorf("holds %q, want %q", got, contents)
	}
}

func TestPhotosComeOnceAfterAllElse(t *testing.T) {
	o, h, want := gallery(t, "a", "b")
	want("a", "b")
	own := []byte("its own")
	if err := h.pool.Pictures().Add(journal.Hash(own), own, "2026-03-04T12:00:00.000Z"); err != nil {
		t.Fatal(err)
	}
	h.save(0, 1)
	h.turn(o, true)
	if n := len(o.seen); n < 6 || o.seen[0] != PathMeet || o.seen[1] != PathPush || !slices.Equal(o.seen[n-2:], []string{path("a"), path("b")}) {
		t.Errorf("carried %v", o.seen)
	}
	h.holds("a", "b", "its own")
	h.turn(o, true)
	wantSeen(t, o, PathMeet)
	h.start(false)
	h.holds("a", "b", "its own")
}

func TestPhotosTellHowFarTheyAre(t *testing.T) {
	o, h, want := gallery(t, "a", "b", "c")
	want("a", "b", "c")
	h.Begin(true)
	h.steps(o, 2).wantDoing(Doing{Holding, 1, 3, 1})
	h.steps(o, 1).wantDoing(Doing{Holding, 2, 3, 2})
	h.steps(o, 1).wantIdle()
}

// A photo that the server lacks, or gives wrongly, holds up nothing and is asked for more and more rarely.
func TestAPhotoInVainIsAskedForRarely(t *testing.T) {
	for name, reply := range map[string]Reply{"not here yet": refusal(404, CodeUnknownPicture), "withdrawn": refusal(410, CodeWithdrawn), "broken": refusal(503, "store-broken"), "something else": {Status: 200, Body: []byte("x")}} {
		o, h, want := gallery(t, "b")
		want("a", "b")
		o.refuse[path("a")] = reply
		asked := 0
		for range 16 {
			h.turn(o, true)
			asked += strings.Count(strings.Join(o.seen, " "), path("a"))
			if s := h.Standing(); s.Problem != "" || s.Pictures != 0 || h.fault != "" || s.Reach != Reached {
				t.Errorf("%s: %+v %s", name, s, h.fault)
			}
		}
		if h.holds("b"); asked < 2 || asked > 5 {
			t.Errorf("%s: asked %d times in 16 turns", name, asked)
		}
		o.gives("a")
		for range 64 {
			h.turn(o, true)
		}
		h.holds("a", "b")
	}
}

// A photo that was withdrawn while it came is not kept.
func TestAPhotoIsWithdrawnOnItsWay(t *testing.T) {
	o, h, want := gallery(t, "a")
	want("a")
	h.Begin(true)
	h.steps(o, 1)
	r, _ := h.Next()
	want()
	h.carry(o.answer(r))
	h.holds()
}

// What is saved meanwhile does not wait for photos.
func TestASaveGoesBeforePhotos(t *testing.T) {
	o, h, want := gallery(t, "a", "b")
	want("a", "b")
	h.Begin(true)
	h.steps(o, 2)
	h.save(0, 1)
	o.seen = nil
	h.turn(o, false)
	wantSeen(t, o, PathPush)
	h.turn(o, true)
	h.holds("a", "b")
}

// Where the network breaks the turn ends, and goes on; a stopped phone fetches none.
func TestPhotosGoOnLater(t *testing.T) {
	o, h, want := gallery(t, "a")
	want("a")
	o.refuse[path("a")] = Reply{}
	if h.turn(o, true); h.Standing().Reach != Offline || h.fault != CodeOffline {
		t.Errorf("%+v %s", h.Standing(), h.fault)
	}
	o.gives("a")
	h.Stop()
	h.turn(o, true)
	h.holds()
	h.Resume()
	h.turn(o, true).turn(o, true)
	h.holds("a")
}
