package bolt

import (
	"go.etcd.io/bbolt"

	"jointwalk/server/store"
)

// rows is store.Rows on disk.
type rows struct{ file *file }

// View reads.
func (r *rows) View(read func(store.RowReader) error) error {
	var own error
	err := r.file.view(func(tx *bbolt.Tx) error {
		t := &table{rows: tx.Bucket(bucketRows)}
		own = calling(func() error { return read(t) })
		return nil
	})
	if own != nil {
		return own
	}
	return err
}

// Change writes, with an audit line.
func (r *rows) Change(audit store.Audit, do func(store.RowWriter) error) error {
	return r.write(do, func(tx *bbolt.Tx) error { return note(tx, audit) })
}

// Keep writes without one.
func (r *rows) Keep(do func(store.RowWriter) error) error {
	return r.write(do, func(*bbolt.Tx) error { return nil })
}

func (r *rows) write(do func(store.RowWriter) error, also func(*bbolt.Tx) error) error {
	var own error
	err := r.file.update(func(tx *bbolt.Tx) error {
		t := &table{rows: tx.Bucket(bucketRows)}
		if own = calling(func() error { return do(t) }); own != nil {
			return own
		}
		if t.fault != nil {
			return t.fault
		}
		return also(tx)
	})
	if own != nil {
		return own
	}
	return err
}

// table reads and writes rows in one transaction.
type table struct {
	rows  *bbolt.Bucket
	fault error // the first write that failed: then nothing is kept, whatever the caller makes of it
}

// guard turns a panic of bbolt into CodeDamaged before it reaches the caller's function.
func (t *table) guard(do func() error) (err error) {
	if panicked := recovering(func() { err = do() }); panicked != nil {
		return damaged(panicked)
	}
	return err
}

// Get reads a row.
func (t *table) Get(name, id string) (row []byte, err error) {
	err = t.guard(func() error {
		sealed := t.find(name, id)
		if sealed == nil {
			return store.ErrNoRow
		}
		row, err = unseal(rowKey(name, id), sealed)
		return err
	})
	return row, err
}

// find is the sealed row, nil for none.
func (t *table) find(name, id string) []byte {
	if rows := t.rows.Bucket([]byte(name)); rows != nil {
		return rows.Get([]byte(id))
	}
	return nil
}

// rowKey is what a row is sealed with: a row is right in its own place only.
func rowKey(name, id string) []byte { return append(prefix(name), id...) }

// Each reads a table.
func (t *table) Each(name string, do func(id string, row []byte) error) error {
	return t.guard(func() error {
		rows := t.rows.Bucket([]byte(name))
		if rows == nil {
			return nil
		}
		return rows.ForEach(func(id, sealed []byte) error {
			row, err := unseal(rowKey(name, string(id)), sealed)
			if err != nil {
				return err
			}
			return calling(func() error { return do(string(id), row) })
		})
	})
}

// Put writes a row.
func (t *table) Put(name, id string, row []byte) error {
	if err := store.CheckKey(name, id); err != nil {
		return err
	}
	return t.write(func() error {
		rows, err := t.rows.CreateBucketIfNotExists([]byte(name))
		if err != nil {
			return err
		}
		return rows.Put([]byte(id), seal(rowKey(name, id), row))
	})
}

// Drop removes a row.
func (t *table) Drop(name, id string) error {
	if err := store.CheckKey(name, id); err != nil {
		return err
	}
	absent := false
	err := t.write(func() error {
		if absent = t.find(name, id) == nil; absent {
			return nil
		}
		return t.rows.Bucket([]byte(name)).Delete([]byte(id))
	})
	if absent {
		return store.ErrNoRow
	}
	return err
}

func (t *table) write(do func() error) error {
	err := failed(t.guard(do))
	if t.fault == nil {
		t.fault = err
	}
	return err
}
