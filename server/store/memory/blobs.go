package memory

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"sync"

	"jointwalk/server/store"
)

// Blobs is store.Blobs in memory.
type Blobs struct {
	mu   sync.RWMutex
	held map[string][]byte
}

// NewBlobs holds nothing.
func NewBlobs() *Blobs { return &Blobs{held: map[string][]byte{}} }

// Put keeps bytes that have their hash.
func (b *Blobs) Put(hash string, body io.Reader) error {
	all, err := io.ReadAll(body)
	if err != nil {
		return err
	}
	if sum := sha256.Sum256(all); hex.EncodeToString(sum[:]) != hash {
		return &store.Fault{Code: store.CodeWrongHash}
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	b.held[hash] = all
	return nil
}

// Get opens a blob.
func (b *Blobs) Get(hash string) (io.ReadCloser, error) {
	all, err := b.find(hash)
	if err != nil {
		return nil, err
	}
	return io.NopCloser(bytes.NewReader(all)), nil
}

// Size is a blob's length.
func (b *Blobs) Size(hash string) (int64, error) {
	all, err := b.find(hash)
	return int64(len(all)), err
}

func (b *Blobs) find(hash string) ([]byte, error) {
	b.mu.RLock()
	defer b.mu.RUnlock()
	all, held := b.held[hash]
	if !held {
		return nil, store.ErrNoBlob
	}
	return all, nil
}
