package exchange

import (
	"slices"
	"testing"

	"jointwalk/sync/journal"
	"jointwalk/sync/journal/badfile"
)

// otherwise is another history under the name of a log.
func otherwise(log string, n int) []journal.Line {
	return must(must(journal.OpenLog(&journal.Memory{}, log)).Append(drafts(50, 50+n)))
}

// puts lets the office's store hold lines, as if they had been applied.
func (o *office) puts(lines ...journal.Line) {
	for _, line := range lines {
		o.put(Incoming{Line: line, Event: must(journal.Parse(line)), Hash: journal.Hash(line), Receipt: sealedReceipt(line, 1)})
	}
}

// A body that ends within a line is not whole: its last line would be set aside, and count as sent.
func TestAPushThatWasCutOffIsRefused(t *testing.T) {
	body := Batch{Lines: written(logA, 2)}.Body()
	for _, cut := range []int{1, 5, len(body) / 2} {
		if _, err := SplitBatch(body[:len(body)-cut]); journal.CodeOf(err) != CodeBadPush {
			t.Errorf("%d bytes cut off: %v", cut, err)
		}
	}
}

// A restored server may hold the other side of a fork under the same numbers: they do not say that it has ours.
func TestAnotherHistoryIsNotTakenForOurs(t *testing.T) {
	for _, n := range []int{2, 3, 5} {
		o, h := newOffice(), newHand(t)
		h.turn(o, true)
		own := h.save(0, 3)
		h.turn(o, true)
		o.restore(0)
		o.puts(otherwise(h.Standing().Log, n)...)
		h.turn(o, true)
		for _, line := range own {
			if e := must(journal.Parse(line)); o.held[e.Log][e.Seq] != journal.Hash(line) && o.aside[journal.Hash(line)] == "" {
				t.Errorf("the server has %d of another history, and not our %d", n, e.Seq)
			}
		}
	}
}

// A phone that pulled both sides hands both in: the server's numbers speak of one.
func TestBothSidesOfAForkAreHandedIn(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true)
	one, other := written(logB, 3), otherwise(logB, 2)
	o.puts(append(slices.Clone(one), other...)...)
	h.turn(o, true)
	o.restore(0)
	o.puts(one...)
	h.turn(o, true)
	for _, line := range other {
		if o.aside[journal.Hash(line)] != journal.CodeForked {
			t.Errorf("not handed in: %.80s", line)
		}
	}
}

// Where the sides of a log speak of different sites, a phone may hold the one below and the other above: the server's word
// about the upper run says nothing of the lower.
func TestALowerRunIsNotProvenByAnUpperOne(t *testing.T) {
	o, h := newOffice(), newHand(t)
	o.sites = []string{"site-1", "site-2"}
	elsewhere := drafts(0, 4)
	for i := range elsewhere {
		elsewhere[i].About.Site = "site-2"
	}
	one, other := must(must(journal.OpenLog(&journal.Memory{}, logB)).Append(elsewhere)), otherwise(logB, 2)
	o.puts(append(slices.Clone(one[2:]), other...)...)
	h.turn(o, true)
	o.restore(0)
	o.puts(one...)
	h.turn(o, true)
	for _, line := range other {
		if o.aside[journal.Hash(line)] != journal.CodeForked {
			t.Errorf("not handed in: %.80s", line)
		}
	}
	if n := len(o.aside); n != 2 {
		t.Errorf("%d set aside", n)
	}
	if fills := len(o.seen) - len(slices.DeleteFunc(slices.Clone(o.seen), func(p string) bool { return p == PathFill })); fills != 1 {
		t.Errorf("handed in %d times", fills)
	}
}

// What is set aside stays so on the phone, whatever the reason, when the other side of its log comes from the server.
func TestTheOtherSideOfAForkLetsNothingIn(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true)
	lines := h.save(0, 3)
	o.gone = true
	if h.turn(o, false); h.Standing().Asides != 3 {
		t.Fatalf("%d set aside", h.Standing().Asides)
	}
	o.gone = false
	o.puts(otherwise(h.pool.Log().ID(), 3)...)
	if h.turn(o, true); len(h.added) != 3 || h.Standing().Asides != 3 {
		t.Errorf("%d pulled, %d still set aside", len(h.added), h.Standing().Asides)
	}
	o.puts(lines[1])
	if h.turn(o, true); h.Standing().Asides != 2 {
		t.Errorf("one was let in, %d still set aside", h.Standing().Asides)
	}
}

// A phone that forgot which store it knew, and still holds what it pulled, compares.
func TestAPhoneThatForgotTheStoreCompares(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true)
	o.puts(written(logB, 4)...)
	h.turn(o, true)
	if err := h.pool.State().Drop(h.pool.State().Keys("")...); err != nil {
		t.Fatal(err)
	}
	h.start(false)
	o.restore(1)
	if h.turn(o, true); len(o.feed["site-1"]) != 4 {
		t.Errorf("%d events", len(o.feed["site-1"]))
	}
	h.turn(o, true)
	wantSeen(t, o, PathMeet)
}

// So does one that forgot it and holds no more of a server than what was acknowledged.
func TestAPhoneThatForgotTheStoreLowersWhatWasAcknowledged(t *testing.T) {
	o, h := newOffice(), newHand(t)
	o.sites = nil
	lines := h.save(0, 3)
	h.turn(o, true)
	if err := h.pool.State().Drop(keyIncarnation); err != nil {
		t.Fatal(err)
	}
	h.start(false)
	o.restore(0)
	h.turn(o, true)
	if have := must(o.Upto(h.pool.Log().ID())); have != uint64(len(lines)) {
		t.Errorf("the server has %d of %d again", have, len(lines))
	}
}

func TestPicturesAloneAreOfferedAgain(t *testing.T) {
	o, h := newOffice(), newHand(t)
	content := []byte("a picture and no event")
	if err := h.pool.Pictures().Add(journal.Hash(content), content, "2026-03-04T12:00:00.000Z"); err != nil {
		t.Fatal(err)
	}
	h.turn(o, true)
	o.pictures = map[string]*partial{}
	o.restore(0)
	if h.turn(o, true); !o.whole(content) {
		t.Error("the picture is gone")
	}
}

// What a restored server lacks is handed in before a site is given back.
func TestALostSiteIsHandedInFirst(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true)
	o.puts(written(logB, 4)...)
	h.turn(o, true)
	o.restore(1)
	o.sites = nil
	if h.turn(o, true).turn(o, true); len(o.feed["site-1"]) != 4 || len(h.pool.Sites()) != 0 {
		t.Errorf("%d events, holds %v", len(o.feed["site-1"]), h.pool.Sites())
	}
}

// A mere push does not tell whether the server was restored: it gives no site back.
func TestAPushGivesNoSiteBack(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true)
	o.puts(written(logB, 4)...)
	h.turn(o, true)
	o.restore(1)
	o.sites = nil
	o.refuse[PathFill] = Reply{}
	h.turn(o, true)
	h.save(0, 1)
	if h.turn(o, false); len(h.left) != 0 || h.Standing().Unsent != 0 {
		t.Errorf("left %v, what it holds of the site was not handed in yet", h.left)
	}
	delete(o.refuse, PathFill)
	if h.turn(o, true).turn(o, true); len(o.feed["site-1"]) != 5 || len(h.pool.Sites()) != 0 {
		t.Errorf("%d events, holds %v", len(o.feed["site-1"]), h.pool.Sites())
	}
}

// A revoked device may not compare any more, so it cannot know what a restored server lacks.
func TestARevokedDeviceSendsAllOnceMore(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true).save(0, 3)
	h.turn(o, true)
	o.restore(0)
	o.refuse[PathMeet] = refusal(403, CodeRevoked)
	if h.turn(o, true); len(o.feed["site-1"]) != 3 {
		t.Errorf("%d events", len(o.feed["site-1"]))
	}
	h.turn(o, true)
	wantSeen(t, o, PathMeet)
	if len(h.left) != 0 {
		t.Errorf("claimed again, to be given back again: %v", h.left)
	}
}

// An event that was set aside for a fork is let in when it comes back itself, not when the other side does.
func TestTheOtherSideDoesNotLetInOurs(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true)
	o.puts(otherwise(h.Standing().Log, 2)...)
	own := h.save(0, 2)
	h.turn(o, true)
	h.turn(o, true)
	if n := h.Standing().Asides; n != 2 || len(h.added) != 0 {
		t.Errorf("%d set aside, %d came", n, len(h.added))
	}
	if clear(h.asides); h.covered(own[0]) {
		t.Error("the feed has another event under its number, and it counts as kept there")
	}
	h.start(false)
	o.puts(own...)
	if h.turn(o, true); h.Standing().Asides != 0 || !h.covered(own[0]) {
		t.Errorf("accepted: %+v", h.Standing())
	}
}

// A site whose files cannot be emptied is gone all the same, and that is told.
func TestASiteThatIsGoneIsToldThoughItsFileIsNotEmptied(t *testing.T) {
	o, h := newOffice(), badHand(t)
	h.turn(o, true)
	o.sites = nil
	h.fileOf("site:").BreakFor(badfile.CutError)
	if h.turn(o, true); !slices.Equal(h.left, []string{"site-1"}) || h.fault != journal.CodeWriteFailed {
		t.Errorf("left %v, %s", h.left, h.fault)
	}
}

// Where the cursor cannot be kept, what was pulled is there all the same, and is told.
func TestWhatIsKeptIsToldThoughTheCursorIsNot(t *testing.T) {
	o, h := newOffice(), badHand(t)
	h.turn(o, true)
	o.puts(written(logB, 2)...)
	h.Begin(true)
	for range 2 {
		r, _ := h.Next()
		if r.Method == methodGet {
			h.fileOf("state").BreakFor(badfile.Refused)
		}
		h.carry(o.answer(r))
	}
	if len(h.added) != 2 || h.fault != journal.CodeStorageFull {
		t.Errorf("%d told, %s", len(h.added), h.fault)
	}
}
