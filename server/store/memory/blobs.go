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
	part map[string][]byte
}

// NewBlobs holds nothing.
func NewBlobs() *Blobs { return &Blobs{held: map[string][]byte{}, part: map[string][]byte{}} }

// Put keeps bytes that have their hash.
func (b *Blobs) Put(hash string, body io.Reader) error {
	all, err := io.ReadAll(body)
	if err != nil {
		return err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.keep(hash, all)
}

// keep holds bytes to their hash. It needs mu.
func (b *Blobs) keep(hash string, all []byte) error {
	if sum := sha256.Sum256(all); hex.EncodeToString(sum[:]) != hash {
		return &store.Fault{Code: store.CodeWrongHash}
	}
	b.held[hash] = all
	delete(b.part, hash)
	return nil
}

// Part says what is kept.
func (b *Blobs) Part(hash string) (int64, bool, error) {
	b.mu.RLock()
	defer b.mu.RUnlock()
	have, whole := b.kept(hash)
	return have, whole, nil
}

// kept needs mu.
func (b *Blobs) kept(hash string) (have int64, whole bool) {
	if all, held := b.held[hash]; held {
		return int64(len(all)), true
	}
	return int64(len(b.part[hash])), false
}

// Extend adds a chunk of a blob on its way.
func (b *Blobs) Extend(hash string, offset, size int64, body io.Reader) (int64, bool, error) {
	if have, whole, err := b.Part(hash); whole {
		return have, true, err
	}
	chunk, err := store.Chunk(hash, offset, size, body)
	if err != nil {
		return 0, false, err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	have, whole := b.kept(hash)
	if whole {
		return have, true, nil
	}
	if have > size { // not the size that its beginning came with
		delete(b.part, hash)
		have = 0
	}
	if have == offset {
		b.part[hash] = append(b.part[hash], chunk...)
		have += int64(len(chunk))
	}
	if have < size {
		return have, false, nil
	}
	all := b.part[hash]
	delete(b.part, hash)
	if err := b.keep(hash, all); err != nil {
		return 0, false, err
	}
	return size, true, nil
}

// Get opens a blob.
func (b *Blobs) Get(hash string) (io.ReadCloser, error) {
	all, err := b.find(hash)
	if err != nil {
		return nil, err
	}
	return io.NopCloser(bytes.NewReader(all)), nil
}

// Drop forgets a blob and its parts.
func (b *Blobs) Drop(hash string) error {
	b.mu.Lock()
	defer b.mu.Unlock()
	_, held := b.held[hash]
	_, coming := b.part[hash]
	if !held && !coming {
		return store.ErrNoBlob
	}
	delete(b.held, hash)
	delete(b.part, hash)
	return nil
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
