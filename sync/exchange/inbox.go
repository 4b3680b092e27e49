package exchange

import (
	"encoding/json"

	"jointwalk/sync/journal"
	"jointwalk/sync/lightjson"
)

// cursorPrefix is where an Inbox keeps its cursor, followed by the site.
const cursorPrefix = "cursor:"

// Shelf is where pulled pairs are kept; *journal.Feed is one.
type Shelf interface {
	// Append keeps, flushed, the pairs not held yet and gives those back.
	Append(pairs []journal.Pair) ([]journal.Pair, error)
	// Len is the number of pairs held. Mark changes when the shelf begins anew.
	Len() int
	Mark() string
}

// Inbox is the phone's side of pulling one site.
type Inbox struct {
	site  string
	shelf Shelf
	notes Notes
}

// bookmark is a cursor with what the shelf held when it was kept.
type bookmark struct {
	Cursor string `json:"cursor"`
	Mark   string `json:"mark"`
	Held   int    `json:"held"`
}

// NewInbox is the inbox of site.
func NewInbox(site string, shelf Shelf, notes Notes) *Inbox {
	return &Inbox{site: site, shelf: shelf, notes: notes}
}

// Cursor is where the next pull begins, "" for the beginning. It is "" also when the shelf has lost
// something since the cursor was kept: then all is pulled again and what is held is passed over.
func (i *Inbox) Cursor() string {
	raw, ok := i.notes.Get(cursorPrefix + i.site)
	if !ok {
		return ""
	}
	var b bookmark
	if lightjson.Unmarshal(raw, &b) != nil || b.Mark != i.shelf.Mark() || b.Held > i.shelf.Len() {
		return ""
	}
	return b.Cursor
}

// Slice is what one pull brought.
type Slice struct {
	Added  []journal.Pair // new here; this device's own come back with their receipts
	Cursor string
	More   bool // ask again at once
	Passed int  // events of the feed that the cursor went over
}

// Apply keeps a slice: first the pairs, flushed, then the cursor. Applying it again adds nothing.
// Errors: CodeBadPull when body is not whole (nothing is kept), and those of a write (what was kept
// of the pairs stays; the cursor does not move).
func (i *Inbox) Apply(body []byte) (Slice, error) {
	pairs, end, err := parseSlice(body)
	if err != nil {
		return Slice{}, err
	}
	added, err := i.shelf.Append(pairs)
	if err != nil {
		return Slice{}, err
	}
	slice := Slice{Added: added, Cursor: end.Cursor, More: *end.More, Passed: len(pairs) + end.Skipped}
	return slice, i.keep(end.Cursor)
}

func (i *Inbox) keep(cursor string) error {
	if cursor == i.Cursor() {
		return nil
	}
	raw, err := lightjson.Marshal(bookmark{Cursor: cursor, Mark: i.shelf.Mark(), Held: i.shelf.Len()})
	if err != nil {
		return err
	}
	return i.notes.Put(map[string]json.RawMessage{cursorPrefix + i.site: raw})
}

// Forget drops the cursor of a site that this phone no longer holds.
func (i *Inbox) Forget() error {
	return i.notes.Put(map[string]json.RawMessage{cursorPrefix + i.site: nil})
}
