// Package bolt is the store of events and rows on disk, in one bbolt file. No type of bbolt leaves this package.
package bolt

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"time"

	"go.etcd.io/bbolt"
	bbolterrors "go.etcd.io/bbolt/errors"

	"jointwalk/server/store"
)

// lockWait is how long another process may hold the file.
const lockWait = 2 * time.Second

// Store is store.Events, store.Rows and store.Watch in one file.
type Store struct {
	*events
	*rows
	file *file
}

// Open opens the store in the file at path, or makes it in a folder that is there. random gives a new store its
// incarnation. A store of an older format is brought to the newest, after a copy of it was put beside it. Errors: CodeLocked after 2 s when another process has it open, CodeDamaged when the file is not a
// whole store (it is left as it is), CodeDenied, CodeNewer, CodeFull, CodeBroken.
func Open(path string, random io.Reader) (*Store, error) {
	return open(path, random, bbolt.Options{})
}

func open(path string, random io.Reader, options bbolt.Options) (*Store, error) {
	f, err := openFile(path, random, options, migrations)
	if err != nil {
		return nil, err
	}
	return &Store{newEvents(f), &rows{f}, f}, nil
}

// Close waits for what is being written, ends all subscriptions and closes the file. Closing twice is no error.
func (s *Store) Close() error {
	s.events.close()
	return s.file.close()
}

// openFile opens or makes the bbolt file at path, in the newest format that the migrations lead to.
func openFile(path string, random io.Reader, options bbolt.Options, known []migration) (*file, error) {
	if info, err := os.Stat(path); err == nil && info.Size() == 0 {
		return nil, damaged(errors.New("the file is empty"))
	}
	db, err := openBolt(path, options)
	if err != nil {
		return nil, err
	}
	f := &file{db: db, migrations: known}
	err = f.guard(func() error { return f.prepare(random) })
	if err == nil {
		err = syncFolder(filepath.Dir(path))
	}
	if err != nil {
		return nil, errors.Join(err, f.close())
	}
	return f, nil
}

// openBolt opens the file. After a panic of bbolt on a damaged file its mapping, and with it its lock, stay until
// the process ends: bbolt gives no handle on them.
func openBolt(path string, options bbolt.Options) (db *bbolt.DB, err error) {
	var opened *os.File
	osOpen := options.OpenFile
	if osOpen == nil {
		osOpen = os.OpenFile
	}
	options.Timeout, options.FreelistType, options.InitialMmapSize = lockWait, bbolt.FreelistMapType, roomToGrow(path)
	options.OpenFile = func(name string, flag int, mode os.FileMode) (*os.File, error) {
		f, err := osOpen(name, flag, mode)
		opened = f
		return f, err
	}
	panicked := recovering(func() { db, err = bbolt.Open(path, 0o600, &options) })
	if panicked != nil {
		return nil, errors.Join(damaged(panicked), opened.Close())
	}
	return db, openFailed(err)
}

// roomToGrow is how much of memory's addresses a store takes: four times its size and a gigabyte. A store that outgrows
// them must be mapped anew, for which writing waits until nobody reads, and a copy reads for long. Small stores double
// a few times; copying them takes no time. Where addresses are few, or the file would grow with them, bbolt decides.
func roomToGrow(path string) int {
	const small = 16 << 20
	info, err := os.Stat(path)
	if err != nil || info.Size() < small || strconv.IntSize < 64 || runtime.GOOS == "windows" {
		return 0
	}
	return int(4*info.Size() + 1<<30)
}

// openFailed: what bbolt cannot open, and the system has nothing against, is damaged.
func openFailed(err error) error {
	var system syscall.Errno
	err = failed(err)
	if store.CodeOf(err) == store.CodeBroken && !errors.As(err, &system) {
		return damaged(err)
	}
	return err
}

// syncFolder makes the name of a new file last.
func syncFolder(path string) error {
	folder, err := os.Open(path)
	if err != nil {
		return failed(err)
	}
	return failed(errors.Join(folder.Sync(), folder.Close()))
}

func damaged(cause error) error { return &store.Fault{Code: store.CodeDamaged, Cause: cause} }

// boltCodes are the errors of bbolt that mean something of their own.
var boltCodes = map[error]string{
	bbolterrors.ErrTimeout:         store.CodeLocked,
	bbolterrors.ErrInvalid:         store.CodeDamaged,
	bbolterrors.ErrVersionMismatch: store.CodeDamaged,
	bbolterrors.ErrChecksum:        store.CodeDamaged,
	bbolterrors.ErrInvalidMapping:  store.CodeDamaged,
	bbolterrors.ErrMaxSizeReached:  store.CodeFull,
	bbolterrors.ErrDatabaseNotOpen: store.CodeClosed,
}

// failed is err as a Fault of the store; a Fault stays as it is.
func failed(err error) error {
	for known, code := range boltCodes {
		if errors.Is(err, known) {
			return &store.Fault{Code: code, Cause: err}
		}
	}
	for _, full := range []syscall.Errno{syscall.ENOSPC, syscall.EDQUOT, syscall.EFBIG} {
		if err != nil && strings.HasPrefix(err.Error(), "file resize error") && strings.HasSuffix(err.Error(), full.Error()) {
			return &store.Fault{Code: store.CodeFull, Cause: err} // bbolt passes on no more than its words
		}
	}
	return store.Failed(store.CodeBroken, err)
}
