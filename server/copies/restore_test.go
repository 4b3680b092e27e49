package copies

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// back is a data folder that a copy was put into.
func back(t *testing.T, copied, data string) {
	t.Helper()
	if _, err := Restore(ctx, copied, data, textStore("")); err != nil {
		t.Fatal(err)
	}
	got, want := tree(t, data), tree(t, copied)
	delete(want, manifestFile)
	want[StoreFile] += " renewed"
	if !slices.Equal(names(got), names(want)) {
		t.Errorf("%v\nwant %v", names(got), names(want))
	}
	for name, text := range want {
		if got[name] != text {
			t.Errorf("%s: %q", name, got[name])
		}
	}
}

func TestRestore(t *testing.T) {
	c := made(t, house(t), t.TempDir(), noon)
	back(t, c.Path, filepath.Join(t.TempDir(), "new", "data"))
	back(t, c.Path, t.TempDir())
	mounted := t.TempDir()
	if err := os.Mkdir(filepath.Join(mounted, "lost+found"), 0o700); err != nil {
		t.Fatal(err)
	}
	back(t, c.Path, mounted)
	if info, err := os.Stat(filepath.Join(mounted, "https", "authority.pem")); err != nil || info.Mode().Perm() != 0o600 {
		t.Errorf("%v %v", info, err)
	}
	before := tree(t, mounted)
	if _, err := Restore(ctx, c.Path, mounted, textStore("")); !errors.Is(err, ErrNotEmpty) {
		t.Errorf("%v", err)
	}
	if after := tree(t, mounted); !slices.Equal(names(before), names(after)) {
		t.Errorf("%v", names(after))
	}
	// A copy of what was restored is a copy like any other: pictures are not shared with the copy they came from.
	if same(filepath.Join(mounted, blobPath("one")), filepath.Join(c.Path, blobPath("one"))) {
		t.Error("the new data folder shares bytes with the copy")
	}
}

// A copy that is not whole is not put back, and the folder stays empty.
func TestRestoreOfADamagedCopy(t *testing.T) {
	for what, spoil := range map[string]func(copied string, s *Store){
		"holds other bytes": func(copied string, _ *Store) { put(t, "X"+storeText[1:], copied, StoreFile) },
		"is missing":        func(copied string, _ *Store) { _ = os.Remove(filepath.Join(copied, blobPath("one"))) },
		"it says so": func(_ string, s *Store) {
			s.Check = func(string) ([]string, error) { return []string{"it says so"}, nil }
		},
		"stop":     func(_ string, s *Store) { s.Renew = func(string) error { return errStop } },
		"manifest": func(copied string, _ *Store) { put(t, "{", copied, manifestFile) },
	} {
		c, data, store := made(t, house(t), t.TempDir(), noon), filepath.Join(t.TempDir(), "data"), textStore("")
		spoil(c.Path, &store)
		if _, err := Restore(ctx, c.Path, data, store); err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("%s: %v", what, err)
		}
		if entries, err := os.ReadDir(data); len(entries) > 0 {
			t.Errorf("%s: left %v, %v", what, entries, err)
		}
	}
}

// Until the store has its new incarnation a mark says that the folder is not whole, and no store has its name.
func TestACrashWhileRestoring(t *testing.T) {
	c, data, store := made(t, house(t), t.TempDir(), noon), t.TempDir(), textStore("")
	renew := store.Renew
	store.Renew = func(path string) error {
		now := tree(t, data)
		if _, marked := now[Restoring]; !marked || now[StoreFile] != "" || len(now) != 7 {
			t.Errorf("while restoring: %v", names(now))
		}
		return renew(path)
	}
	if _, err := Restore(ctx, c.Path, data, store); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(filepath.Join(data, Restoring)); err == nil {
		t.Error("the mark stays")
	}
}
