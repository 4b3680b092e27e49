package bolt

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"

	"go.etcd.io/bbolt"
)

// migration brings a store of the format before it to the format to, within one transaction. It sees buckets as they
// were then; what it writes must hold for ever, so it shares no code that may change later.
type migration struct {
	to     int
	reason string
	run    func(*bbolt.Tx) error
}

// migrations lead from format 1 to the newest, each by one. A format that was released is never changed again.
var migrations = []migration{
	{2, "fixtures move", func(tx *bbolt.Tx) error {
		_, err := tx.CreateBucketIfNotExists([]byte("moved"))
		return err
	}},
}

// newest is the format that is written.
func (f *file) newest() int {
	if len(f.migrations) == 0 {
		return 1
	}
	return f.migrations[len(f.migrations)-1].to
}

// migrate brings the store from a version to the newest. Before the first step a copy is put beside it, flushed. Each
// step is a transaction of its own: a crash leaves the format before it or after it.
func (f *file) migrate(version int) error {
	if version == f.newest() {
		return nil
	}
	if err := f.keepBefore(version + 1); err != nil {
		return err
	}
	for _, m := range f.migrations {
		if m.to <= version {
			continue
		}
		err := f.db.Update(func(tx *bbolt.Tx) error { return errors.Join(m.run(tx), putVersion(tx, m.to)) })
		if err != nil {
			return fmt.Errorf("to format %d (%s): %w", m.to, m.reason, failed(err))
		}
	}
	return nil
}

func putVersion(tx *bbolt.Tx, version int) error {
	return tx.Bucket(bucketMeta).Put(keyVersion, []byte(strconv.Itoa(version)))
}

// Before is the name of the copy that is put beside a store before it is brought to a format.
func Before(version int) string { return BeforePrefix + strconv.Itoa(version) }

// BeforePrefix begins the names that Before gives.
const BeforePrefix = "store-before-"

// keepBefore puts a copy of the store beside it, whole or not at all.
func (f *file) keepBefore(version int) error {
	folder := filepath.Dir(f.db.Path())
	place := filepath.Join(folder, Before(version))
	unfinished := place + ".new"
	if err := f.copyTo(unfinished); err != nil {
		return errors.Join(failed(err), os.RemoveAll(unfinished))
	}
	if err := os.Rename(unfinished, place); err != nil {
		return failed(err)
	}
	return syncFolder(folder)
}

// copyTo writes a copy to a path, over what is there, and flushes it.
func (f *file) copyTo(path string) error {
	to, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	err = f.copy(context.Background(), to)
	if err == nil {
		err = to.Sync()
	}
	return errors.Join(err, to.Close())
}
