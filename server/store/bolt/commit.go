package bolt

import (
	"bytes"
	"encoding/json"
	"errors"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// commit takes a group of pushes into one transaction and, when it is on disk, tells those who watch.
func (e *events) commit(group []*push) error {
	grown := map[string]uint64{}
	err := e.file.update(func(tx *bbolt.Tx) error {
		l := newLedger(tx, grown)
		for _, p := range group {
			p.verdicts = make([]exchange.Verdict, len(p.items))
			for i, item := range p.items {
				var err error
				if p.verdicts[i], err = store.Judge(l, item); err != nil {
					return err
				}
			}
		}
		return nil
	})
	if err != nil {
		return err
	}
	changes := make([]store.Changed, 0, len(grown))
	for site, n := range grown {
		changes = append(changes, store.Changed{Site: site, N: n})
	}
	e.hub.Tell(changes...)
	return nil
}

// ledger is one transaction as store.Judge needs it.
type ledger struct {
	events, heads, logs, upto, fixtures, asides, apart *bbolt.Bucket
	grown                                              map[string]uint64 // site → n, of what was appended
}

func newLedger(tx *bbolt.Tx, grown map[string]uint64) *ledger {
	l := &ledger{
		events: tx.Bucket(bucketEvents), heads: tx.Bucket(bucketHeads), logs: tx.Bucket(bucketLogs), upto: tx.Bucket(bucketUpto),
		fixtures: tx.Bucket(bucketFixtures), asides: tx.Bucket(bucketAsides), apart: tx.Bucket(bucketApart), grown: grown,
	}
	for _, b := range []*bbolt.Bucket{l.events, l.logs, l.fixtures, l.asides} {
		b.FillPercent = 0.9 // keys of one name come in order
	}
	return l
}

// held gives the hash of the event in a feed under (log, seq), and its key in events; nothing for one set aside.
func (l *ledger) held(log string, seq uint64) (hash string, at []byte, err error) {
	key := numbered(log, seq)
	sealed := l.logs.Get(key)
	if sealed == nil {
		return "", nil, nil
	}
	raw, err := unseal(key, sealed)
	if err != nil {
		return "", nil, err
	}
	first, at, _ := bytes.Cut(raw, []byte{'\n'})
	return string(first), at, nil
}

func (l *ledger) Hash(log string, seq uint64) (string, error) {
	hash, _, err := l.held(log, seq)
	return hash, err
}

func (l *ledger) Prev(log string, seq uint64) (string, error) {
	_, at, err := l.held(log, seq)
	if at == nil || err != nil {
		return "", err
	}
	pair, err := readPair(at, l.events.Get(at))
	if err != nil {
		return "", err
	}
	event, err := journal.Parse(pair.Line)
	if err != nil {
		return "", damaged(err)
	}
	return event.Prev, nil
}

func (l *ledger) Append(item exchange.Incoming) error {
	site, log, seq := item.Event.About.Site, item.Event.Log, item.Event.Seq
	last, err := getNumber(l.heads, []byte(site))
	if err != nil {
		return err
	}
	item.Receipt.N = last + 1
	at := numbered(site, last+1)
	pair, err := writePair(at, store.Stored{Line: item.Line, Receipt: item.Receipt})
	if err != nil {
		return err
	}
	key := numbered(log, seq)
	ref := seal(key, append([]byte(item.Hash+"\n"), at...))
	err = errors.Join(l.events.Put(at, pair), putNumber(l.heads, []byte(site), last+1), l.logs.Put(key, ref), l.index(item.Event.About.Fixture, at))
	if err != nil {
		return err
	}
	l.grown[site] = last + 1
	return l.advance(log)
}

// index notes that a fixture has the event at a key.
func (l *ledger) index(fixture string, at []byte) error {
	if fixture == "" {
		return nil
	}
	count, err := getNumber(l.fixtures, numbered(fixture, 0))
	if err != nil {
		return err
	}
	key := numbered(fixture, count+1)
	return errors.Join(l.fixtures.Put(key, seal(key, at)), putNumber(l.fixtures, numbered(fixture, 0), count+1))
}

func (l *ledger) SetAside(item exchange.Incoming, code string) error {
	if err := l.see(item.Event.Log, item.Event.Seq); err != nil || l.apart.Get([]byte(item.Hash)) != nil {
		return err
	}
	n, err := l.asides.NextSequence()
	if err != nil {
		return err
	}
	raw, err := json.Marshal(store.AsideOf(n, item, code))
	if err != nil {
		return err
	}
	return errors.Join(l.asides.Put(number(n), seal(number(n), raw)), l.apart.Put([]byte(item.Hash), number(n)))
}

// see notes that (log, seq) is here, though in no feed.
func (l *ledger) see(log string, seq uint64) error {
	if log == "" {
		return nil
	}
	key := numbered(log, seq)
	if l.logs.Get(key) != nil {
		return nil
	}
	if err := l.logs.Put(key, seal(key, nil)); err != nil {
		return err
	}
	return l.advance(log)
}

// advance moves the frontier of a log over what is here.
func (l *ledger) advance(log string) error {
	before, err := getNumber(l.upto, []byte(log))
	if err != nil {
		return err
	}
	n := before
	for l.logs.Get(numbered(log, n+1)) != nil {
		n++
	}
	if n == before {
		return nil
	}
	return putNumber(l.upto, []byte(log), n)
}
