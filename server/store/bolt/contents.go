package bolt

import (
	"bytes"
	"encoding/binary"
	"errors"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
	"jointwalk/sync/journal"
)

// contents checks what the buckets hold, and that they fit each other.
type contents struct {
	*Report
	tx     *bbolt.Tx
	heads  map[string]uint64 // site → the highest n that was found
	upto   map[string]uint64 // log → the frontier that was found
	placed int               // events with a fixture
}

// feeds: each event is whole, in its place, and known to its log; each head is that of its feed.
func (c *contents) feeds() error {
	logs := c.tx.Bucket(bucketLogs)
	err := numberedKeys(c.tx.Bucket(bucketEvents), 1, c.Report, "feed of site", func(site string, n uint64, key, sealed []byte) {
		c.heads[site] = n
		c.Events++
		pair, event, err := c.event(key, sealed)
		if err != nil {
			c.say("feed of site %q: event %d: %v", site, n, err)
			return
		}
		if pair.Receipt.N != n {
			c.say("feed of site %q: event %d says that it is %d", site, n, pair.Receipt.N)
		}
		own := journal.Hash(pair.Line)
		hash, at, err := reference(logs, event.Log, event.Seq)
		if err != nil || hash != own && !c.accepted(own) {
			c.say("feed of site %q: event %d is not the one that log %s has as its %d", site, n, event.Log, event.Seq)
		}
		if hash == own && bytes.Equal(at, key) && event.About.Fixture != "" {
			c.placed++
		}
	})
	c.Sites = len(c.heads)
	return errors.Join(err, c.numbers(bucketHeads, "head of site", c.heads))
}

// event reads and parses an event under its key.
func (c *contents) event(key, sealed []byte) (store.Stored, journal.Event, error) {
	pair, err := readPair(key, sealed)
	if err != nil {
		return pair, journal.Event{}, err
	}
	event, err := journal.Parse(pair.Line)
	return pair, event, err
}

// pairAt reads an event to which a list leads.
func pairAt(events *bbolt.Bucket, at []byte) (store.Stored, error) {
	sealed := events.Get(at)
	if sealed == nil {
		return store.Stored{}, errors.New("it is missing")
	}
	return readPair(at, sealed)
}

// isAbout says whether an event is about a fixture. Nearly all lines say so in these words; only others are parsed.
func isAbout(pair store.Stored, fixture string) bool {
	if bytes.Contains(pair.Line, []byte(`"fixture":"`+fixture+`"`)) {
		return true
	}
	event, err := journal.Parse(pair.Line)
	return err == nil && event.About.Fixture == fixture
}

// accepted says whether a line was set aside and accepted later: it may stand in a feed beside the one of its log.
func (c *contents) accepted(hash string) bool {
	aside, err := findApart(c.tx.Bucket(bucketApart), c.tx.Bucket(bucketAsides), hash)
	return err == nil && aside.Settled != nil && aside.Settled.How == store.Accepted
}

// reference is what a log says of one of its events: its hash and its place in a feed. Both are "" for one set aside.
func reference(logs *bbolt.Bucket, log string, seq uint64) (hash string, at []byte, err error) {
	key := numbered(log, seq)
	sealed := logs.Get(key)
	if sealed == nil {
		return "", nil, nil
	}
	raw, err := unseal(key, sealed)
	first, at, _ := bytes.Cut(raw, []byte{'\n'})
	return string(first), at, err
}

// numbers holds a bucket of sealed numbers to what was counted.
func (c *contents) numbers(bucket []byte, what string, counted map[string]uint64) error {
	b := c.tx.Bucket(bucket)
	for name, want := range counted {
		if got, err := getNumber(b, []byte(name)); err != nil || got != want {
			c.say("%s %q: %d is noted, %d was found %s", what, name, got, want, wordOf(err))
		}
	}
	return b.ForEach(func(name, _ []byte) error {
		if _, known := counted[string(name)]; !known {
			c.say("%s %q: there is nothing under it", what, name)
		}
		return nil
	})
}

// wordOf is an error in brackets, "" for none.
func wordOf(err error) string {
	if err == nil {
		return ""
	}
	return "(" + err.Error() + ")"
}

// logs: each entry is whole and leads to its event; each frontier is the first hole.
func (c *contents) logs() error {
	logs, events, all := c.tx.Bucket(bucketLogs), c.tx.Bucket(bucketEvents), map[string]bool{}
	err := logs.ForEach(func(key, _ []byte) error {
		log, seq, good := splitKey(key)
		if !good {
			c.say("log: a key that is none: %q", key)
			return nil
		}
		all[log] = true
		if c.upto[log]+1 == seq {
			c.upto[log] = seq
		}
		hash, at, err := reference(logs, log, seq)
		if err != nil {
			c.say("log %s: its %d: %v", log, seq, err)
			return nil
		}
		if hash == "" {
			return nil // set aside
		}
		pair, err := pairAt(events, at)
		if err != nil || journal.Hash(pair.Line) != hash { // that the hash is of this log and seq was seen in the feed
			c.say("log %s: its %d leads to another event %s", log, seq, wordOf(err))
		}
		return nil
	})
	c.Logs = len(all)
	return errors.Join(err, c.numbers(bucketUpto, "frontier of log", c.upto))
}

// fixtures: each list is dense and as long as it says, leads to events of its fixture, and none is left out.
func (c *contents) fixtures() error {
	index, events, listed := c.tx.Bucket(bucketFixtures), c.tx.Bucket(bucketEvents), map[string]uint64{}
	found := 0
	err := numberedKeys(index, 0, c.Report, "list of fixture", func(fixture string, n uint64, key, sealed []byte) {
		listed[fixture] = n
		if n == 0 {
			return
		}
		found++
		at, err := unseal(key, sealed)
		if err != nil {
			c.say("list of fixture %q: its %d: %v", fixture, n, err)
			return
		}
		if pair, err := pairAt(events, at); err != nil || !isAbout(pair, fixture) {
			c.say("list of fixture %q: its %d is of another fixture %s", fixture, n, wordOf(err))
		}
	})
	for fixture, n := range listed {
		if count, err := getNumber(index, numbered(fixture, 0)); err != nil || count != n {
			c.say("list of fixture %q: %d are noted, %d were found %s", fixture, count, n, wordOf(err))
		}
	}
	if found != c.placed {
		c.say("the lists of fixtures hold %d events of %d", found, c.placed)
	}
	return err
}

// moves: each note of where a fixture is now is whole.
func (c *contents) moves() error {
	moved := c.tx.Bucket(bucketMoved)
	if moved == nil {
		return nil // of a format before
	}
	return moved.ForEach(func(fixture, sealed []byte) error {
		var place store.Place
		if err := readSealed(fixture, sealed, &place); err != nil {
			c.say("where fixture %q is: %v", fixture, err)
		}
		return nil
	})
}

// asides: each is whole and in its place, and known by its hash.
func (c *contents) asides() error {
	asides, apart, logs := c.tx.Bucket(bucketAsides), c.tx.Bucket(bucketApart), c.tx.Bucket(bucketLogs)
	err := c.dense(bucketAsides, "line set aside", func(n uint64, key, sealed []byte) {
		c.Asides++
		var aside store.Aside
		if err := readSealed(key, sealed, &aside); err != nil {
			c.say("line set aside %d: %v", n, err)
		} else if aside.N != n || !bytes.Equal(apart.Get([]byte(aside.Hash)), key) {
			c.say("line set aside %d is not known by its hash", n)
		}
		if aside.Settled == nil || aside.Settled.How != store.Accepted {
			return
		}
		event, err := journal.Parse(aside.Line)
		if hash, _, _ := reference(logs, event.Log, event.Seq); err == nil && hash != aside.Hash && event.About.Fixture != "" {
			c.placed++ // stands beside the one of its log
		}
	})
	return errors.Join(err, apart.ForEach(func(hash, at []byte) error {
		if asides.Get(at) == nil {
			c.say("the hash %s leads to no line set aside", hash)
		}
		return nil
	}))
}

// dense calls do with each record of a bucket numbered from 1, and tells of holes.
func (c *contents) dense(bucket []byte, what string, do func(n uint64, key, sealed []byte)) error {
	b, next := c.tx.Bucket(bucket), uint64(1)
	err := b.ForEach(func(key, sealed []byte) error {
		if len(key) != 8 {
			c.say("%s: a key that is none: %q", what, key)
			return nil
		}
		n := binary.BigEndian.Uint64(key)
		if n != next {
			c.say("%s %d is missing, %d comes instead", what, next, n)
		}
		next = n + 1
		do(n, key, sealed)
		return nil
	})
	if b.Sequence() != next-1 {
		c.say("%s: %d were numbered, the last is %d", what, b.Sequence(), next-1)
	}
	return err
}

// rows: each is whole in its table.
func (c *contents) rows() error {
	all := c.tx.Bucket(bucketRows)
	return all.ForEach(func(name, _ []byte) error {
		table := all.Bucket(name)
		if table == nil {
			c.say("%q is no table", name)
			return nil
		}
		return table.ForEach(func(id, sealed []byte) error {
			c.Rows++
			if _, err := unseal(rowKey(string(name), string(id)), sealed); err != nil {
				c.say("row %q of %q: %v", id, name, err)
			}
			return nil
		})
	})
}

// audits: each line of the trail is whole, in its place, and names the one before; the last is the one that was noted.
func (c *contents) audits() error {
	at := store.Head{}
	err := c.dense(bucketAudits, "line of the trail", func(n uint64, key, sealed []byte) {
		c.Audits++
		audit, err := readLine(key, sealed)
		if err != nil {
			c.say("line of the trail %d is not whole %s", n, wordOf(err))
		}
		if wrong := at.Wrong(audit); wrong != "" && err == nil && n == at.N+1 && c.Format >= chainedSince {
			c.say("%s", wrong)
		}
		at = store.Head{N: n, Hash: audit.Hash}
	})
	if err != nil || c.Format < chainedSince {
		return err
	}
	noted, err := headOf(c.tx)
	if wrong := at.WrongEnd(noted); err == nil && wrong != "" && at.N == noted.N {
		c.say("%s", wrong)
	}
	c.Trail = at
	return err
}
