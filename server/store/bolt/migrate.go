package bolt

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"

	"go.etcd.io/bbolt"

	"jointwalk/sync/journal"
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
	{chainedSince, "the trail is a chain", chainTrail},
}

// chainedSince is the format in which each line of the trail names the one before.
const chainedSince = 3

// chainTrail makes a chain of the lines of a trail. Those that say "invited" held the name of somebody new: it is taken out,
// since a chain would keep it for good, and names can be erased. That nobody changed a line before cannot be known.
func chainTrail(tx *bbolt.Tx) error {
	audits, prev, keys, lines := tx.Bucket([]byte("audits")), "", [][]byte{}, []journal.Line{}
	err := audits.ForEach(func(key, sealed []byte) error {
		line, err := chainLine(key, sealed, prev)
		keys, lines, prev = append(keys, bytes.Clone(key)), append(lines, line), journal.Hash(line)
		return err
	})
	for i, line := range lines {
		if err == nil {
			err = audits.Put(keys[i], seal(keys[i], line))
		}
	}
	if err != nil || len(lines) == 0 {
		return err
	}
	return tx.Bucket([]byte("meta")).Put([]byte("trail"), seal([]byte("trail"), []byte(prev)))
}

// chainLine is a line as it stands in the chain.
func chainLine(key, sealed []byte, prev string) (journal.Line, error) {
	var line struct {
		N     uint64 `json:"n"`
		At    string `json:"at"`
		By    string `json:"by"`
		What  string `json:"what"`
		About string `json:"about"`
		Prev  string `json:"prev"`
	}
	if err := readSealed(key, sealed, &line); err != nil {
		return nil, err
	}
	if line.Prev = prev; line.What == "invited" {
		line.About = ""
	}
	return json.Marshal(line)
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
