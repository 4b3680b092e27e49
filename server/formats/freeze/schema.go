package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"

	"jointwalk/sync/record/schema"
)

// snapshots writes the schemas anew; with release it also freezes them, unless
// they are no addition to what was released before.
func snapshots(release bool) error {
	for name, made := range map[string][]byte{"event.json": schema.Event(), "receipt.json": schema.Receipt()} {
		const home = "sync/record/schema"
		if err := os.WriteFile(filepath.Join(home, name), made, 0o644); err != nil {
			return err
		}
		if !release {
			continue
		}
		if err := freezeSchema(filepath.Join(home, "released", name), made); err != nil {
			return err
		}
	}
	return nil
}

func freezeSchema(path string, made []byte) error {
	before, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return os.WriteFile(path, made, 0o644)
	}
	if err != nil {
		return err
	}
	breaks, err := schema.Breaks(before, made, schema.Retired)
	if err != nil {
		return err
	}
	if len(breaks) > 0 {
		return fmt.Errorf("%s is not additive: %v", path, breaks)
	}
	return os.WriteFile(path, made, 0o644)
}
