package store

import (
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// What a person made of a line that was set aside.
const (
	Accepted  = "accepted"  // it went into the feed as it is
	Dismissed = "dismissed" // it stays out
	Amended   = "amended"   // it stays out; what was meant came as another event
)

// Settlement says what became of a line that was set aside.
type Settlement struct {
	How string `json:"how"` // Accepted, Dismissed or Amended
	By  string `json:"by"`  // person id, "" for the server itself
	At  string `json:"at"`  // the server's clock, journal.TimeLayout
}

// Accept is the rule of Events.Accept for every Events.
func Accept(l Ledger, hash string, settled Settlement) error {
	settled.How = Accepted
	return settle(l, hash, settled, func(apart Aside) error {
		event, err := journal.Parse(apart.Line)
		if err != nil {
			return &Fault{Code: journal.CodeBadLine, Cause: err}
		}
		item := &exchange.Incoming{Line: apart.Line, Event: event, Hash: hash, Receipt: apart.Receipt, To: apart.To}
		known, err := l.Hash(event.Log, event.Seq)
		if err != nil || known == hash {
			return err
		}
		fits, err := chains(l, item)
		if err != nil {
			return err
		}
		return enter(l, item, known != "" || !fits)
	})
}

// Settle is the rule of Events.Settle for every Events.
func Settle(l Ledger, hash string, settled Settlement) error {
	if settled.How != Dismissed && settled.How != Amended {
		return &Fault{Code: CodeBadSettlement}
	}
	return settle(l, hash, settled, func(Aside) error { return nil })
}

// settle settles what is open, after do.
func settle(l Ledger, hash string, settled Settlement, do func(Aside) error) error {
	apart, err := l.Apart(hash)
	switch {
	case err != nil:
		return err
	case apart.N == 0:
		return ErrNoAside
	case apart.Settled != nil:
		return nil
	}
	if err := do(apart); err != nil {
		return err
	}
	apart.Settled = &settled
	return l.Resettle(apart)
}
