package bolt

import (
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"
	"strconv"
	"sync"
	"sync/atomic"

	"go.etcd.io/bbolt"

	"jointwalk/server/store"
)

// The buckets of the file.
var (
	bucketMeta     = []byte("meta")     // version, incarnation, sealed hash of the newest audit line
	bucketEvents   = []byte("events")   // site|n → sealed receipt and line
	bucketHeads    = []byte("heads")    // site → sealed highest n
	bucketLogs     = []byte("logs")     // log|seq → sealed hash and key in events; sealed nothing for one set aside
	bucketUpto     = []byte("upto")     // log → sealed frontier
	bucketFixtures = []byte("fixtures") // fixture|0 → sealed count; fixture|1… in the order of arrival → sealed key in events
	bucketMoved    = []byte("moved")    // fixture → sealed store.Place, of those that moved; since format 2
	bucketAsides   = []byte("asides")   // n → sealed store.Aside
	bucketApart    = []byte("apart")    // hash → n in asides
	bucketRows     = []byte("rows")     // one bucket a table: id → sealed row
	bucketAudits   = []byte("audits")   // n → sealed line of a store.Audit, chained since format 3

	keyVersion     = []byte("version")
	keyIncarnation = []byte("incarnation")
	keyTrail       = []byte("trail") // since format 3

	buckets = [][]byte{bucketMeta, bucketEvents, bucketHeads, bucketLogs, bucketUpto, bucketFixtures, bucketMoved, bucketAsides, bucketApart, bucketRows, bucketAudits}
)

// file is the open bbolt file. All of bbolt is called through guard.
type file struct {
	db          *bbolt.DB
	migrations  []migration
	incarnation string
	writing     sync.Mutex  // one writer at a time, and none waits within bbolt, whose lock a panic may leave held
	wounded     atomic.Bool // a write met damage: no more are taken
	closed      atomic.Bool
}

// guard calls do and turns a panic of bbolt over a damaged file, also a fault of mapped memory, into CodeDamaged.
func (f *file) guard(do func() error) (err error) {
	if panicked := recovering(func() { err = do() }); panicked != nil {
		return damaged(panicked)
	}
	return failed(err)
}

// recovering calls do and gives what it panicked with. Reading mapped memory beyond the end of a file that was
// cut is a panic here, not the end of the process.
func recovering(do func()) (panicked error) {
	defer debug.SetPanicOnFault(debug.SetPanicOnFault(true))
	defer func() {
		switch p := recover().(type) {
		case nil:
		case bug:
			panic(p.value)
		case error:
			panicked = p
		default:
			panicked = fmt.Errorf("%v", p)
		}
	}()
	do()
	return nil
}

// bug is a panic of a caller's function within a transaction; it is passed on.
type bug struct{ value any }

// calling calls a caller's function. Its panic is told apart from one of bbolt.
func calling(do func() error) error {
	defer func() {
		if p := recover(); p != nil {
			panic(bug{p})
		}
	}()
	return do()
}

// view reads in one transaction.
func (f *file) view(read func(*bbolt.Tx) error) error {
	if f.closed.Load() {
		return &store.Fault{Code: store.CodeClosed}
	}
	return f.guard(func() error { return f.db.View(read) })
}

// update writes in one transaction, which is on disk when it returns nil. After a write that met damage all later
// ones are refused: the free pages can no longer be trusted. Reading goes on.
func (f *file) update(write func(*bbolt.Tx) error) error {
	f.writing.Lock()
	defer f.writing.Unlock()
	switch {
	case f.closed.Load():
		return &store.Fault{Code: store.CodeClosed}
	case f.wounded.Load():
		return damaged(errors.New("an earlier write met damage"))
	}
	err := f.guard(func() error { return f.db.Update(write) })
	if store.CodeOf(err) == store.CodeDamaged {
		f.wounded.Store(true)
	}
	return err
}

// close closes the file once. After a write that met damage bbolt may hold its own lock for ever: then the
// file is left to the end of the process. Nothing is lost by that: there is no write on its way.
func (f *file) close() error {
	f.writing.Lock()
	defer f.writing.Unlock()
	if f.closed.Swap(true) || f.wounded.Load() {
		return nil
	}
	return f.guard(f.db.Close)
}

// size is that of the file on disk, in bytes.
func (f *file) size() (int64, error) {
	info, err := os.Stat(f.db.Path())
	if err != nil {
		return 0, err
	}
	return info.Size(), nil
}

// prepare makes the buckets of a new file, or looks at what is there and brings it to the newest format.
func (f *file) prepare(random io.Reader) error {
	fresh, version := false, 0
	err := f.db.View(func(tx *bbolt.Tx) (err error) {
		first, _ := tx.Cursor().First()
		if fresh = first == nil; !fresh {
			version, err = f.inspect(tx)
		}
		return err
	})
	switch {
	case err != nil:
		return err
	case fresh:
		return f.db.Update(func(tx *bbolt.Tx) error { return f.make(tx, random) })
	}
	if err := f.migrate(version); err != nil {
		return err
	}
	return f.db.View(f.complete)
}

// make makes the buckets and the incarnation.
func (f *file) make(tx *bbolt.Tx, random io.Reader) error {
	for _, name := range buckets {
		if _, err := tx.CreateBucket(name); err != nil {
			return err
		}
	}
	return errors.Join(f.live(tx, random), putVersion(tx, f.newest()))
}

// live gives the store a new incarnation.
func (f *file) live(tx *bbolt.Tx, random io.Reader) error {
	var id [16]byte
	if _, err := io.ReadFull(random, id[:]); err != nil {
		return err
	}
	f.incarnation = hex.EncodeToString(id[:])
	return tx.Bucket(bucketMeta).Put(keyIncarnation, []byte(f.incarnation))
}

// inspect finds out the format of a file that may be cut or no store at all.
func (f *file) inspect(tx *bbolt.Tx) (version int, err error) {
	if size, err := f.size(); err != nil || size < tx.Size() {
		return 0, errors.Join(damaged(errors.New("the file is cut")), err)
	}
	meta := tx.Bucket(bucketMeta)
	if meta == nil {
		return 0, damaged(errors.New("not a store of this program"))
	}
	f.incarnation = string(meta.Get(keyIncarnation))
	written := string(meta.Get(keyVersion))
	if f.incarnation == "" || written == "" {
		return 0, damaged(errors.New("no version"))
	}
	version, err = strconv.Atoi(written)
	if err != nil || version < 1 || version > f.newest() {
		return 0, &store.Fault{Code: store.CodeNewer, Cause: fmt.Errorf("format %q, this program knows 1 to %d", written, f.newest())}
	}
	return version, nil
}

// complete finds out whether a file of the newest format has all that belongs to it.
func (f *file) complete(tx *bbolt.Tx) error {
	for _, name := range buckets {
		if tx.Bucket(name) == nil {
			return damaged(fmt.Errorf("%s is missing", name))
		}
	}
	return nil
}
