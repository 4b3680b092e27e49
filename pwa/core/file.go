//go:build js && wasm

package main

import (
	"errors"
	"io"
	"syscall/js"

	"jointwalk/sync/journal"
)

// file is a journal.File over a FileSystemSyncAccessHandle. Every method is
// synchronous. A write counts only when the returned count is the length and,
// after the flush, the size is what was written: browsers were seen to return
// short counts, too large ones, and no error at all on a full disk.
type file struct {
	handle js.Value
	end    int64 // where the furthest write since the last flush ended
}

func newFile(handle js.Value) *file { return &file{handle: handle} }

var errFull = &journal.Fault{Code: journal.CodeStorageFull, Cause: errors.New("the write did not land in whole")}

// atOnce is how many bytes are read with one call: through one array, since a new one of the file's size costs more than
// the reading.
const atOnce = 1 << 19

var through js.Value

// ReadAt implements io.ReaderAt.
func (f *file) ReadAt(p []byte, off int64) (n int, err error) {
	for n < len(p) && err == nil {
		var got int
		got, err = f.readAt(p[n:min(n+atOnce, len(p))], off+int64(n))
		n += got
	}
	return n, err
}

func (f *file) readAt(p []byte, off int64) (int, error) {
	if through.IsUndefined() {
		through = js.Global().Get("Uint8Array").New(atOnce)
	}
	into := through.Call("subarray", 0, len(p))
	got, err := f.try("read", journal.CodeReadFailed, into, at(off))
	if err != nil {
		return 0, err
	}
	n := min(max(got.Int(), 0), len(p))
	js.CopyBytesToGo(p[:n], into)
	if n < len(p) {
		return n, io.EOF
	}
	return n, nil
}

// WriteAt implements io.WriterAt. Error: CodeStorageFull when the count is not
// the length; what landed is for the caller to cut off again.
func (f *file) WriteAt(p []byte, off int64) (int, error) {
	put, err := f.try("write", journal.CodeWriteFailed, toJS(p), at(off))
	if err != nil {
		return 0, err
	}
	if n := put.Int(); n != len(p) {
		return min(max(n, 0), len(p)), errFull
	}
	f.end = max(f.end, off+int64(len(p)))
	return len(p), nil
}

// Truncate cuts or extends the file.
func (f *file) Truncate(size int64) error {
	f.end = 0
	_, err := f.try("truncate", journal.CodeWriteFailed, float64(size))
	return err
}

// Sync flushes, then holds that the size reaches what was written. Error:
// CodeStorageFull when it does not.
func (f *file) Sync() error {
	if _, err := f.try("flush", journal.CodeWriteFailed); err != nil {
		return err
	}
	size, err := f.Size()
	if err != nil {
		return err
	}
	want := f.end
	f.end = 0
	if size < want {
		return errFull
	}
	return nil
}

// Size asks the file for its size in bytes.
func (f *file) Size() (int64, error) {
	size, err := f.try("getSize", journal.CodeReadFailed)
	if err != nil {
		return 0, err
	}
	return int64(size.Float()), nil
}

// try calls a method of the handle and turns what it throws into a fault: a
// quota into CodeStorageFull, all else into code.
func (f *file) try(method, code string, args ...any) (result js.Value, err error) {
	defer func() {
		thrown := recover()
		if thrown == nil {
			return
		}
		bad, ok := thrown.(js.Error)
		if !ok {
			panic(thrown)
		}
		if bad.Value.Get("name").String() == "QuotaExceededError" {
			code = journal.CodeStorageFull
		}
		err = &journal.Fault{Code: code, Cause: bad}
	}()
	return f.handle.Call(method, args...), nil
}

func at(off int64) js.Value {
	where := js.Global().Get("Object").New()
	where.Set("at", float64(off))
	return where
}

func toJS(p []byte) js.Value {
	array := js.Global().Get("Uint8Array").New(len(p))
	js.CopyBytesToJS(array, p)
	return array
}
