package simworld

import (
	"jointwalk/server/store"
	"jointwalk/server/store/memory"
)

// vault is a store with what the world does to it.
type vault struct {
	events store.Events
	blobs  store.Blobs
	// backup copies all as it is now; the function makes a store of the copy, in another incarnation.
	backup func() (restore func(incarnation string) *vault)
	reopen func() store.Events // after the process died
	close  func()
}

// factory opens the store of a seed.
type factory func(w *world) *vault

// inMemory is a store without a disk.
func inMemory(*world) *vault { return memoryVault(memory.NewEvents("life-1"), memory.NewBlobs()) }

func memoryVault(events *memory.Events, blobs *memory.Blobs) *vault {
	return &vault{
		events: events, blobs: blobs,
		backup: func() func(string) *vault {
			events, blobs := events.Clone("backup"), blobs.Clone()
			return func(incarnation string) *vault { return memoryVault(events.Clone(incarnation), blobs.Clone()) }
		},
		reopen: func() store.Events { return events },
		close:  func() {},
	}
}

// Read gives the randomness of this world to who wants bytes.
func (w *world) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = byte(w.rng.IntN(256))
	}
	return len(p), nil
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
