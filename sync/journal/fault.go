package journal

import "errors"

// Stable codes of a Fault. Screens and servers translate them; they never change meaning.
const (
	CodeStorageFull   = "storage-full"     // the device has no room: nothing was kept of this write
	CodeWriteFailed   = "write-failed"     // the file refused or changed what was written: nothing was kept of it
	CodeReadFailed    = "read-failed"      // the file could not be read
	CodeBadLine       = "bad-line"         // the line is not an event with a whole envelope
	CodeLineTooLong   = "line-too-long"    // the line is longer than MaxLine
	CodeNoRoomForSite = "no-room-for-site" // every trusted file of the pool is taken
	CodeNoTrustedFile = "no-trusted-file"  // the pool has too few files that an earlier start has seen: start again
	CodeBadKey        = "bad-key"          // a key or value that State cannot hold
	CodeBadPicture    = "bad-picture"      // bytes that do not have the hash they claim, or too many
	CodeNoPicture     = "no-picture"       // no such picture on this device
	CodeForked        = "forked"           // the same (log, seq) with another hash
)

// Fault is the error of this package: Code for machines, Cause for the log (may be nil).
type Fault struct {
	Code  string
	Cause error
}

// Error gives the code and the cause.
func (f *Fault) Error() string {
	if f.Cause == nil {
		return f.Code
	}
	return f.Code + ": " + f.Cause.Error()
}

// Unwrap gives the cause.
func (f *Fault) Unwrap() error { return f.Cause }

// CodeOf is the code of the first Fault in err's chain, or "" when there is none.
func CodeOf(err error) string {
	var f *Fault
	if errors.As(err, &f) {
		return f.Code
	}
	return ""
}

// fault is one with a cause in words. (In each of its places it would weigh 200 bytes of the phone's engine.)
//
//go:noinline
func fault(code, cause string) *Fault { return &Fault{Code: code, Cause: errors.New(cause)} }
