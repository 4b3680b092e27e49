package memory_test

import (
	"testing"

	"jointwalk/server/store"
	"jointwalk/server/store/memory"
	"jointwalk/server/store/storetest"
)

func TestRows(t *testing.T) {
	storetest.Rows(t, func(testing.TB) (store.Rows, func() store.Rows) { return memory.NewRows(), nil })
}

func TestBlobs(t *testing.T) {
	storetest.Blobs(t, func(testing.TB) (store.Blobs, func() store.Blobs) { return memory.NewBlobs(), nil })
}

func openEvents(testing.TB) (storetest.Kept, func() storetest.Kept) {
	return memory.NewEvents("first"), nil
}

func TestEvents(t *testing.T) { storetest.Events(t, openEvents) }

func TestWatch(t *testing.T) { storetest.Watch(t, openEvents) }
