package copies

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// ErrNotEmpty says that a copy can only be put into an empty folder.
var ErrNotEmpty = errors.New("the folder is not empty")

// Restore puts a copy into a data folder that is empty or not there. The copy is verified before, to its last byte,
// and its store checked. The store gets its name last and a new incarnation with it; when it fails before, the
// folder is empty again. After a crash the file Restoring is left: such a folder is not to be served.
func Restore(ctx context.Context, copied, data string, store Store) (*Manifest, error) {
	if err := empty(data); err != nil {
		return nil, err
	}
	m, err := Read(copied)
	if err != nil {
		return nil, err
	}
	faults, err := Verify(ctx, copied, m)
	if err == nil && len(faults) == 0 {
		faults, err = store.Check(filepath.Join(copied, StoreFile))
	}
	if err != nil {
		return nil, err
	}
	if len(faults) > 0 {
		return nil, &Fault{"the copy is damaged, nothing was restored", faults}
	}
	if err := fill(ctx, copied, data, m, store); err != nil {
		return nil, errors.Join(err, clear(data))
	}
	return m, nil
}

// empty makes a folder, or finds it without content.
func empty(data string) error {
	if err := os.MkdirAll(data, 0o700); err != nil {
		return err
	}
	entries, err := os.ReadDir(data)
	if err != nil {
		return err
	}
	for _, entry := range entries {
		if entry.Name() != "lost+found" { // of a new file system
			return ErrNotEmpty
		}
	}
	return nil
}

// clear removes all that a failed restore has written.
func clear(data string) error {
	entries, err := os.ReadDir(data)
	for _, entry := range entries {
		if entry.Name() != "lost+found" {
			err = errors.Join(err, os.RemoveAll(filepath.Join(data, entry.Name())))
		}
	}
	return err
}

// fill copies all files, the store last under a name that no server opens.
func fill(ctx context.Context, copied, data string, m *Manifest, store Store) error {
	mark := filepath.Join(data, Restoring)
	if err := os.WriteFile(mark, []byte(copied+"\n"), 0o600); err != nil {
		return err
	}
	if err := errors.Join(flush(data), flush(filepath.Dir(data))); err != nil {
		return err
	}
	for _, f := range m.Files {
		to := filepath.Join(data, filepath.FromSlash(f.Path))
		if f.Path == StoreFile {
			to += ".new"
		}
		if err := restore(ctx, filepath.Join(copied, filepath.FromSlash(f.Path)), to, f); err != nil {
			return err
		}
	}
	if err := errors.Join(flushAll(data), store.Renew(filepath.Join(data, StoreFile+".new"))); err != nil {
		return err
	}
	if err := os.Rename(filepath.Join(data, StoreFile+".new"), filepath.Join(data, StoreFile)); err != nil {
		return err
	}
	if err := flush(data); err != nil {
		return err
	}
	return errors.Join(os.Remove(mark), flush(data))
}

// restore copies one file and holds it to the manifest once more.
func restore(ctx context.Context, from, to string, f File) error {
	if err := os.MkdirAll(filepath.Dir(to), 0o700); err != nil {
		return err
	}
	size, sum, err := copyFile(ctx, from, to)
	if err == nil && (size != f.Size || sum != f.SHA256) {
		err = fmt.Errorf("%s changed while it was read", f.Path)
	}
	return err
}

// flushAll makes the names in all folders last.
func flushAll(data string) error {
	return filepath.WalkDir(data, func(path string, entry fs.DirEntry, err error) error {
		if err == nil && entry.IsDir() && entry.Name() != "lost+found" {
			err = flush(path)
		}
		if err == nil && entry.IsDir() && entry.Name() == "lost+found" {
			return fs.SkipDir
		}
		return err
	})
}
