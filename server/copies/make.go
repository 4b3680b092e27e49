package copies

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"time"
)

const (
	reserve   = 32 << 20 // bytes that a copy leaves free at least
	flushStep = 1 << 20  // bytes after which the copied store is flushed, so that others never wait for much
)

// ErrNoRoom says that the disk of the copies has too little room for one. Nothing was written.
var ErrNoRoom = fmt.Errorf("no room for a copy: %w", syscall.ENOSPC)

// Make makes a copy in a folder, which is made when it is not there. It gets its name when it is whole, checked and
// flushed; when that fails nothing is left of it.
func Make(ctx context.Context, s Source, folder string, now time.Time) (made Copy, err error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return made, err
	}
	if err := errors.Join(sweep(folder), s.room(folder)); err != nil {
		return made, err
	}
	name := now.UTC().Format(nameStamp)
	made = Copy{filepath.Join(folder, namePrefix+name), now}
	m := &making{ctx: ctx, source: s, into: folder, to: filepath.Join(folder, unfinished+name), manifest: Manifest{Format: manifestFormat, Made: now.UTC(), Program: s.Program}}
	err = m.all()
	if err == nil {
		err = os.Rename(m.to, made.Path)
	}
	if err == nil {
		err = flush(folder)
	}
	if err != nil {
		return Copy{}, errors.Join(err, os.RemoveAll(m.to))
	}
	return made, nil
}

// sweep removes what a crash left of a copy.
func sweep(folder string) error {
	left, err := filepath.Glob(filepath.Join(folder, unfinished+"*"))
	for _, path := range left {
		err = errors.Join(err, os.RemoveAll(path))
	}
	return err
}

// room refuses to begin a copy that would take the server's last room.
func (s Source) room(folder string) error {
	info, err := os.Stat(filepath.Join(s.Data, StoreFile))
	if err != nil {
		return err
	}
	free, known := free(folder)
	if s.free != nil {
		free, known = s.free(folder)
	}
	if known && free < uint64(info.Size())+reserve {
		return ErrNoRoom
	}
	return nil
}

// making is a copy on its way.
type making struct {
	ctx      context.Context
	source   Source
	into, to string
	manifest Manifest
	before   string // the newest copy in the folder, "" for none
}

func (m *making) all() error {
	earlier, err := List(m.into)
	if err != nil {
		return err
	}
	if len(earlier) > 0 {
		m.before = earlier[len(earlier)-1].Path
	}
	if err := os.Mkdir(m.to, 0o700); err != nil {
		return err
	}
	// The store comes first: a picture that was there when it was copied is still there afterwards, unless it was withdrawn.
	for _, step := range []func() error{m.store, m.blobs, func() error { return m.others("", 8) }, m.write} {
		if err := step(); err != nil {
			return err
		}
	}
	return nil
}

// store copies the store and checks the copy.
func (m *making) store() error {
	path := filepath.Join(m.to, StoreFile)
	out, err := create(path)
	if err != nil {
		return err
	}
	err = m.source.Store.Copy(m.ctx, out)
	if err := errors.Join(err, out.end()); err != nil {
		return err
	}
	m.add(StoreFile, out.size, out.sum())
	faults, err := m.source.Store.Check(path)
	if err == nil && len(faults) > 0 {
		err = &Fault{"the store is damaged, no copy was made", faults}
	}
	return err
}

func (m *making) add(path string, size int64, sum string) {
	m.manifest.Files = append(m.manifest.Files, File{filepath.ToSlash(path), size, sum})
}

// blobs takes in the pictures.
func (m *making) blobs() error {
	if err := os.Mkdir(filepath.Join(m.to, BlobsFolder), 0o700); err != nil {
		return err
	}
	err := Blobs(filepath.Join(m.source.Data, BlobsFolder), func(path, hash string) error {
		return m.blob(filepath.Join(BlobsFolder, path), hash)
	})
	return errors.Join(err, flush(filepath.Join(m.to, BlobsFolder)))
}

// blob shares a picture's bytes where that can be, or else copies them. One that is damaged is left out, so that it
// keeps nothing else from being copied.
func (m *making) blob(path, hash string) error {
	from, to := filepath.Join(m.source.Data, path), filepath.Join(m.to, path)
	if err := os.Mkdir(filepath.Dir(to), 0o700); err != nil && !errors.Is(err, fs.ErrExist) {
		return err
	}
	info, err := os.Stat(from)
	if errors.Is(err, fs.ErrNotExist) {
		return m.ctx.Err() // withdrawn since
	}
	if err := errors.Join(err, m.ctx.Err()); err != nil {
		return err
	}
	if m.share(path, info.Size()) {
		m.add(path, info.Size(), hash)
		return nil
	}
	size, sum, err := copyFile(m.ctx, from, to)
	if errors.Is(err, fs.ErrNotExist) {
		return m.withdrawn(to)
	}
	if err == nil && sum != hash {
		m.manifest.Damaged = append(m.manifest.Damaged, hash)
		return os.Remove(to)
	}
	m.add(path, size, sum)
	return err
}

// withdrawn forgets a picture that went while it was to be copied.
func (m *making) withdrawn(to string) error {
	if err := os.Remove(to); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	return nil
}

// share links a picture from the data folder, or from the copy before, where one on another disk has it already.
func (m *making) share(path string, size int64) bool {
	to := filepath.Join(m.to, path)
	link := m.source.link
	if link == nil {
		link = os.Link
	}
	if link(filepath.Join(m.source.Data, path), to) == nil {
		return true
	}
	before := filepath.Join(m.before, path)
	info, err := os.Stat(before)
	return m.before != "" && err == nil && info.Size() == size && link(before, to) == nil
}

// copyFile copies one file and flushes it.
func copyFile(ctx context.Context, from, to string) (size int64, sum string, err error) {
	out, err := create(to)
	if err != nil {
		return 0, "", err
	}
	size, sum, err = digest(ctx, out, from)
	return size, sum, errors.Join(err, out.end())
}

// others copies the rest of the data folder: keys, certificates, whatever a later version keeps there.
func (m *making) others(below string, depth int) error {
	entries, err := os.ReadDir(filepath.Join(m.source.Data, below))
	if err != nil || depth == 0 {
		return err
	}
	for _, entry := range entries {
		if below == "" && m.skips(entry.Name()) {
			continue
		}
		if err := m.other(filepath.Join(below, entry.Name()), depth); err != nil {
			return err
		}
	}
	return nil
}

func (m *making) other(path string, depth int) error {
	from, to := filepath.Join(m.source.Data, path), filepath.Join(m.to, path)
	info, err := os.Stat(from)
	switch {
	case errors.Is(err, fs.ErrNotExist): // gone since, as files that are written anew do
		return nil
	case err != nil:
		return err
	case info.IsDir() && same(from, m.into):
		return nil
	case info.IsDir():
		return errors.Join(os.Mkdir(to, 0o700), m.others(path, depth-1), flush(to))
	case !info.Mode().IsRegular():
		return nil
	}
	size, sum, err := copyFile(m.ctx, from, to)
	m.add(path, size, sum)
	return err
}

// skips says whether a name in the data folder is not for a copy.
func (m *making) skips(name string) bool {
	own := []string{StoreFile, BlobsFolder, Folder, Control, Restoring, manifestFile, namePrefix + "*", unfinished + "*"}
	return slices.ContainsFunc(append(own, m.source.Skip...), func(skip string) bool {
		start, any := strings.CutSuffix(skip, "*")
		return name == skip || any && strings.HasPrefix(name, start)
	})
}

func same(a, b string) bool {
	one, err1 := os.Stat(a)
	other, err2 := os.Stat(b)
	return err1 == nil && err2 == nil && os.SameFile(one, other)
}

// write writes the manifest, and makes all names last.
func (m *making) write() error {
	raw, err := json.MarshalIndent(m.manifest, "", " ")
	if err != nil {
		return err
	}
	out, err := create(filepath.Join(m.to, manifestFile))
	if err != nil {
		return err
	}
	_, err = out.Write(raw)
	err = errors.Join(err, out.end())
	groups, listed := os.ReadDir(filepath.Join(m.to, BlobsFolder))
	err = errors.Join(err, listed)
	for _, group := range groups {
		err = errors.Join(err, flush(filepath.Join(m.to, BlobsFolder, group.Name())))
	}
	return errors.Join(err, flush(m.to))
}

// output is a new file that is hashed while it is written, and flushed step by step.
type output struct {
	file      *os.File
	hash      hash.Hash
	size      int64
	unflushed int
}

func create(path string) (*output, error) {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o600)
	return &output{file: f, hash: sha256.New()}, err
}

func (o *output) Write(p []byte) (int, error) {
	n, err := o.file.Write(p)
	_, _ = o.hash.Write(p[:n]) // never fails
	o.size += int64(n)
	if o.unflushed += n; err == nil && o.unflushed >= flushStep {
		o.unflushed, err = 0, o.file.Sync()
	}
	return n, err
}

// end flushes and closes it.
func (o *output) end() error { return errors.Join(o.file.Sync(), o.file.Close()) }

func (o *output) sum() string { return hex.EncodeToString(o.hash.Sum(nil)) }
