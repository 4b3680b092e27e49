package files_test

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"jointwalk/server/store"
	"jointwalk/server/store/files"
	"jointwalk/server/store/storetest"
)

func opened(t testing.TB, folder string) *files.Blobs {
	t.Helper()
	blobs, err := files.Open(folder, time.Now())
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
		if blobs, err := files.Open(folder, time.Now()); store.CodeOf(err) != store.CodeBroken || blobs != nil {
			t.Errorf("%s: %v %v", folder, blobs, err)
		}
	}
}

// part writes a part past the package, as a crash may leave it, and opens the folder.
func part(t *testing.T, body, left []byte) *files.Blobs {
	t.Helper()
	folder := t.TempDir()
	opened(t, folder)
	if err := os.WriteFile(filepath.Join(folder, "parts", storetest.Sum(body)), left, 0o600); err != nil {
		t.Fatal(err)
	}
	return opened(t, folder)
}

// send hands in what a blob still lacks, until it is whole or refused.
func send(blobs *files.Blobs, body []byte) error {
	have, whole, err := blobs.Part(storetest.Sum(body))
	for err == nil && !whole {
		end := min(have+4, int64(len(body)))
		have, whole, err = blobs.Extend(storetest.Sum(body), have, int64(len(body)), bytes.NewReader(body[min(have, end):end]))
	}
	return err
}

// Between the write of a chunk and its flush a crash may leave any length and any bytes. Of right bytes the rest is
// taken; wrong ones end in a wrong hash, and the next try begins anew. Never is there a blob with wrong bytes.
func TestTornParts(t *testing.T) {
	body := []byte("0123456789")
	for cut := range len(body) + 1 {
		if err := send(part(t, body, body[:cut]), body); err != nil {
			t.Errorf("cut at %d: %v", cut, err)
		}
		for _, length := range []int{cut + 1, len(body), len(body) + 5} { // zeros, as file systems leave them, up to there
			if cut == len(body) || length < cut {
				continue
			}
			torn := make([]byte, length)
			copy(torn, body[:cut])
			blobs := part(t, body, torn)
			err := send(blobs, body)
			if wrong := length <= len(body); (store.CodeOf(err) == store.CodeWrongHash) != wrong || !wrong && err != nil {
				t.Errorf("cut at %d, %d long: %v", cut, length, err)
			}
			if err := send(blobs, body); err != nil {
				t.Errorf("cut at %d, %d long, the second try: %v", cut, length, err)
			}
			got, err := blobs.Get(storetest.Sum(body))
			if err != nil {
				t.Fatal(err)
			}
			all, err := io.ReadAll(got)
			if err := errors.Join(err, got.Close()); err != nil || !bytes.Equal(all, body) {
				t.Errorf("cut at %d, %d long: %q %v", cut, length, all, err)
			}
		}
	}
}

// A part that nobody went on with for a week goes at the next start, and no other.
func TestStaleParts(t *testing.T) {
	folder, old, young := t.TempDir(), []byte("an old picture"), []byte("a young picture")
	blobs, now := opened(t, folder), time.Now()
	for _, body := range [][]byte{old, young} {
		if _, _, err := blobs.Extend(storetest.Sum(body), 0, int64(len(body)), bytes.NewReader(body[:5])); err != nil {
			t.Fatal(err)
		}
	}
	week := now.Add(-7*24*time.Hour - time.Minute)
	if err := os.Chtimes(filepath.Join(folder, "parts", storetest.Sum(old)), week, week); err != nil {
		t.Fatal(err)
	}
	blobs, err := files.Open(folder, now)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		body []byte
		want int64
	}{{old, 0}, {young, 5}} {
		if have, whole, err := blobs.Part(storetest.Sum(c.body)); have != c.want || whole || err != nil {
			t.Errorf("%s: %d %v %v", c.body, have, whole, err)
		}
	}
}
