package copies

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"time"
)

const (
	manifestFile   = "manifest.json"
	manifestFormat = 1
)

// Manifest says what a copy holds.
type Manifest struct {
	Format  int       `json:"format"`
	Made    time.Time `json:"made"`
	Program string    `json:"program"` // the version that made it
	Files   []File    `json:"files"`
	// Damaged are pictures that were left out, since their bytes were not those of their hash any more.
	Damaged []string `json:"damaged,omitempty"`
}

// File is one file of a copy.
type File struct {
	Path   string `json:"path"` // below the copy, with slashes
	Size   int64  `json:"size"` // bytes
	SHA256 string `json:"sha256"`
}

// Read reads the manifest of a copy. What is no copy has fs.ErrNotExist as its cause.
func Read(copied string) (*Manifest, error) {
	raw, err := os.ReadFile(filepath.Join(copied, manifestFile))
	if err != nil {
		return nil, err
	}
	var m Manifest
	if err := json.Unmarshal(raw, &m); err != nil {
		return nil, &Fault{copied, []string{"its manifest cannot be read: " + err.Error()}}
	}
	if m.Format != manifestFormat {
		return nil, &Fault{copied, []string{fmt.Sprintf("its manifest is of format %d, which this version does not know", m.Format)}}
	}
	return &m, nil
}

// Verify reads all of a copy, and gives what is not as its manifest says. It does not look into the store.
func Verify(ctx context.Context, copied string, m *Manifest) (faults []string, err error) {
	known := map[string]bool{manifestFile: true}
	for _, f := range m.Files {
		if !filepath.IsLocal(filepath.FromSlash(f.Path)) || known[f.Path] {
			faults = append(faults, fmt.Sprintf("%q is no name for a file of a copy", f.Path))
			continue
		}
		known[f.Path] = true
		fault, err := f.verify(ctx, copied)
		if err != nil {
			return faults, err
		}
		if fault != "" {
			faults = append(faults, f.Path+" "+fault)
		}
	}
	if !known[StoreFile] {
		faults = append(faults, StoreFile+" is not in the manifest")
	}
	more, err := unknown(copied, known)
	return append(faults, more...), err
}

// verify gives what is wrong with a file, "" for nothing.
func (f File) verify(ctx context.Context, copied string) (string, error) {
	size, sum, err := digest(ctx, io.Discard, filepath.Join(copied, filepath.FromSlash(f.Path)))
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "is missing", nil
	case err != nil && ctx.Err() != nil:
		return "", err
	case err != nil:
		return "cannot be read: " + err.Error(), nil
	case size != f.Size:
		return fmt.Sprintf("has %d bytes instead of %d", size, f.Size), nil
	case sum != f.SHA256:
		return "holds other bytes than were copied", nil
	}
	return "", nil
}

// unknown are files of a copy that its manifest does not know.
func unknown(copied string, known map[string]bool) (faults []string, err error) {
	err = filepath.WalkDir(copied, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		name, err := filepath.Rel(copied, path)
		if err == nil && !known[filepath.ToSlash(name)] {
			faults = append(faults, filepath.ToSlash(name)+" is not in the manifest")
		}
		return err
	})
	return faults, err
}

// digest copies a file into to and gives its length and hash.
func digest(ctx context.Context, to io.Writer, path string) (size int64, sum string, err error) {
	from, err := os.Open(path)
	if err != nil {
		return 0, "", err
	}
	defer from.Close() // read only: closing cannot lose anything
	hash := sha256.New()
	size, err = io.Copy(io.MultiWriter(to, hash, stopping{ctx}), from)
	return size, hex.EncodeToString(hash.Sum(nil)), err
}

// stopping refuses to take more once its context has ended.
type stopping struct{ ctx context.Context }

func (s stopping) Write(p []byte) (int, error) { return len(p), s.ctx.Err() }

// CheckBlobs holds the pictures in a folder of blobs to their hashes.
func CheckBlobs(ctx context.Context, folder string) (count int, bytes int64, faults []string, err error) {
	err = Blobs(folder, func(path, hash string) error {
		size, sum, err := digest(ctx, io.Discard, filepath.Join(folder, path))
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case err != nil:
			faults = append(faults, fmt.Sprintf("picture %s cannot be read: %v", hash, err))
		case sum != hash:
			faults = append(faults, fmt.Sprintf("picture %s holds other bytes", hash))
		}
		count, bytes = count+1, bytes+size
		return nil
	})
	return count, bytes, faults, err
}
