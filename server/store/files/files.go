// Package files keeps blobs as files, each under its SHA-256: ab/abcd…, read only once written. A file is there whole
// or not at all.
package files

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"sync"
	"time"

	"jointwalk/server/store"
)

// waiting is the folder of files that are being written. What a crash left there is removed at the next start.
const waiting = "waiting"

// Blobs is store.Blobs in a folder.
type Blobs struct {
	folder string
	mu     sync.Mutex // held while a part grows or becomes whole
}

// Open opens the folder, or makes it, and drops parts that nobody added to for a week before now. Errors: CodeDenied,
// CodeFull, CodeBroken.
func Open(folder string, now time.Time) (*Blobs, error) {
	b := &Blobs{folder: folder}
	err := os.RemoveAll(b.path(waiting))
	if err == nil {
		err = os.MkdirAll(b.path(waiting), 0o700)
	}
	if err == nil {
		err = os.MkdirAll(b.path(parts), 0o700)
	}
	if err == nil {
		err = b.dropStale(now.Add(-partAge))
	}
	if err == nil {
		err = errors.Join(flush(filepath.Dir(folder)), flush(folder))
	}
	if err != nil {
		return nil, failed(err)
	}
	return b, nil
}

func (b *Blobs) path(names ...string) string {
	return filepath.Join(b.folder, filepath.Join(names...))
}

func (b *Blobs) place(hash string) string { return b.path(hash[:2], hash) }

// Put keeps bytes: written beside, hashed while written, flushed, then named.
func (b *Blobs) Put(hash string, body io.Reader) error {
	temp, err := os.CreateTemp(b.path(waiting), "")
	if err != nil {
		return failed(err)
	}
	err = fill(temp, hash, body)
	if err == nil {
		err = b.settle(temp.Name(), hash)
	}
	if err == nil {
		return nil
	}
	if gone := os.Remove(temp.Name()); gone != nil && !errors.Is(gone, fs.ErrNotExist) {
		return errors.Join(err, gone)
	}
	return err
}

// settle names a whole file; what came of it in parts is not wanted any more.
func (b *Blobs) settle(temp, hash string) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	if err := b.name(temp, hash); err != nil {
		return err
	}
	return b.dropPart(hash)
}

// fill writes body into a file, holds it to its hash, flushes and closes it.
func fill(temp *os.File, hash string, body io.Reader) error {
	source, sum := &source{from: body}, sha256.New()
	_, err := io.Copy(io.MultiWriter(temp, sum), source)
	switch {
	case source.err != nil:
		err = source.err
	case err != nil:
		err = failed(err)
	case hex.EncodeToString(sum.Sum(nil)) != hash:
		err = &store.Fault{Code: store.CodeWrongHash}
	default:
		err = failed(temp.Sync())
	}
	if closed := failed(temp.Close()); err == nil {
		err = closed
	}
	return err
}

// source remembers the error of a body: it is the sender's and not the disk's.
type source struct {
	from io.Reader
	err  error
}

func (s *source) Read(p []byte) (int, error) {
	n, err := s.from.Read(p)
	if err != nil && !errors.Is(err, io.EOF) {
		s.err = err
	}
	return n, err
}

// name gives a whole file its name, for good.
func (b *Blobs) name(temp, hash string) error {
	folder := b.path(hash[:2])
	err := os.Mkdir(folder, 0o700)
	if err == nil {
		err = flush(b.folder)
	} else if errors.Is(err, fs.ErrExist) {
		err = nil
	}
	if err == nil {
		err = os.Rename(temp, b.place(hash))
	}
	if err == nil {
		err = flush(folder)
	}
	return failed(err)
}

// flush makes the names in a folder last.
func flush(folder string) error {
	f, err := os.Open(folder)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}

// Get opens a blob.
func (b *Blobs) Get(hash string) (io.ReadCloser, error) {
	if !store.IsHash(hash) {
		return nil, store.ErrNoBlob
	}
	f, err := os.Open(b.place(hash))
	if err != nil {
		return nil, b.missing(err)
	}
	return f, nil
}

// Drop removes a blob's file and that of its parts.
func (b *Blobs) Drop(hash string) error {
	if !store.IsHash(hash) {
		return store.ErrNoBlob
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	part := b.drop(b.partPath(hash))
	whole := b.drop(b.place(hash))
	if err := errors.Join(ignoring(part, store.ErrNoBlob), ignoring(whole, store.ErrNoBlob)); err != nil {
		return err
	}
	if part == nil || whole == nil {
		return nil
	}
	return store.ErrNoBlob
}

// drop removes a file for good, or gives ErrNoBlob.
func (b *Blobs) drop(path string) error {
	if err := os.Remove(path); err != nil {
		return b.missing(err)
	}
	return failed(flush(filepath.Dir(path)))
}

// Size is a blob's length.
func (b *Blobs) Size(hash string) (int64, error) {
	if !store.IsHash(hash) {
		return 0, store.ErrNoBlob
	}
	info, err := os.Stat(b.place(hash))
	if err != nil {
		return 0, b.missing(err)
	}
	return info.Size(), nil
}

// missing is ErrNoBlob for a file that is not there. Anything else broke, also a folder that has gone.
func (b *Blobs) missing(err error) error {
	if !errors.Is(err, fs.ErrNotExist) {
		return failed(err)
	}
	if _, gone := os.Stat(b.folder); gone != nil {
		return failed(gone)
	}
	return store.ErrNoBlob
}

func failed(err error) error { return store.Failed(store.CodeBroken, err) }
