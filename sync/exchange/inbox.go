package exchange

import "jointwalk/sync/journal"

// Shelf is where pulled pairs are kept; *journal.Feed is one.
type Shelf interface {
	Append(pairs []journal.Pair) ([]journal.Pair, error)
	Len() int
	Mark() string
}

// Inbox is the phone's side of pulling one site.
type Inbox struct{}

// NewInbox is the inbox of site. own says whether a log is this device's own (journal.Log.Owns).
func NewInbox(site string, shelf Shelf, notes Notes, own func(log string) bool) *Inbox {
	panic("exchange: not built yet")
}

// Cursor is where the next pull begins, "" for the beginning. It is "" also when the shelf has lost something since the cursor was kept.
func (i *Inbox) Cursor() string { panic("exchange: not built yet") }

// Slice is what one pull brought.
type Slice struct {
	Added  []journal.Pair // new here, events of other devices
	Own    []journal.Pair // this device's own events coming back with their receipts, new here
	Cursor string
	More   bool // ask again at once
}

// Apply keeps a slice: first the pairs, flushed, then the cursor. Applying it again adds nothing.
// Errors: CodeBadPull when body is not whole (nothing is kept), and those of a write.
func (i *Inbox) Apply(body []byte) (Slice, error) { panic("exchange: not built yet") }

// Forget drops the cursor of a site that this phone no longer holds.
func (i *Inbox) Forget() error { panic("exchange: not built yet") }
