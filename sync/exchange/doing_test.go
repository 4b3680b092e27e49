package exchange

import (
	"slices"
	"strings"
	"testing"

	"jointwalk/sync/journal"
)

// steps carries the next n requests of a turn.
func (h *hand) steps(o *office, n int) *hand {
	h.t.Helper()
	for range n {
		r, some := h.Next()
		if !some {
			h.t.Fatal("the turn is over")
		}
		h.carry(o.answer(r))
	}
	return h
}

func (h *hand) wantDoing(want Doing) {
	h.t.Helper()
	if d := h.Standing().Doing; d == nil || *d != want {
		h.t.Errorf("%+v, want %+v", d, want)
	}
}

func (h *hand) wantIdle() {
	h.t.Helper()
	if d := h.Standing().Doing; d != nil {
		h.t.Errorf("at %+v", d)
	}
}

// stocked is an office with n events of somebody else in each of some sites.
func stocked(n int, sites ...string) *office {
	o := newOffice()
	o.sites = sites
	for i, site := range sites {
		lines := must(must(journal.OpenLog(&journal.Memory{}, uid(0xb0+i))).Append(at(site, drafts(0, n))))
		must(receive(o.keeper, lines, sender, noon, allowAll))
	}
	return o
}

func at(site string, drafts []journal.Draft) []journal.Draft {
	for i := range drafts {
		drafts[i].About.Site = site
	}
	return drafts
}

// The first pull of two sites: the office gives two events a slice.
func TestAPullTellsHowFarItIs(t *testing.T) {
	o, h := stocked(3, "site-1", "site-2"), newHand(t)
	h.wantIdle()
	h.Begin(true)
	h.steps(o, 1).wantIdle() // greeted; nothing has come
	h.steps(o, 1).wantDoing(Doing{Fetching, 2, 6, 2})
	h.steps(o, 1).wantDoing(Doing{Fetching, 3, 6, 3})
	h.steps(o, 1).wantDoing(Doing{Fetching, 5, 6, 5})
	h.steps(o, 1).wantIdle()
	h.turn(o, true).wantIdle()
}

// What a phone does not need counts as gone through.
func TestWhatIsPassedOverCounts(t *testing.T) {
	o, h := stocked(7, "site-1"), newHand(t)
	o.hall.Skip = skipping(func(line journal.Line) bool {
		return !strings.Contains(string(line), `"n":0`) && !strings.Contains(string(line), `"n":6`)
	})
	h.Begin(true)
	h.steps(o, 2).wantDoing(Doing{Fetching, 2, 7, 2})
	h.steps(o, 1).wantIdle()
	if len(h.added) != 2 {
		t.Errorf("%d came", len(h.added))
	}
}

// An earlier server does not say how many there are.
func TestAPullFromAnEarlierServerSaysHowManySoFar(t *testing.T) {
	o, h := stocked(5, "site-1"), newHand(t)
	h.Begin(true)
	h.steps(o, 1)
	h.Phone.turn.behind, h.Phone.turn.counted = 0, false
	h.steps(o, 1).wantDoing(Doing{Fetching, 2, 0, 2})
	h.steps(o, 1).wantDoing(Doing{Fetching, 4, 0, 4})
}

func TestAPushTellsHowFarItIs(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true)
	h.save(0, 2*MaxBatch+1)
	h.Begin(false)
	h.wantIdle()
	h.steps(o, 1).wantDoing(Doing{Sending, MaxBatch, 2*MaxBatch + 1, MaxBatch})
	h.steps(o, 2).wantIdle()
}

func TestPicturesTellHowFarTheyAre(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true)
	for _, letter := range []string{"a", "b"} {
		content := []byte(strings.Repeat(letter, 2*MaxChunk))
		if err := h.pool.Pictures().Add(journal.Hash(content), content, "2026-03-04T12:00:00.000Z"); err != nil {
			t.Fatal(err)
		}
	}
	h.Begin(true)
	h.steps(o, 2).wantIdle()                             // greeted, and how much there is of the first
	h.steps(o, 1).wantDoing(Doing{Picturing, 0, 2, 0.5}) // half of it
	h.steps(o, 1).wantDoing(Doing{Picturing, 1, 2, 1})
	h.steps(o, 2).wantDoing(Doing{Picturing, 1, 2, 1.5})
	h.steps(o, 1).wantIdle()
}

// A pull that somebody stops keeps what came, fetches no more by itself, and goes on where it was.
func TestAStoppedPullGoesOnLater(t *testing.T) {
	o, h := stocked(5, "site-1"), newHand(t)
	h.Begin(true)
	h.steps(o, 2)
	h.Next() // the second slice is on its way
	h.Stop()
	h.carry(o.answer(Request{Method: "GET", Path: PathPull + "?site=site-1&cursor="})) // too late: nobody waits for it
	if s := h.Standing(); !s.Paused || s.Doing != nil || s.Reach != Reached || s.Problem != "" || len(h.added) != 2 || h.Wait() != idle {
		t.Errorf("%+v, %d came, waits %v", s, len(h.added), h.Wait())
	}
	h.turn(o, true)
	wantSeen(t, o)
	h.Resume()
	h.Begin(true)
	h.steps(o, 2).wantDoing(Doing{Fetching, 2, 3, 2}) // of what is left
	h.steps(o, 1).wantIdle()
	wantSeen(t, o, PathMeet, PathPull, PathPull)
	if s := h.Standing(); s.Paused || len(h.added) != 3 {
		t.Errorf("%+v, %d came", s, len(h.added))
	}
}

// What is saved after a stop is sent, and no picture.
func TestWhatIsSavedAfterAStopIsSent(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true)
	h.Stop()
	h.save(0, 2)
	if err := h.pool.Pictures().Add(journal.Hash([]byte("p")), []byte("p"), "2026-03-04T12:00:00.000Z"); err != nil {
		t.Fatal(err)
	}
	h.turn(o, false)
	wantSeen(t, o, PathPush)
	h.turn(o, true)
	wantSeen(t, o)
	if s := h.Standing(); s.Unsent != 0 || s.Pictures != 1 {
		t.Errorf("%+v", s)
	}
	h.start(false) // the next start is whole again
	if s := h.turn(o, true).Standing(); s.Paused || s.Pictures != 0 {
		t.Errorf("%+v", s)
	}
}

// Stopped at any step, no event is lost or sent for nothing for ever.
func TestStoppedAnywhereNothingIsLost(t *testing.T) {
	for stop := range 9 {
		o, h := stocked(5, "site-1"), newHand(t)
		h.save(10, 12)
		content := []byte(strings.Repeat("x", MaxChunk+1))
		if err := h.pool.Pictures().Add(journal.Hash(content), content, "2026-03-04T12:00:00.000Z"); err != nil {
			t.Fatal(err)
		}
		h.Begin(true)
		for range stop {
			if r, some := h.Next(); some {
				h.carry(o.answer(r))
			}
		}
		h.Stop()
		before := h.added
		h.Resume()
		if s := h.turn(o, true).Standing(); s.Unsent != 0 || s.Pictures != 0 || !o.whole(content) || len(o.feed["site-1"]) != 7 {
			t.Errorf("stopped after %d: %+v", stop, s)
		}
		if came := texts(pairLines(slices.Concat(before, h.added))); strings.Count(came, "\n") != 7 {
			t.Errorf("stopped after %d: %s", stop, came)
		}
	}
}

func pairLines(pairs []journal.Pair) (lines []journal.Line) {
	for _, pair := range pairs {
		lines = append(lines, pair.Line)
	}
	return lines
}
