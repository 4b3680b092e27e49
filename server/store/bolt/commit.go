package bolt

import (
	"go.etcd.io/bbolt"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
)

// commit takes a group of pushes into one transaction.
func (e *events) commit(group []*push) error {
	count := 0
	for _, p := range group {
		count += len(p.items)
	}
	return e.write(count, func(l *ledger) error { return l.take(group) })
}

// take judges all items of a group.
func (l *ledger) take(group []*push) error {
	for _, p := range group {
		p.verdicts = make([]exchange.Verdict, len(p.items))
		for i := range p.items {
			var err error
			if p.verdicts[i], err = store.Judge(l, &p.items[i]); err != nil {
				return err
			}
		}
	}
	return nil
}

// Accept puts what was set aside into the feeds.
func (e *events) Accept(hash string, settled store.Settlement) error {
	return e.write(1, func(l *ledger) error { return store.Accept(l, hash, settled) })
}

// Settle keeps that a line stays set aside.
func (e *events) Settle(hash string, settled store.Settlement) error {
	return e.write(1, func(l *ledger) error { return store.Settle(l, hash, settled) })
}

// write changes about so many events in one transaction and, when it is on disk, tells those who watch. Writers come one by
// one, so that nobody is told of an earlier n after a later one.
func (e *events) write(count int, do func(*ledger) error) error {
	e.telling.Lock()
	defer e.telling.Unlock()
	var grown []store.Changed
	err := e.file.update(func(tx *bbolt.Tx) error {
		l := newLedger(tx, count)
		if err := do(l); err != nil {
			return err
		}
		grown = l.grown()
		return l.flush()
	})
	if err != nil {
		return err
	}
	e.hub.Tell(grown...)
	return nil
}
