package store

import (
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// Ledger is one open transaction of an Events, as Judge needs it. Events set aside are not in a feed.
type Ledger interface {
	// Hash is the hash of the event in a feed under (log, seq), "" for none.
	Hash(log string, seq uint64) (string, error)
	// Prev is the prev of that event, "" for none.
	Prev(log string, seq uint64) (string, error)
	// Append keeps an event under its site's next n.
	Append(item exchange.Incoming) error
	// SetAside keeps a line apart; the same hash again is no second entry.
	SetAside(item exchange.Incoming, code string) error
}

// Judge takes one item in and says what became of it: the one set of rules for every Events.
//
// A hole in a log keeps nothing out of the feed. What is set aside counts as sent on the phone and does not come
// again, so an event must not be set aside for want of its neighbour; Upto shows the hole.
func Judge(l Ledger, item exchange.Incoming) (exchange.Verdict, error) {
	e := item.Event
	v := exchange.Verdict{Log: e.Log, Seq: e.Seq}
	code, err := judge(l, item)
	switch {
	case err != nil:
		return v, err
	case code == exchange.Duplicate:
		v.Is = exchange.Duplicate
		return v, nil
	case code != "":
		v.Is, v.Code = exchange.Aside, code
		return v, l.SetAside(item, code)
	}
	v.Is = exchange.Applied
	return v, l.Append(item)
}

// judge gives exchange.Duplicate, the code to set the item aside with, or "" when it may go into the feed.
func judge(l Ledger, item exchange.Incoming) (string, error) {
	e := item.Event
	if e.Log == "" || e.Seq == 0 || e.About.Site == "" {
		if item.Aside == "" {
			return journal.CodeBadLine, nil
		}
		return item.Aside, nil
	}
	known, err := l.Hash(e.Log, e.Seq)
	switch {
	case err != nil:
		return "", err
	case known == item.Hash:
		return exchange.Duplicate, nil
	case item.Aside != "":
		return item.Aside, nil
	case known != "":
		return journal.CodeForked, nil
	}
	return chain(l, item)
}

// chain is CodeChain when the event does not fit the one before it or the one after it in its log, as far
// as these are in a feed.
func chain(l Ledger, item exchange.Incoming) (string, error) {
	e := item.Event
	before, err := l.Hash(e.Log, e.Seq-1)
	if err != nil {
		return "", err
	}
	after, err := l.Prev(e.Log, e.Seq+1)
	if err != nil {
		return "", err
	}
	if before != "" && before != e.Prev || after != "" && after != item.Hash {
		return CodeChain, nil
	}
	return "", nil
}
