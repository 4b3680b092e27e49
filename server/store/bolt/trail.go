package bolt

import (
	"encoding/hex"
	"errors"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
	"jointwalk/sync/journal"
)

// note writes an audit line after the noted head, not after the line that stands last: whoever changed that one must not
// be covered by the next change.
func note(tx *bbolt.Tx, audit store.Audit) error {
	head, err := headOf(tx)
	if err != nil {
		return err
	}
	line, err := head.Line(audit)
	if err != nil {
		return err
	}
	return putLine(tx, store.Head{N: head.N + 1, Hash: journal.Hash(line)}, line)
}

// putLine keeps a line and notes it as the newest.
func putLine(tx *bbolt.Tx, head store.Head, line journal.Line) error {
	audits, key := tx.Bucket(bucketAudits), number(head.N)
	audits.FillPercent = 0.9
	return errors.Join(audits.SetSequence(head.N), audits.Put(key, seal(key, line)),
		tx.Bucket(bucketMeta).Put(keyTrail, seal(keyTrail, []byte(head.Hash))))
}

// headOf is the head as it was noted: the number by the bucket, the hash beside it.
func headOf(tx *bbolt.Tx) (store.Head, error) {
	head := store.Head{N: tx.Bucket(bucketAudits).Sequence()}
	sealed := tx.Bucket(bucketMeta).Get(keyTrail)
	if sealed == nil {
		return head, nil
	}
	raw, err := unseal(keyTrail, sealed)
	if _, odd := hex.DecodeString(string(raw)); err == nil && odd != nil {
		err = damaged(odd)
	}
	head.Hash = string(raw)
	return head, err
}

// Head is the newest audit line.
func (r *rows) Head() (head store.Head, err error) {
	err = r.file.view(func(tx *bbolt.Tx) error {
		head, err = headOf(tx)
		return err
	})
	return head, err
}

// Audits lists audit lines.
func (r *rows) Audits(after uint64, most int) (found []store.Audit, err error) {
	err = eachNumbered(r.file, bucketAudits, after, most, func(key, sealed []byte) error {
		audit, err := readLine(key, sealed)
		found = append(found, audit)
		return err
	})
	if err != nil {
		return nil, err
	}
	return found, nil
}

// readLine reads a line of the trail in its place.
func readLine(key, sealed []byte) (store.Audit, error) {
	raw, err := unseal(key, sealed)
	if err != nil {
		return store.Audit{}, err
	}
	audit, err := store.ReadAudit(raw)
	if err == nil && string(number(audit.N)) != string(key) {
		err = errors.New("a line of the trail in another's place")
	}
	if err != nil {
		err = damaged(err)
	}
	return audit, err
}

// ErrOlder says that a store is of a format before its trail was a chain.
var ErrOlder = errors.New("the trail of this store is no chain yet")

// ReadTrail opens the store in the file at path, which nobody may have open, for reading, and calls do with its rows.
// Errors: as of Check, ErrOlder; that of do as it is.
func ReadTrail(path string, do func(store.Rows) error) error {
	f, err := openToRead(path)
	if err != nil {
		return err
	}
	old := false
	err = f.view(func(tx *bbolt.Tx) error {
		version, err := f.inspect(tx)
		old = version < chainedSince
		return err
	})
	switch {
	case err == nil && old:
		err = ErrOlder
	case err == nil:
		err = do(&rows{f})
	}
	return errors.Join(err, f.close())
}
