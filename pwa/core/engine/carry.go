package engine

import (
	"encoding/json"
	"slices"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/lightjson"
)

// Next is what to carry to the server; false when the turn is over.
func (e *Engine) Next() (exchange.Request, bool) { return e.phone.Next() }

// Took takes what came back for it, and folds what is new.
func (e *Engine) Took(reply exchange.Reply) Taken {
	news := e.phone.Took(reply)
	if news.Me != nil {
		e.meet(news.Me)
	}
	for _, site := range news.Left {
		e.giveBack(e.book.DropSite(site))
	}
	if len(news.Left) > 0 {
		e.sweep()
	}
	e.takePairs(news.Added)
	return Taken{Changed: len(news.Added)+len(news.Left) > 0 || news.Me != nil, Fault: news.Fault}
}

// mostPhotos bounds what is held of photos that others took, in bytes: two of the sixteen files, at 4 MiB of pictures each, which
// the records take back when they want them. A photo has at most 1,600 pixels a side, a few hundred kB, so that this does for a
// plant's fixtures; of more, those photographed last are held. Judgement, no source.
const mostPhotos = 8 << 20

// photos are those that this device is to hold.
func (e *Engine) photos() []string { return e.book.Photos(mostPhotos) }

// giveBack takes photos off this device: their fixtures are nobody's here any more. Those that the server has not got yet stay.
func (e *Engine) giveBack(photos []string) {
	for _, picture := range e.pool.Pictures().List() {
		if picture.Confirmed && slices.Contains(photos, picture.Hash) {
			_ = e.pool.Pictures().Drop(picture.Hash) // where it cannot be overwritten now, the next start does it
		}
	}
}

// begin begins a turn.
func (e *Engine) begin(b Begin) (Nothing, error) {
	if b.Resume {
		e.phone.Resume()
	}
	e.phone.Begin(b.Whole)
	return Nothing{}, nil
}

// stop ends the turn under way, and pauses.
func (e *Engine) stop() (Nothing, error) {
	e.phone.Stop()
	return Nothing{}, nil
}

// meet takes up who this device belongs to, as the server said it.
func (e *Engine) meet(raw json.RawMessage) {
	var me Me
	if lightjson.Unmarshal(raw, &me) != nil {
		return // the server of a later day; what is known stays
	}
	e.told = &me
	e.seat()
}

// export gives a part of what the server has not acknowledged, one event a line.
func (e *Engine) export(from From) (Exported, error) {
	lines, more, err := e.phone.Export(from.After)
	var text []byte
	for _, line := range lines {
		text = append(append(text, line...), '\n')
	}
	return Exported{Lines: string(text), Next: from.After + len(lines), More: more}, err
}

// older keeps and folds what the server gave of a fixture's older rounds. Errors: CodeUnknownSite,
// exchange.CodeBadPull, those of a write.
func (e *Engine) older(b Body) (Taken, error) {
	if e.me == nil || !slices.ContainsFunc(e.me.Sites, func(s Site) bool { return s.ID == b.Site }) {
		return Taken{}, &Fault{Code: CodeUnknownSite, Field: "site"}
	}
	pairs, err := e.phone.Older(b.Site, []byte(b.Text))
	e.takePairs(pairs)
	return Taken{Changed: len(pairs) > 0}, err
}

func (e *Engine) takePairs(pairs []journal.Pair) {
	for _, pair := range pairs {
		e.takePair(pair)
	}
	e.clear()
}
