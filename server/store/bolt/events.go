package bolt

import (
	"bytes"
	"errors"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
)

// events is store.Events and store.Watch on disk.
type events struct {
	hub  store.Hub
	file *file
	gather
}

func newEvents(f *file) *events {
	e := &events{file: f}
	e.gather.init(e.commit)
	return e
}

// close waits for the writer and ends the subscriptions.
func (e *events) close() {
	e.gather.close()
	e.hub.Close()
}

// Subscribe tells of sites that grow.
func (e *events) Subscribe(sites ...string) (<-chan store.Changed, func()) {
	return e.hub.Subscribe(sites...)
}

// Incarnation names this life of the store.
func (e *events) Incarnation() string { return e.file.incarnation }

// Upto is the frontier of a log.
func (e *events) Upto(log string) (uint64, error) { return e.numberIn(bucketUpto, log) }

// Last is the highest n of a site.
func (e *events) Last(site string) (uint64, error) { return e.numberIn(bucketHeads, site) }

func (e *events) numberIn(bucket []byte, key string) (n uint64, err error) {
	err = e.file.view(func(tx *bbolt.Tx) error {
		n, err = readNumber(tx.Bucket(bucket).Get([]byte(key)))
		return err
	})
	return n, err
}

// Site reads a part of a feed.
func (e *events) Site(site string, after uint64, most int) (found []store.Stored, more bool, err error) {
	if after+1 == 0 {
		return nil, false, nil // there is nothing behind the largest number
	}
	err = e.file.view(func(tx *bbolt.Tx) error {
		found, more, err = readFeed(tx, site, after, most)
		return err
	})
	if err != nil {
		return nil, false, err
	}
	return found, more, nil
}

// readFeed holds a feed to its word while reading: dense, and to the end that heads tells.
func readFeed(tx *bbolt.Tx, site string, after uint64, most int) (found []store.Stored, more bool, err error) {
	head, err := readNumber(tx.Bucket(bucketHeads).Get([]byte(site)))
	if err != nil || after >= head {
		return nil, false, err
	}
	feed := tx.Bucket(bucketEvents).Cursor()
	n := after + 1
	for key, sealed := feed.Seek(numbered(site, n)); n <= head && len(found) < most; key, sealed = feed.Next() {
		if !bytes.Equal(key, numbered(site, n)) {
			return nil, false, damaged(errors.New("an event is missing from its feed"))
		}
		pair, err := readPair(key, sealed)
		if err != nil {
			return nil, false, err
		}
		found = append(found, pair)
		n++
	}
	return found, n <= head, nil
}

// Fixture reads all about a fixture through its index.
func (e *events) Fixture(fixture string) (found []store.Stored, err error) {
	err = e.file.view(func(tx *bbolt.Tx) error {
		feed, index, start := tx.Bucket(bucketEvents), tx.Bucket(bucketFixtures).Cursor(), prefix(fixture)
		for key, at := index.Seek(start); bytes.HasPrefix(key, start); key, at = index.Next() {
			pair, err := readPair(at, feed.Get(at))
			if err != nil {
				return err
			}
			found = append(found, pair)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return found, nil
}

// Asides lists what was set aside.
func (e *events) Asides(after uint64, most int) ([]store.Aside, error) {
	return list[store.Aside](e.file, bucketAsides, after, most)
}

// list reads sealed JSON that is numbered from 1.
func list[T any](f *file, bucket []byte, after uint64, most int) (found []T, err error) {
	if after+1 == 0 {
		return nil, nil
	}
	err = f.view(func(tx *bbolt.Tx) error {
		all := tx.Bucket(bucket).Cursor()
		for key, sealed := all.Seek(number(after + 1)); key != nil && len(found) < most; key, sealed = all.Next() {
			var one T
			if err := readSealed(key, sealed, &one); err != nil {
				return err
			}
			found = append(found, one)
		}
		return nil
	})
	if err != nil {
		return nil, err
	}
	return found, nil
}
