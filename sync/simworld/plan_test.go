package simworld

import (
	"errors"
	"slices"
	"time"

	"jointwalk/sync/journal"
	"jointwalk/sync/journal/badfile"
)

// plan lets people use their phones and things go wrong, until the faulty part of the story is over.
func (w *world) plan() {
	for _, h := range w.phones {
		w.after(w.between(0, time.Hour), h.visit)
	}
	w.after(w.between(0, time.Hour), w.supervise)
	w.after(w.between(0, 12*time.Hour), w.copyServer)
	w.after(w.between(0, 2*time.Hour), w.goWrong)
}

// visit is one time that somebody takes the phone in the hand.
func (h *handset) visit() {
	w := h.w
	if w.quiet {
		return
	}
	if h.frozen {
		h.thaw()
	}
	h.open()
	if h.phone != nil {
		h.signIn()
		h.begin(true)
	}
	at := time.Duration(0)
	for range w.rng.IntN(12) {
		at += w.between(time.Second, 4*time.Minute)
		w.after(at, h.doSomething)
	}
	w.after(at+w.between(time.Second, 5*time.Minute), h.putAway)
	w.after(w.between(20*time.Minute, 30*time.Hour), h.visit)
}

// doSomething is one thing that somebody does.
func (h *handset) doSomething() {
	if h.phone == nil || h.frozen || h.w.quiet {
		return
	}
	switch n := h.w.rng.IntN(20); {
	case n < 13:
		h.save(1 + h.w.rng.IntN(3))
	case n < 15:
		h.savePicture()
	case n < 16:
		h.withdrawPicture()
	case n < 17:
		h.keepDraft()
	case n < 18 && h.w.chance(8):
		h.saveMuch()
	case n < 18 && h.w.chance(8):
		h.secondTab()
	case n < 19 && h.w.chance(2):
		h.stop()
	default:
		h.phone.Resume()
		h.begin(true)
	}
}

// save saves what stands on the screen and something new.
func (h *handset) save(n int) {
	if h.phone.Standing().Revoked {
		return // capture is closed, with the reason
	}
	if h.slip { // a wrong byte among several lines, and the power goes before they are read back: by chance alone that is too rare
		n, h.slip, h.power.Left = 4, false, 1
		for _, d := range h.files {
			d.file.Break(badfile.Flipped)
		}
	}
	for range n {
		if d, some := h.capture(); some {
			h.screen = append(h.screen, d)
		}
	}
	h.saveScreen()
}

func (h *handset) saveScreen() {
	var drafts []journal.Draft
	for _, d := range h.screen {
		drafts = append(drafts, d.Draft)
	}
	lines, err := h.pool.Log().Append(drafts)
	if h.died() {
		h.screen = nil
		return
	}
	if err != nil {
		h.told(err)
		return
	}
	for i, line := range lines {
		h.w.truth.save(h, line)
		h.w.tally.events++
		h.screen[i].kept(h.screen[i].ID)
		h.w.read(h.book, line, h.old)
	}
	h.learn(lines...)
	if h.phone == nil {
		h.screen = nil
		return // it died over what it dropped
	}
	h.w.note("%s saved %d, up to %d", h.name, len(lines), h.pool.Log().Seq())
	h.screen = nil
	h.begin(false)
}

// told is a write that the phone refused with words: what was to be kept stays on the screen.
func (h *handset) told(err error) {
	h.w.note("%s does not keep it: %v", h.name, err)
	if journal.CodeOf(err) == journal.CodeStorageFull {
		h.w.reached("phone full told")
	}
}

// saveMuch fills a file of the log: long notes.
func (h *handset) saveMuch() {
	for range 9 {
		for range 8 {
			if d, some := h.capture(); some {
				d.Kind, d.V, d.Body, d.Base, d.kept = kindFuture, 2, map[string]string{"note": h.w.text(12_000)}, "", func(string) {}
				h.screen = append(h.screen, d)
			}
		}
		if h.saveScreen(); h.phone == nil || len(h.screen) > 0 {
			h.screen = nil
			return
		}
	}
}

// keepDraft keeps what somebody is typing.
func (h *handset) keepDraft() {
	text := h.w.text(5000 + h.w.rng.IntN(90_000))
	before := h.draft
	h.draft = nil // until it is known which of the two is kept
	err := h.pool.State().Set("draft", text)
	switch {
	case h.died():
	case err != nil:
		h.told(err)
		h.draft = before
	default:
		h.draft = &text
	}
}

// stop is somebody who has no time for what the phone is at.
func (h *handset) stop() {
	if h.asking == nil {
		return
	}
	h.w.fault("stopped by a person")
	h.phone.Stop()
	h.asking = nil
	h.pump()
}

// putAway is how a visit ends: most phones stay in a pocket, some apps are closed, some are killed.
func (h *handset) putAway() {
	if h.phone == nil || h.w.quiet {
		return
	}
	switch h.w.rng.IntN(6) {
	case 0:
		h.w.fault("worker killed")
		h.shut()
	case 1:
		h.w.fault("power cut")
		h.powerless()
	case 2, 3:
		h.w.fault("frozen")
		h.frozen = true
	default:
		h.w.note("%s closed", h.name)
		h.shut()
	}
	if h.old && h.w.chance(4) {
		h.update()
	}
}

// update gives an old reader the newest table of kinds, which takes a start.
func (h *handset) update() {
	h.old = false
	h.shut()
	h.w.reached("old reader updated")
}

// thaw is the return to view. Handles may have died meanwhile: the pool notices, and is opened anew.
func (h *handset) thaw() {
	h.frozen = false
	if h.phone == nil {
		return
	}
	dead := !h.w.quiet && h.w.chance(3)
	if dead {
		h.w.fault("handles died")
		h.hold.closed = true
	}
	err := h.pool.Check()
	if h.died() {
		return
	}
	if dead && err == nil {
		h.w.broken("%s did not notice that its handles died", h.name)
	}
	if err != nil {
		h.shut()
		h.open()
		return
	}
	if h.asking != nil {
		h.asking.giveUp()
	}
	h.begin(true)
}

// supervise lets some of what was set aside into the feeds.
func (w *world) supervise() {
	if w.quiet {
		return
	}
	w.after(w.between(time.Hour, 48*time.Hour), w.supervise)
	if !w.server.up || w.server.full {
		return
	}
	for _, aside := range must(w.server.vault.events.Asides(0, 1<<20)) {
		if aside.Settled != nil || aside.Log == "" || w.rng.IntN(3) > 0 {
			continue
		}
		err := w.accept(aside.Hash)
		if errors.Is(err, errDied) {
			return
		}
		must(0, err)
		w.reached("set-aside accepted")
		if aside.Code == journal.CodeForked {
			w.reached("set-aside accepted beside a fork")
		}
	}
}

func (w *world) copyServer() {
	if !w.quiet {
		w.server.backUp()
		w.after(w.between(6*time.Hour, 3*24*time.Hour), w.copyServer)
	}
}

// goWrong makes something go wrong now, and again later.
func (w *world) goWrong() {
	if w.quiet {
		return
	}
	pick(w, w.wrongs())()
	w.after(w.between(10*time.Minute, 16*time.Hour), w.goWrong)
}

// wrongs are the things that go wrong by themselves.
func (w *world) wrongs() []func() {
	h := pick(w, w.phones)
	return []func(){
		h.evict, h.snap, h.snap, h.goBack, h.goBack, h.fill, h.flaw, h.loseFile, h.loseFile, h.jump, h.loseNetwork, h.loseNetwork, h.linkSlow,
		w.server.dieAtCommit, w.server.dieAtCommit, w.server.fillUp, w.server.restore, w.expireSession, w.revokeDevice, w.loseSite, w.gainSite, w.gainSite, w.handOn, h.forge,
	}
}

func (s *server) dieAtCommit() { s.dies = []moment{before, after}[s.w.rng.IntN(2)] }

func (s *server) fillUp() {
	s.w.fault("server full")
	s.full = true
	s.w.after(s.w.between(time.Minute, 12*time.Hour), func() { s.full = false })
}

func (h *handset) loseNetwork() {
	h.w.fault("partition")
	h.cutUntil = h.w.now.Add(h.w.between(10*time.Minute, 72*time.Hour))
}

func (h *handset) linkSlow() {
	h.w.fault("slow link")
	h.slow = true
	h.w.after(h.w.between(time.Hour, 24*time.Hour), func() { h.slow = false })
}

func (h *handset) jump() {
	jumps := []struct {
		name string
		by   time.Duration
	}{{"clock ±5 min", 5 * time.Minute}, {"clock ±24 h", 24 * time.Hour}, {"clock −10 years", -10 * 365 * 24 * time.Hour}, {"", 0}}
	j := pick(h.w, jumps)
	if j.name == "" {
		h.skew = 0 // set right again
		return
	}
	h.w.fault(j.name)
	if j.by > 0 && h.w.chance(2) {
		j.by = -j.by
	}
	h.skew = max(h.skew+j.by, -11*365*24*time.Hour)
}

// flaw lets one call go wrong, once in each file.
func (h *handset) flaw() {
	flaws := []struct {
		name string
		flaw []badfile.Flaw
	}{{"flush failed", []badfile.Flaw{badfile.SyncError}}, {"flush lost", []badfile.Flaw{badfile.SilentLoss}},
		{"wrong byte written", []badfile.Flaw{badfile.Flipped}}, {"cut failed", []badfile.Flaw{badfile.ShortCount, badfile.CutError}}}
	f := pick(h.w, flaws)
	h.w.fault(f.name)
	for _, d := range h.files {
		if d != nil {
			d.file.Break(slices.Clone(f.flaw)...)
		}
	}
	h.slip = f.flaw[0] == badfile.Flipped && h.w.chance(2)
}

// fill fills the disk: writes come out short, with or without a true count.
func (h *handset) fill() {
	full := []struct {
		name string
		flaw badfile.Flaw
	}{{"phone full: short count", badfile.ShortCount}, {"phone full: lying count", badfile.LyingCount}, {"phone full: refused", badfile.Refused}}
	f := pick(h.w, full)
	h.w.fault(f.name)
	h.setFlaws(f.flaw)
	h.w.after(h.w.between(time.Minute, 6*time.Hour), func() { h.setFlaws() })
}

func (h *handset) setFlaws(flaws ...badfile.Flaw) {
	h.flaws = flaws
	for _, d := range h.files {
		if d != nil {
			d.file.BreakFor(flaws...)
		}
	}
}
