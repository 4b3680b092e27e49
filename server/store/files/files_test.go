package files_test

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"

	"jointwalk/server/store"
	"jointwalk/server/store/files"
	"jointwalk/server/store/storetest"
)

func opened(t testing.TB, folder string) *files.Blobs {
	t.Helper()
	blobs, err := files.Open(folder)
	if err != nil {
		t.Fatal(err)
	}
	return blobs
}

func TestBlobs(t *testing.T) {
	storetest.Blobs(t, func(t testing.TB) (store.Blobs, func() store.Blobs) {
		folder := filepath.Join(t.TempDir(), "blobs")
		return opened(t, folder), func() store.Blobs { return opened(t, folder) }
	})
}

// tree is all files below a folder.
func tree(t testing.TB, folder string) (paths []string) {
	t.Helper()
	err := filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			path, err = filepath.Rel(folder, path)
			paths = append(paths, filepath.ToSlash(path))
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return paths
}

// A backup by hand, and a later version, rely on where a blob lies.
func TestWhereABlobLies(t *testing.T) {
	folder, body := t.TempDir(), []byte("picture")
	blobs, hash := opened(t, folder), storetest.Sum(body)
	if err := blobs.Put(hash, bytes.NewReader(body)); err != nil {
		t.Fatal(err)
	}
	place := hash[:2] + "/" + hash
	if got := tree(t, folder); len(got) != 1 || got[0] != place {
		t.Errorf("%v", got)
	}
	if got, err := os.ReadFile(filepath.Join(folder, place)); err != nil || !bytes.Equal(got, body) {
		t.Errorf("%q %v", got, err)
	}
}

// Neither a refused body nor a crash leaves anything behind.
func TestNothingIsLeftBehind(t *testing.T) {
	folder, body := t.TempDir(), []byte("picture")
	blobs, errStop := opened(t, folder), errors.New("stop")
	if err := blobs.Put(storetest.Sum(body), strings.NewReader("other")); store.CodeOf(err) != store.CodeWrongHash {
		t.Errorf("%v", err)
	}
	if err := blobs.Put(storetest.Sum(body), iotest.ErrReader(errStop)); err != errStop {
		t.Errorf("the sender's error must come back as it is: %v", err)
	}
	if got := tree(t, folder); len(got) != 0 {
		t.Errorf("left: %v", got)
	}
	if err := os.WriteFile(filepath.Join(folder, "waiting", "half"), body[:3], 0o600); err != nil {
		t.Fatal(err)
	}
	opened(t, folder)
	if got := tree(t, folder); len(got) != 0 {
		t.Errorf("left after a crash: %v", got)
	}
}

// A folder that has gone is a store that broke: it must not say that the picture was never there.
func TestAFolderThatHasGone(t *testing.T) {
	folder, body := filepath.Join(t.TempDir(), "blobs"), []byte("picture")
	blobs, hash := opened(t, folder), storetest.Sum(body)
	if err := os.RemoveAll(folder); err != nil {
		t.Fatal(err)
	}
	_, get := blobs.Get(hash)
	_, size := blobs.Size(hash)
	put := blobs.Put(hash, bytes.NewReader(body))
	for i, err := range []error{get, size, put} {
		if store.CodeOf(err) != store.CodeBroken || errors.Is(err, store.ErrNoBlob) {
			t.Errorf("%d: %v", i, err)
		}
	}
}

func TestNoFolder(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, folder := range []string{file, filepath.Join(file, "blobs")} {
		if blobs, err := files.Open(folder); store.CodeOf(err) != store.CodeBroken || blobs != nil {
			t.Errorf("%s: %v %v", folder, blobs, err)
		}
	}
}
