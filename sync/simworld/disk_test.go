package simworld

import (
	"context"
	"os"
	"path/filepath"

	"jointwalk/server/store"
	"jointwalk/server/store/bolt"
	"jointwalk/server/store/memory"
)

// onDisk is the store of one file, in a folder of its own.
func onDisk(folder string) factory {
	return func(w *world) *vault {
		folder := must(os.MkdirTemp(folder, "seed"))
		return w.boltVault(filepath.Join(folder, "store.db"), memory.NewBlobs())
	}
}

func (w *world) boltVault(path string, blobs *memory.Blobs) *vault {
	kept := must(bolt.Open(path, w))
	v := &vault{events: kept, blobs: blobs}
	v.reopen = func() store.Events {
		must(0, kept.Close())
		kept = must(bolt.Open(path, w))
		return kept
	}
	v.backup = func() func(string) *vault {
		w.ids++
		copied, blobs := filepath.Join(filepath.Dir(path), "copy-"+uintText(w.ids)), blobs.Clone()
		file := must(os.Create(copied))
		must(0, kept.Copy(context.Background(), file))
		must(0, file.Close())
		return func(string) *vault {
			w.ids++
			again := filepath.Join(filepath.Dir(path), "store-"+uintText(w.ids))
			must(0, os.WriteFile(again, must(os.ReadFile(copied)), 0o600))
			must(0, bolt.Renew(again, w))
			return w.boltVault(again, blobs.Clone())
		}
	}
	v.close = func() { must(0, kept.Close()) }
	return v
}
