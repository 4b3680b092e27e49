// Package planted plants bugs into shipped files by an overlay of the build, so that no hook for them is shipped: tests show that
// they would be found.
package planted

import (
	"encoding/json"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// Bug is a bug as edits: each old text must stand in its file once.
type Bug struct {
	Name  string `json:"-"`
	About string `json:"about"`
	Quick bool   `json:"quick"` // planted each time, not only where all are
	Edits []struct {
		File string `json:"file"` // from the root of the repository
		Old  string `json:"old"`
		New  string `json:"new"`
	} `json:"edits"`
}

// Read gives the bugs in a folder, by name.
func Read(t testing.TB, folder string) (bugs []Bug) {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(folder, "*.json"))
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range paths {
		b := Bug{Name: strings.TrimSuffix(filepath.Base(path), ".json")}
		if err := json.Unmarshal(read(t, path), &b); err != nil {
			t.Fatalf("%s: %v", path, err)
		}
		bugs = append(bugs, b)
	}
	return bugs
}

func read(t testing.TB, path string) []byte {
	t.Helper()
	raw, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// Overlay writes the changed files and says where they are, as go build -overlay reads it. Root is that of the repository.
func (b Bug) Overlay(t testing.TB, root string) string {
	t.Helper()
	folder, replace := t.TempDir(), map[string]string{}
	for i, edit := range b.Edits {
		path, err := filepath.Abs(filepath.Join(root, edit.File))
		if err != nil {
			t.Fatal(err)
		}
		from := path
		if before := replace[path]; before != "" {
			from = before
		}
		text := string(read(t, from))
		if n := strings.Count(text, edit.Old); n != 1 {
			t.Fatalf("%s: the text that is to be changed stands there %d times:\n%s", edit.File, n, edit.Old)
		}
		replace[path] = filepath.Join(folder, strconv.Itoa(i)+".go")
		write(t, replace[path], []byte(strings.Replace(text, edit.Old, edit.New, 1)))
	}
	raw, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(folder, "overlay.json")
	write(t, path, raw)
	return path
}

func write(t testing.TB, path string, raw []byte) {
	t.Helper()
	if err := os.WriteFile(path, raw, 0o600); err != nil {
		t.Fatal(err)
	}
}
