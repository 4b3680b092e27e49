package copies

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"
)

var (
	noon    = time.Date(2026, 3, 4, 12, 0, 0, 0, time.UTC)
	ctx     = context.Background()
	errStop = errors.New("stop")
	errLink = &os.LinkError{Op: "link", Err: syscall.EXDEV}
)

const storeText = "all that happened"

func put(t testing.TB, text string, path ...string) {
	t.Helper()
	name := filepath.Join(path...)
	if err := errors.Join(os.MkdirAll(filepath.Dir(name), 0o700), os.WriteFile(name, []byte(text), 0o600)); err != nil {
		t.Fatal(err)
	}
}

func sum(text string) string {
	s := sha256.Sum256([]byte(text))
	return hex.EncodeToString(s[:])
}

func blobPath(text string) string { return filepath.Join(BlobsFolder, sum(text)[:2], sum(text)) }

// textStore is a store that is a text: it is damaged when it says so, and renewed by a word.
func textStore(data string) Store {
	return Store{
		Copy: func(_ context.Context, w io.Writer) error {
			text, err := os.ReadFile(filepath.Join(data, StoreFile))
			if err == nil {
				_, err = w.Write(text)
			}
			return err
		},
		Check: func(path string) ([]string, error) {
			text, err := os.ReadFile(path)
			if bytes.Contains(text, []byte("damaged")) {
				return []string{"it says so"}, err
			}
			return nil, err
		},
		Renew: func(path string) error {
			text, err := os.ReadFile(path)
			return errors.Join(err, os.WriteFile(path, append(text, " renewed"...), 0o600))
		},
	}
}

// house is a data folder with all that one has, and things that are not for a copy.
func house(t testing.TB) Source {
	t.Helper()
	data := filepath.Join(t.TempDir(), "data")
	put(t, storeText, data, StoreFile)
	for _, text := range []string{"one", "two", "three"} {
		put(t, text, data, blobPath(text))
	}
	put(t, "secret", data, "https", "authority.pem")
	put(t, "later", data, "kept", "deep", "file")
	for _, not := range []string{"blobs/waiting/1", "blobs/parts/2", "copies/copy-old/x", "control", ".probe", "store-before-2", "copy-by-hand/y", ".unfinished-x/z"} {
		put(t, "not this", data, filepath.FromSlash(not))
	}
	return Source{Data: data, Program: "v1", Store: textStore(data), Skip: []string{".probe", "store-before-*"}}
}

func made(t testing.TB, s Source, folder string, now time.Time) Copy {
	t.Helper()
	c, err := Make(ctx, s, folder, now)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// tree is all files below a folder with their content.
func tree(t testing.TB, folder string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		text, err := os.ReadFile(path)
		name, _ := filepath.Rel(folder, path)
		all[filepath.ToSlash(name)] = string(text)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func names(all map[string]string) []string {
	var list []string
	for name := range all {
		list = append(list, name)
	}
	slices.Sort(list)
	return list
}

func verified(t testing.TB, path string) (*Manifest, []string) {
	t.Helper()
	m, err := Read(path)
	if err != nil {
		t.Fatal(err)
	}
	faults, err := Verify(ctx, path, m)
	if err != nil {
		t.Fatal(err)
	}
	return m, faults
}

func TestACopyHoldsAll(t *testing.T) {
	s, folder := house(t), filepath.Join(t.TempDir(), "deep", "folder")
	c := made(t, s, folder, noon)
	want := []string{"https/authority.pem", StoreFile, "kept/deep/file", manifestFile}
	for _, text := range []string{"one", "two", "three"} {
		want = append(want, filepath.ToSlash(blobPath(text)))
	}
	slices.Sort(want)
	got := tree(t, c.Path)
	if !slices.Equal(names(got), want) {
		t.Errorf("%v\nwant %v", names(got), want)
	}
	if got[StoreFile] != storeText || got["https/authority.pem"] != "secret" || got[filepath.ToSlash(blobPath("two"))] != "two" {
		t.Errorf("%v", got)
	}
	m, faults := verified(t, c.Path)
	if len(faults) > 0 || len(m.Files) != 6 || !m.Made.Equal(noon) || m.Program != "v1" || m.Damaged != nil {
		t.Errorf("%v %+v", faults, m)
	}
	if all, err := List(folder); err != nil || len(all) != 1 || all[0].Path != c.Path || !all[0].Made.Equal(noon) {
		t.Errorf("%v %v", all, err)
	}
}

// A copy within the data folder, wherever it is there, never holds copies.
func TestACopyInTheDataFolder(t *testing.T) {
	s := house(t)
	for _, name := range []string{Folder, "mine", "deep/mine", "."} {
		folder := filepath.Join(s.Data, filepath.FromSlash(name))
		for i := range 2 {
			c := made(t, s, folder, noon.Add(time.Duration(i)*time.Second))
			for _, path := range names(tree(t, c.Path)) {
				if strings.Contains(path, namePrefix) {
					t.Errorf("in %s: %s", name, path)
				}
			}
		}
		if all, err := List(folder); err != nil || len(all) != 2 {
			t.Errorf("in %s: %v %v", name, all, err)
		}
		if name != "." {
			if err := os.RemoveAll(folder); err != nil {
				t.Fatal(err)
			}
		}
	}
}

// Pictures share their bytes: with the data folder, or on another disk with the copy before; else they are copied.
func TestPicturesAreShared(t *testing.T) {
	s, folder := house(t), t.TempDir()
	place := blobPath("one")
	first := made(t, s, folder, noon)
	if !same(filepath.Join(s.Data, place), filepath.Join(first.Path, place)) {
		t.Error("not shared with the data folder")
	}
	other := filepath.Join(t.TempDir(), "other disk")
	s.link = func(from, to string) error {
		if strings.HasPrefix(from, s.Data) {
			return errLink
		}
		return os.Link(from, to)
	}
	first = made(t, s, other, noon)
	put(t, "four", s.Data, blobPath("four"))
	second := made(t, s, other, noon.Add(time.Hour))
	if same(filepath.Join(s.Data, place), filepath.Join(first.Path, place)) || !same(filepath.Join(first.Path, place), filepath.Join(second.Path, place)) {
		t.Error("not shared with the copy before")
	}
	if m, faults := verified(t, second.Path); len(faults) > 0 || len(m.Files) != 7 {
		t.Errorf("%v %v", faults, m.Files)
	}
	put(t, "on", first.Path, place) // cut, in the second too
	third := made(t, s, other, noon.Add(2*time.Hour))
	if _, faults := verified(t, third.Path); len(faults) > 0 {
		t.Errorf("a picture of another length was shared: %v", faults)
	}
}

// One picture with wrong bytes is left out and named, and all others are copied.
func TestADamagedPictureIsLeftOut(t *testing.T) {
	s := house(t)
	s.link = func(string, string) error { return errLink }
	put(t, "spoilt", s.Data, blobPath("two"))
	c := made(t, s, t.TempDir(), noon)
	m, faults := verified(t, c.Path)
	if len(faults) > 0 || len(m.Files) != 5 || !slices.Equal(m.Damaged, []string{sum("two")}) {
		t.Errorf("%v %+v", faults, m)
	}
	count, size, faults, err := CheckBlobs(ctx, filepath.Join(s.Data, BlobsFolder))
	if err != nil || count != 3 || size != int64(len("onespoiltthree")) || len(faults) != 1 || !strings.Contains(faults[0], sum("two")) {
		t.Errorf("%d %d %v %v", count, size, faults, err)
	}
}

// Whatever fails, nothing is left of the copy, and those before it stay.
func TestACopyThatFails(t *testing.T) {
	for name, spoil := range map[string]func(*Source){
		"the store breaks off": func(s *Source) {
			s.Store.Copy = func(_ context.Context, w io.Writer) error {
				_, err := io.WriteString(w, "half")
				return errors.Join(err, errStop)
			}
		},
		"the disk is full": func(s *Source) {
			s.Store.Copy = func(context.Context, io.Writer) error { return &fs.PathError{Op: "write", Err: syscall.ENOSPC} }
		},
		"the store is damaged": func(s *Source) { put(t, "damaged", s.Data, StoreFile) },
		"the check breaks":     func(s *Source) { s.Store.Check = func(string) ([]string, error) { return nil, errStop } },
		"there is no store":    func(s *Source) { s.Data = filepath.Join(s.Data, "https") },
		"there is no room":     func(s *Source) { s.free = func(string) (uint64, bool) { return reserve, true } },
		"a picture is a folder": func(s *Source) {
			s.link = func(string, string) error { return errLink }
			put(t, "x", s.Data, blobPath("four"), "x")
		},
	} {
		s, folder := house(t), t.TempDir()
		made(t, s, folder, noon)
		before := names(tree(t, folder))
		spoil(&s)
		c, err := Make(ctx, s, folder, noon.Add(time.Hour))
		if err == nil || c != (Copy{}) {
			t.Errorf("%s: %v %v", name, c, err)
		}
		if strings.HasPrefix(name, "there is no room") && !errors.Is(err, syscall.ENOSPC) {
			t.Errorf("%v", err)
		}
		entries, listed := os.ReadDir(folder)
		if after := names(tree(t, folder)); !slices.Equal(before, after) || listed != nil || len(entries) != 1 {
			t.Errorf("%s: left %v", name, entries)
		}
	}
	s, folder := house(t), t.TempDir()
	ended, end := context.WithCancel(ctx)
	s.Store.Check = func(string) ([]string, error) { end(); return nil, nil }
	if _, err := Make(ended, s, folder, noon); !errors.Is(err, context.Canceled) || len(tree(t, folder)) != 0 {
		t.Errorf("%v, left %v", err, tree(t, folder))
	}
}

// What a killed process left is removed with the next copy.
func TestWhatACrashLeft(t *testing.T) {
	s, folder := house(t), t.TempDir()
	put(t, "half", folder, unfinished+"20260303T120000.000Z", StoreFile)
	put(t, "mine", folder, "other", "file")
	made(t, s, folder, noon)
	if entries, err := os.ReadDir(folder); err != nil || len(entries) != 2 {
		t.Errorf("%v %v", entries, err)
	}
}

// Each change of a copy is seen, whatever file it is in.
func TestVerify(t *testing.T) {
	s := house(t)
	s.link = func(string, string) error { return errLink }
	c := made(t, s, t.TempDir(), noon)
	whole := tree(t, c.Path)
	for name, text := range whole {
		path := filepath.Join(c.Path, filepath.FromSlash(name))
		for what, change := range map[string]func(){
			"cut":     func() { put(t, text[:len(text)-1], path) },
			"changed": func() { put(t, "X"+text[1:], path) },
			"longer":  func() { put(t, text+"x", path) },
			"gone":    func() { _ = os.Remove(path) }, // seen below when it did not work
		} {
			change()
			m, err := Read(c.Path)
			if err == nil {
				var faults []string
				if faults, err = Verify(ctx, c.Path, m); err == nil && len(faults) == 0 {
					t.Errorf("%s was %s unseen", name, what)
				}
				if name != manifestFile && (len(faults) != 1 || !strings.HasPrefix(faults[0], name+" ")) {
					t.Errorf("%s was %s: %v", name, what, faults)
				}
			}
			put(t, text, path)
		}
	}
	put(t, "more", c.Path, "https", "more")
	if _, faults := verified(t, c.Path); len(faults) != 1 || faults[0] != "https/more is not in the manifest" {
		t.Errorf("%v", faults)
	}
}

// A manifest that leads out of its folder is not followed.
func TestAManifestThatLeadsOut(t *testing.T) {
	c := made(t, house(t), t.TempDir(), noon)
	m, _ := verified(t, c.Path)
	for _, name := range []string{"../secret", "/etc/passwd", "", StoreFile, "a/../../b"} {
		bad := *m
		bad.Files = append(slices.Clone(m.Files), File{Path: name})
		raw, err := json.Marshal(bad)
		if err != nil {
			t.Fatal(err)
		}
		put(t, string(raw), c.Path, manifestFile)
		if _, faults := verified(t, c.Path); len(faults) != 1 || !strings.Contains(faults[0], "is no name") {
			t.Errorf("%q: %v", name, faults)
		}
	}
	put(t, `{"format":2}`, c.Path, manifestFile)
	if _, err := Read(c.Path); err == nil || !strings.Contains(err.Error(), "format 2") {
		t.Errorf("%v", err)
	}
	if _, err := Read(t.TempDir()); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v", err)
	}
}

// A picture that is withdrawn while a copy is made is left out of it, before it is looked at and after.
func TestAPictureGoesWhileACopyIsMade(t *testing.T) {
	for name, going := range map[string]func(from string) []string{
		"itself":         func(from string) []string { return []string{from} },
		"its neighbours": neighbours,
	} {
		s := house(t)
		const more = 40 // so many that some lie in one folder
		for n := range more {
			put(t, strconv.Itoa(n), s.Data, blobPath(strconv.Itoa(n)))
		}
		var gone []string
		s.link = func(from, _ string) error {
			if len(gone) == 0 {
				gone = going(from)
			}
			for _, path := range gone {
				_ = os.Remove(path) // again, for those that are gone
			}
			return errLink
		}
		copied, err := Make(ctx, s, filepath.Join(t.TempDir(), "copies"), noon)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		m, err := Read(copied.Path)
		if err != nil {
			t.Fatal(err)
		}
		if faults, err := Verify(ctx, copied.Path, m); err != nil || len(faults) > 0 {
			t.Errorf("%s: %v %v", name, faults, err)
		}
		count, _, faults, err := CheckBlobs(ctx, filepath.Join(copied.Path, BlobsFolder))
		if want := 3 + more - len(gone); len(gone) == 0 || count != want || len(faults) > 0 || err != nil {
			t.Errorf("%s: %d pictures without %d, want %d: %v %v", name, count, len(gone), want, faults, err)
		}
	}
}

// neighbours are the pictures behind one in its folder.
func neighbours(from string) (paths []string) {
	all, _ := filepath.Glob(filepath.Join(filepath.Dir(from), "*")) // the pattern is good
	for _, path := range all {
		if path > from {
			paths = append(paths, path)
		}
	}
	return paths
}
