package store

import (
	"errors"
	"syscall"

	"jointwalk/sync/journal"
)

// Stable codes of a Fault of a store, and CodeChain of an event set aside by it.
const (
	CodeFull      = "server-full"   // the disk has no room: nothing was kept
	CodeLocked    = "store-locked"  // another process has the store open
	CodeDamaged   = "store-damaged" // the file is not a whole store; it is left as it is
	CodeDenied    = "store-denied"  // the folder or file may not be written
	CodeNewer     = "store-newer"   // a later version of this program wrote it
	CodeBroken    = "store-broken"  // reading or writing failed; nothing was kept
	CodeClosed    = "store-closed"  // closed already
	CodeBadKey    = "bad-key"       // a table or id that no row can have
	CodeWrongHash = "wrong-hash"    // the bytes do not have the hash they come under
	CodeTooLarge  = "too-large"     // more bytes than a blob may have, or than were announced
	CodeChain     = "chain"         // the event's prev is not the hash of its predecessor

	CodeBadSettlement = "bad-settlement" // neither dismissed nor amended
)

// ErrNoRow says that there is no such row.
var ErrNoRow = errors.New("no such row")

// ErrNoBlob says that no such picture is held.
var ErrNoBlob error = &Fault{Code: "unknown-picture"}

// ErrNoAside says that nothing was set aside under this hash.
var ErrNoAside error = &Fault{Code: "unknown-aside"}

// Fault is the error of a store: Code for machines, Cause for the log (may be nil).
type Fault = journal.Fault

// CodeOf is the code of the first Fault in err's chain, or "" when there is none.
func CodeOf(err error) string { return journal.CodeOf(err) }

// Failed makes the Fault of an operation that failed: CodeFull (also where a file may not grow: a quota, a limit of the
// user or of the file system) and CodeDenied where the system says so, else the code given. nil stays nil, and a Fault stays as it is.
func Failed(code string, err error) error {
	switch {
	case err == nil:
		return nil
	case CodeOf(err) != "":
		return err
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT), errors.Is(err, syscall.EFBIG):
		code = CodeFull
	case errors.Is(err, syscall.EACCES), errors.Is(err, syscall.EPERM), errors.Is(err, syscall.EROFS):
		code = CodeDenied
	}
	return &Fault{Code: code, Cause: err}
}
