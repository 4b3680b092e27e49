package bolt

import (
	"bytes"
	"errors"
	"math"
	"sync"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
)

// events is store.Events and store.Watch on disk.
type events struct {
	hub     store.Hub
	file    *file
	telling sync.Mutex // held from before a change until those who watch are told
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

// Fed is how far a log stands in the feeds.
func (e *events) Fed(log string, most uint64) (seq uint64, err error) {
	err = e.file.view(func(tx *bbolt.Tx) error {
		l := newLedger(tx, 0)
		for seq < most {
			next, err := l.Hash(log, seq+1)
			if err != nil || next == "" {
				return err
			}
			seq++
		}
		return nil
	})
	return seq, err
}

// Stand gives the hashes of what stands for places of a log.
func (e *events) Stand(log string, seqs []uint64) ([]string, error) {
	hashes := make([]string, len(seqs))
	err := e.file.view(func(tx *bbolt.Tx) (err error) {
		l := newLedger(tx, 0)
		for i := 0; i < len(seqs) && err == nil; i++ {
			hashes[i], err = l.Hash(log, seqs[i])
		}
		return err
	})
	return hashes, err
}

// Last is the highest n of a site.
func (e *events) Last(site string) (uint64, error) { return e.numberIn(bucketHeads, site) }

func (e *events) numberIn(bucket []byte, key string) (n uint64, err error) {
	err = e.file.view(func(tx *bbolt.Tx) error {
		n, err = getNumber(tx.Bucket(bucket), []byte(key))
		return err
	})
	return n, err
}

// Site reads a part of a feed.
func (e *events) Site(site string, after uint64, most int) (found []store.Stored, more bool, err error) {
	err = e.file.view(func(tx *bbolt.Tx) error {
		head, err := getNumber(tx.Bucket(bucketHeads), []byte(site))
		if err != nil {
			return err
		}
		more, err = readDense(tx.Bucket(bucketEvents), site, after, head, most, func(key, sealed []byte) error {
			pair, err := readPair(key, sealed)
			found = append(found, pair)
			return err
		})
		return err
	})
	if err != nil {
		return nil, false, err
	}
	return found, more, nil
}

// Fixture reads all about a fixture through its index. Damage that takes a fixture out of the index altogether is
// not seen here, as it is in a feed.
func (e *events) Fixture(fixture string) (found []store.Stored, err error) {
	err = e.file.view(func(tx *bbolt.Tx) error {
		index, feeds := tx.Bucket(bucketFixtures), tx.Bucket(bucketEvents)
		count, err := getNumber(index, numbered(fixture, 0))
		if err != nil {
			return err
		}
		_, err = readDense(index, fixture, 0, count, math.MaxInt, func(key, sealed []byte) error {
			at, err := unseal(key, sealed)
			if err != nil {
				return err
			}
			pair, err := readPair(at, feeds.Get(at))
			found = append(found, pair)
			return err
		})
		return err
	})
	if err != nil {
		return nil, err
	}
	return found, nil
}

// readDense reads name|after+1 up to name|head, at most most of them, and says whether there are more. It
// holds the bucket to its word: none is missing, and none stands behind the head.
func readDense(b *bbolt.Bucket, name string, after, head uint64, most int, do func(key, sealed []byte) error) (more bool, err error) {
	if b.Get(numbered(name, head+1)) != nil {
		return false, damaged(errors.New("a head is behind its list"))
	}
	if after >= head {
		return false, nil
	}
	list, n, read := b.Cursor(), after+1, 0
	for key, sealed := list.Seek(numbered(name, n)); n <= head && read < most; key, sealed = list.Next() {
		if !bytes.Equal(key, numbered(name, n)) {
			return false, damaged(errors.New("an entry is missing from its list"))
		}
		if err := do(key, sealed); err != nil {
			return false, err
		}
		n, read = n+1, read+1
	}
	return n <= head, nil
}

// Asides lists what was set aside.
func (e *events) Asides(after uint64, most int) ([]store.Aside, error) {
	return numberedRows[store.Aside](e.file, bucketAsides, after, most)
}

// Apart gives one of them.
func (e *events) Apart(hash string) (one store.Aside, err error) {
	err = e.file.view(func(tx *bbolt.Tx) error {
		one, err = findApart(tx.Bucket(bucketApart), tx.Bucket(bucketAsides), hash)
		return err
	})
	if err == nil && one.N == 0 {
		err = store.ErrNoAside
	}
	return one, err
}

// numberedRows reads sealed JSON that is numbered from 1.
func numberedRows[T any](f *file, bucket []byte, after uint64, most int) (found []T, err error) {
	err = eachNumbered(f, bucket, after, most, func(key, sealed []byte) error {
		var one T
		err := readSealed(key, sealed, &one)
		found = append(found, one)
		return err
	})
	if err != nil {
		return nil, err
	}
	return found, nil
}

// eachNumbered calls do with at most most records numbered from 1 that come after one.
func eachNumbered(f *file, bucket []byte, after uint64, most int, do func(key, sealed []byte) error) error {
	if after+1 == 0 {
		return nil
	}
	return f.view(func(tx *bbolt.Tx) error {
		all := tx.Bucket(bucket).Cursor()
		key, sealed := all.Seek(number(after + 1))
		for n := 0; key != nil && n < most; n++ {
			if err := do(key, sealed); err != nil {
				return err
			}
			key, sealed = all.Next()
		}
		return nil
	})
}
