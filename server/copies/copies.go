// Package copies keeps copies of the data folder: made while the server works with it, held to a manifest, put back
// into a new folder. A copy is a folder, not an archive: pictures never change, so copies on one disk share their bytes
// by hard links, and a single file can be looked at or taken out without any tool.
package copies

import (
	"context"
	"crypto/sha256"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"
)

// What the data folder holds, by name. A copy holds the same, without what is only for a running server.
const (
	StoreFile   = "jointwalk.db"
	BlobsFolder = "blobs"
	Folder      = "copies"     // where the nightly copies are, unless they go elsewhere
	Control     = "control"    // the socket by which a running server is asked
	Restoring   = ".restoring" // is there while a copy is put back: the folder is not whole
)

const (
	namePrefix = "copy-"
	nameStamp  = "20060102T150405.000Z"
	unfinished = ".unfinished-" // begins the name of a copy that is being made
)

// Store is what to do with the store in a data folder. Check and Renew are for a file that nobody has open.
type Store struct {
	Copy  func(ctx context.Context, w io.Writer) error // writes it as it is at one moment
	Check func(path string) (faults []string, err error)
	Renew func(path string) error // gives it a new incarnation
}

// Source is what copies are made of.
type Source struct {
	Data    string // the data folder
	Program string // the version that runs, for the manifest
	Store   Store
	Skip    []string // names in the data folder that are not copied, or what they begin with when they end in *

	link func(from, to string) error // nil is os.Link; tests have disks that cannot
	free func(folder string) (bytes uint64, known bool)
}

// Copy is one that was made whole.
type Copy struct {
	Path string
	Made time.Time
}

// Fault says what is wrong with a store or a copy.
type Fault struct {
	What   string
	Faults []string
}

// Error is all in one line.
func (f *Fault) Error() string { return f.What + ": " + strings.Join(f.Faults, "; ") }

// List gives the copies in a folder, oldest first. A folder that is not there holds none.
func List(folder string) ([]Copy, error) {
	entries, err := os.ReadDir(folder)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var found []Copy
	for _, entry := range entries {
		stamp, named := strings.CutPrefix(entry.Name(), namePrefix)
		made, err := time.Parse(nameStamp, stamp)
		if named && err == nil && entry.IsDir() {
			found = append(found, Copy{filepath.Join(folder, entry.Name()), made})
		}
	}
	slices.SortFunc(found, func(a, b Copy) int { return a.Made.Compare(b.Made) })
	return found, nil
}

// Blobs calls do with the path below a folder of blobs, and the hash, of each. A folder that is not there holds none.
func Blobs(folder string, do func(path, hash string) error) error {
	groups, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	for _, group := range groups {
		if len(group.Name()) != 2 {
			continue // what is on its way
		}
		blobs, err := os.ReadDir(filepath.Join(folder, group.Name()))
		if err != nil {
			return err
		}
		for _, blob := range blobs {
			if len(blob.Name()) != 2*sha256.Size {
				continue // none of ours
			}
			if err := do(filepath.Join(group.Name(), blob.Name()), blob.Name()); err != nil {
				return err
			}
		}
	}
	return nil
}

// flush makes the names in a folder last.
func flush(folder string) error {
	f, err := os.Open(folder)
	if err != nil {
		return err
	}
	return errors.Join(f.Sync(), f.Close())
}
