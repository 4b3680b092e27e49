package simworld

import (
	"time"

	"jointwalk/server/store"
	"jointwalk/sync/journal"
)

// settle is the end of the story: the last fault is over, people have their phones in the hand, and within settleTime
// everything must have come right by itself.
func (w *world) settle() {
	w.note("quiet")
	w.quiet = true
	w.tally.lasted = w.now.Sub(begun)
	s := w.server
	s.full, s.dies = false, never
	s.start()
	for _, h := range w.phones {
		h.mend()
	}
	w.run(w.now.Add(settleTime))
	w.holdLaws()
}

// mend ends what is wrong with a phone. Whoever was signed out signs in; whoever had it closed opens it.
func (h *handset) mend() {
	h.setFlaws()
	h.cutUntil, h.slow = time.Time{}, false
	if h.power != nil {
		h.power.Left = 1 << 40
	}
	if h.old {
		h.update()
	}
	if h.frozen {
		h.thaw()
	}
	if h.asking != nil {
		h.asking.giveUp() // the broken connection is noticed
	}
	h.signIn()
	if h.phone != nil {
		h.phone.Resume()
	}
	h.w.after(h.w.between(0, 20*time.Second), h.open)
}

// accept is a supervisor's word.
func (w *world) accept(hash string) error {
	defer w.server.forgetDropped()
	return w.server.album.Events().Accept(hash, store.Settlement{By: "person-1", At: w.now.UTC().Format(journal.TimeLayout)})
}
