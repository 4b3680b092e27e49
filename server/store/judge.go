package store

import (
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// Ledger is one open transaction of an Events, as Judge, Accept and Settle need it. Events set aside are not in a feed.
type Ledger interface {
	// Hash is the hash of the event in a feed that stands for (log, seq), "" for none.
	Hash(log string, seq uint64) (string, error)
	// Prev is the prev of that event, "" for none.
	Prev(log string, seq uint64) (string, error)
	// Append keeps an event under the next n of each of the sites, of which the first is its own, and gives the
	// number of its fixture's events, this one included (0 without a fixture). beside: it does not stand for its (log, seq).
	Append(item *exchange.Incoming, beside bool, sites ...string) (uint64, error)
	// SetAside keeps a line apart; the same hash again is no second entry.
	SetAside(item *exchange.Incoming, code string) error
	// Apart is what was set aside under a hash; its N is 0 when nothing was.
	Apart(hash string) (Aside, error)
	// Resettle keeps an aside in its place N with what became of it.
	Resettle(aside Aside) error
	// Place is where a fixture is, as its moves told; the zero Place for one that never moved.
	Place(fixture string) (Place, error)
	// SetPlace keeps it.
	SetPlace(fixture string, place Place) error
	// Copy puts a fixture's events, but the first after of them and those of the site's own, into the site's feed too,
	// in the order of arrival.
	Copy(fixture string, after uint64, site string) error
}

// Judge takes one item in and says what became of it: the one set of rules for every Events. The item stays as it is.
//
// A hole in a log keeps nothing out of the feed. What is set aside counts as sent on the phone and does not come
// again, so an event must not be set aside for want of its neighbour; Upto shows the hole.
//
// What a person settled stays so: a line that was dismissed or amended is set aside again, whoever brings it. One that
// is still open and may now go into the feed is accepted by that. What was in a feed before a restore goes in again, beside
// what stands there where it forks or does not chain: a person had accepted it.
func Judge(l Ledger, item *exchange.Incoming) (exchange.Verdict, error) {
	v := exchange.Verdict{Log: item.Event.Log, Seq: item.Event.Seq}
	code, apart, err := judge(l, item)
	beside := item.Fed && (code == journal.CodeForked || code == CodeChain)
	if beside && apart.N == 0 && err == nil {
		if err = l.SetAside(item, code); err == nil { // by its hash it is known again
			apart, err = l.Apart(item.Hash)
		}
	}
	switch {
	case err != nil:
		return v, err
	case code == exchange.Duplicate:
		v.Is = exchange.Duplicate
		return v, nil
	case code != "" && !beside:
		v.Is, v.Code = exchange.Aside, code
		return v, l.SetAside(item, code)
	}
	v.Is = exchange.Applied
	if err := enter(l, item, beside); err != nil || apart.N == 0 {
		return v, err
	}
	apart.Settled = &Settlement{How: Accepted, At: item.Receipt.At}
	return v, l.Resettle(apart)
}

// judge gives exchange.Duplicate, the code to set the item aside with, or "" when it may go into the feed; then also what
// was set aside under its hash.
func judge(l Ledger, item *exchange.Incoming) (code string, apart Aside, err error) {
	e := &item.Event
	if e.Log == "" || e.Seq == 0 || e.About.Site == "" {
		if item.Aside == "" {
			return journal.CodeBadLine, apart, nil
		}
		return item.Aside, apart, nil
	}
	known, err := l.Hash(e.Log, e.Seq)
	if err != nil || known == item.Hash {
		return exchange.Duplicate, apart, err
	}
	if apart, err = l.Apart(item.Hash); err != nil {
		return "", apart, err
	}
	switch {
	case apart.Settled != nil && apart.Settled.How == Accepted:
		return exchange.Duplicate, apart, nil
	case apart.Settled != nil:
		return apart.Code, apart, nil
	case item.Aside != "":
		return item.Aside, apart, nil
	case known != "":
		return journal.CodeForked, apart, nil
	}
	fits, err := chains(l, item)
	if err != nil || fits {
		return "", apart, err
	}
	return CodeChain, apart, nil
}

// chains holds when the event fits the one before it and the one after it in its log, as far as these are in a feed.
func chains(l Ledger, item *exchange.Incoming) (bool, error) {
	e := &item.Event
	before, err := l.Hash(e.Log, e.Seq-1)
	if err != nil {
		return false, err
	}
	after, err := l.Prev(e.Log, e.Seq+1)
	if err != nil {
		return false, err
	}
	return (before == "" || before == e.Prev) && (after == "" || after == item.Hash), nil
}
