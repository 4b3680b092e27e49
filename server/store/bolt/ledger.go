package bolt

import (
	"encoding/json"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// ledger is one transaction as store.Judge needs it. What it appends waits in puts, and what it knows of logs, sites and
// fixtures stays in maps, until flush: a number that grows with each event is read and written once.
type ledger struct {
	events, heads, logs, upto, fixtures, asides, apart, moved *bbolt.Bucket

	block     block
	receipt   []byte // memory for the one being written
	puts      []put
	sites     map[string]*head
	lists     map[string]*list
	histories map[string]*history
	recent    *history // that of recentLog, nil for none
	recentLog string
}

// put is a write that waits.
type put struct {
	into       *bbolt.Bucket
	key, value []byte
}

// head is a sealed number as it is and as it was on disk.
type head struct{ now, was uint64 }

// list is what the ledger knows of a fixture.
type list struct {
	head
	place store.Place
}

// newLedger begins one that takes in about so many events.
func newLedger(tx *bbolt.Tx, count int) *ledger {
	l := &ledger{
		events: tx.Bucket(bucketEvents), heads: tx.Bucket(bucketHeads), logs: tx.Bucket(bucketLogs), upto: tx.Bucket(bucketUpto),
		fixtures: tx.Bucket(bucketFixtures), asides: tx.Bucket(bucketAsides), apart: tx.Bucket(bucketApart), moved: tx.Bucket(bucketMoved),
		puts: make([]put, 0, 4*count+8), sites: map[string]*head{}, lists: map[string]*list{}, histories: map[string]*history{},
	}
	for _, b := range []*bbolt.Bucket{l.events, l.logs, l.fixtures, l.asides} {
		b.FillPercent = 0.9 // keys of one name come in order
	}
	return l
}

// put notes a write.
func (l *ledger) put(into *bbolt.Bucket, key, value []byte) {
	l.puts = append(l.puts, put{into, key, value})
}

// flush writes what waits.
func (l *ledger) flush() error {
	l.number()
	for _, p := range l.puts {
		if err := p.into.Put(p.key, p.value); err != nil {
			return err
		}
	}
	l.puts = l.puts[:0]
	return nil
}

// number notes the numbers that have changed.
func (l *ledger) number() {
	for name, c := range l.sites {
		l.keep(l.heads, []byte(name), c)
	}
	for name, c := range l.lists {
		l.keep(l.fixtures, numbered(name, 0), &c.head)
	}
	for name, h := range l.histories {
		l.keep(l.upto, []byte(name), &h.upto)
	}
}

// keep notes a number that has changed.
func (l *ledger) keep(into *bbolt.Bucket, key []byte, c *head) {
	if c.now != c.was {
		c.was = c.now
		l.put(into, key, seal(key, number(c.now)))
	}
}

// grown says how far the feeds have grown; of others nothing is asked.
func (l *ledger) grown() (changes []store.Changed) {
	for site, c := range l.sites {
		changes = append(changes, store.Changed{Site: site, N: c.now})
	}
	return changes
}

func (l *ledger) Append(item *exchange.Incoming, beside bool, sites ...string) (uint64, error) {
	own := []byte(nil)
	for _, site := range sites {
		at, err := l.add(site, item.Line, item.Receipt)
		if err != nil {
			return 0, err
		}
		if own == nil {
			own = at
		}
	}
	if err := l.know(item, beside, own); err != nil {
		return 0, err
	}
	return l.index(item.Event.About.Fixture, own)
}

// add puts a pair at the end of a site's feed and gives its key there.
func (l *ledger) add(site string, line journal.Line, receipt exchange.Receipt) ([]byte, error) {
	h := l.sites[site]
	if h == nil {
		last, err := getNumber(l.heads, []byte(site))
		if err != nil {
			return nil, err
		}
		h = &head{last, last}
		l.sites[site] = h
	}
	h.now++
	receipt.N = h.now
	at := l.key(site, h.now)
	sealed, err := l.pair(at, line, &receipt)
	l.put(l.events, at, sealed)
	return at, err
}

// index notes that a fixture has the event at a key, and gives how many it has.
func (l *ledger) index(fixture string, at []byte) (uint64, error) {
	if fixture == "" {
		return 0, nil
	}
	of, err := l.list(fixture)
	if err != nil {
		return 0, err
	}
	of.now++
	key := l.key(fixture, of.now)
	l.put(l.fixtures, key, l.seal(key, at))
	return of.now, nil
}

// list finds what is known of a fixture.
func (l *ledger) list(fixture string) (*list, error) {
	if of := l.lists[fixture]; of != nil {
		return of, nil
	}
	n, err := getNumber(l.fixtures, numbered(fixture, 0))
	if err != nil {
		return nil, err
	}
	of := &list{head: head{n, n}}
	if sealed := l.moved.Get([]byte(fixture)); sealed != nil {
		if err := readSealed([]byte(fixture), sealed, &of.place); err != nil {
			return nil, err
		}
	}
	l.lists[fixture] = of
	return of, nil
}

func (l *ledger) Place(fixture string) (store.Place, error) {
	of, err := l.list(fixture)
	if err != nil {
		return store.Place{}, err
	}
	return of.place, nil
}

func (l *ledger) SetPlace(fixture string, place store.Place) error {
	of, err := l.list(fixture)
	if err != nil {
		return err
	}
	raw, err := json.Marshal(place)
	if err != nil {
		return err
	}
	of.place = place
	key := []byte(fixture)
	l.put(l.moved, key, seal(key, raw))
	return nil
}

func (l *ledger) Copy(fixture string, after uint64, site string) error {
	if err := l.flush(); err != nil { // what waits may be of this fixture
		return err
	}
	of, err := l.list(fixture)
	if err != nil {
		return err
	}
	_, err = readDense(l.fixtures, fixture, after, of.now, int(of.now), func(key, sealed []byte) error {
		at, err := unseal(key, sealed)
		if err != nil || nameIn(at) == site {
			return err
		}
		pair, err := readPair(at, l.events.Get(at))
		if err != nil {
			return err
		}
		_, err = l.add(site, pair.Line, pair.Receipt)
		return err
	})
	return err
}

func (l *ledger) SetAside(item *exchange.Incoming, code string) error {
	if err := l.see(item.Event.Log, item.Event.Seq); err != nil || l.apart.Get([]byte(item.Hash)) != nil {
		return err
	}
	n, err := l.asides.NextSequence()
	if err != nil {
		return err
	}
	if err := l.apart.Put([]byte(item.Hash), number(n)); err != nil {
		return err
	}
	return l.Resettle(store.AsideOf(n, *item, code))
}

func (l *ledger) Apart(hash string) (store.Aside, error) {
	if l.asides.Sequence() == 0 {
		return store.Aside{}, nil
	}
	return findApart(l.apart, l.asides, hash)
}

// findApart finds what was set aside under a hash; N is 0 for none.
func findApart(apart, asides *bbolt.Bucket, hash string) (one store.Aside, err error) {
	if n := apart.Get([]byte(hash)); n != nil {
		err = readSealed(n, asides.Get(n), &one)
	}
	return one, err
}

func (l *ledger) Resettle(aside store.Aside) error {
	raw, err := json.Marshal(aside)
	if err != nil {
		return err
	}
	return l.asides.Put(number(aside.N), seal(number(aside.N), raw))
}

// prevOf is the prev of a pair's line.
func (l *ledger) prevOf(at []byte) (string, error) {
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
