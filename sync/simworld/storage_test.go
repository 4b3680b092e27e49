package simworld

import (
	"bytes"
	"slices"
	"time"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/journal/badfile"
)

// What happens to a phone's files as a whole.

// evict is the browser that throws away all of an origin, mostly its session too.
func (h *handset) evict() {
	h.shut()
	h.w.fault("eviction")
	h.w.losing(h, func() { h.files = nil })
	h.draft, h.copied = nil, nil
	if h.w.chance(2) {
		h.w.fault("eviction without session")
		h.token = "none"
	}
}

// snap copies the phone, as a backup of it does.
func (h *handset) snap() {
	if h.files == nil || h.phone != nil || slices.Contains(h.files, nil) {
		return
	}
	h.copied = &snapshot{draft: h.draft}
	for _, d := range h.files {
		h.copied.files = append(h.copied.files, d.file.Crash(0).Bytes())
	}
	h.w.note("%s copied", h.name)
}

// goBack puts an older copy of a phone in its place.
func (h *handset) goBack() {
	if h.copied == nil {
		return
	}
	h.shut()
	h.w.fault("snapshot restored")
	h.w.losing(h, func() {
		for i, data := range h.copied.files {
			h.files[i] = &disk{file: badfile.New(data)}
		}
	})
	h.draft = h.copied.draft
}

// loseFile lets one file of the pool be gone at the next start.
func (h *handset) loseFile() {
	if h.files == nil {
		return
	}
	h.shut()
	h.w.fault("pool file gone")
	at := h.w.rng.IntN(len(h.files))
	for try := 0; try < 4 && (h.files[at] == nil || len(h.files[at].file.Bytes()) == 0); try++ {
		at = h.w.rng.IntN(len(h.files)) // rather one that holds something
	}
	h.w.losing(h, func() { h.files[at] = &disk{file: badfile.New(nil), late: true} })
	h.files[at] = nil
	h.draft = nil
}

// secondTab opens the app a second time. The first tab holds the files; the second is refused, and takes over by one
// button: then the first one's handles are closed, while it still believes.
func (h *handset) secondTab() {
	if h.phone == nil || h.frozen {
		return
	}
	h.w.fault("second tab refused") // the exclusive handle is had by one only
	pool, phone, hold := h.pool, h.phone, h.hold
	h.w.fault("second tab took over")
	h.shut()
	h.open()
	h.w.after(h.w.between(0, time.Minute), func() {
		h.w.fault("old tab wrote")
		if !hold.closed {
			h.w.broken("two tabs hold the files of %s", h.name)
		}
		_, err := pool.Log().Append([]journal.Draft{{ID: h.w.newID(), Time: h.clock().UTC().Format(journal.TimeLayout), Zone: "UTC", By: h.person.id,
			About: journal.About{Site: "site-1"}, Kind: kindFuture, Body: map[string]int{}}})
		if err == nil {
			h.w.broken("the old tab of %s called saved what it cannot keep", h.name)
		}
		phone.Begin(true)
		if request, some := phone.Next(); some {
			phone.Took(h.w.server.handle(h.token, request))
		}
		if err := pool.Pictures().Add(journal.Hash([]byte("x")), []byte("x"), begun.Format(journal.TimeLayout)); err == nil {
			h.w.broken("the old tab of %s called a picture saved", h.name)
		}
	})
}

// seekUnfinished notes a snapshot of the state that a crash cut off before its end mark.
func (h *handset) seekUnfinished() {
	for _, d := range h.files {
		data := d.file.Bytes()
		if bytes.Contains(data, []byte(`"stream":"state"`)) && !bytes.Contains(data, []byte(`{"whole":true}`)) {
			h.w.reached("restart found state without end")
		}
	}
}

var _ = exchange.Reached
