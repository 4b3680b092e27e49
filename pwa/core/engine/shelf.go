package engine

import "jointwalk/sync/summary"

// keyShelf is where the state keeps the cards of fixtures.
const keyShelf = "shelf"

// shelf is the cards as an app of this version made them: another's may say other things of the same lines.
type shelf struct {
	App string `json:"app"`
	summary.Shelf
}

// takeDown reads the cards that an earlier start kept; none where they cannot be read.
func (e *Engine) takeDown() *summary.Shelf {
	var kept shelf
	if there, err := e.pool.State().Load(keyShelf, &kept); !there || err != nil || kept.App != e.env.App {
		return &summary.Shelf{}
	}
	return &kept.Shelf
}

// putUp keeps the cards for the next start where some are new. What cannot be written now is made anew then.
func (e *Engine) putUp() {
	if !e.shelf.New {
		return
	}
	e.shelf.New = false
	held := map[string]summary.Shelved{}
	for _, id := range e.book.IDs() {
		if kept, ok := e.shelf.Cards[id]; ok {
			held[id] = kept
		}
	}
	_ = e.pool.State().Set(keyShelf, shelf{e.env.App, summary.Shelf{Cards: held}})
}

// sweep takes the cards away, since some are of a site that this device has left.
func (e *Engine) sweep() {
	*e.shelf = summary.Shelf{}
	_ = e.pool.State().Drop(keyShelf)
}
