package files

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"os"
	"time"

	"jointwalk/server/store"
)

// parts is the folder of blobs on their way, each under the hash that it will have. They outlive a restart. A crash may
// leave one torn: its hash tells when it is complete.
const parts = "parts"

// partAge is how long a part waits for its next chunk.
const partAge = 7 * 24 * time.Hour

func (b *Blobs) partPath(hash string) string { return b.path(parts, hash) }

// dropStale removes parts that were last added to before a time.
func (b *Blobs) dropStale(before time.Time) error {
	entries, err := os.ReadDir(b.path(parts))
	if err != nil {
		return err
	}
	for _, entry := range entries {
		info, err := entry.Info()
		if err != nil {
			return err
		}
		if info.ModTime().Before(before) {
			if err := os.Remove(b.partPath(entry.Name())); err != nil {
				return err
			}
		}
	}
	return nil
}

// dropPart forgets a part, if there is one.
func (b *Blobs) dropPart(hash string) error {
	err := os.Remove(b.partPath(hash))
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	return failed(err)
}

// Part looks at the lengths of files.
func (b *Blobs) Part(hash string) (have int64, whole bool, err error) {
	b.mu.Lock()
	defer b.mu.Unlock()
	return b.kept(hash)
}

// kept is Part. It needs mu.
func (b *Blobs) kept(hash string) (have int64, whole bool, err error) {
	have, err = b.Size(hash)
	if !errors.Is(err, store.ErrNoBlob) || !store.IsHash(hash) {
		return have, err == nil, ignoring(err, store.ErrNoBlob)
	}
	info, err := os.Stat(b.partPath(hash))
	if err != nil {
		return 0, false, ignoring(b.missing(err), store.ErrNoBlob)
	}
	return info.Size(), false, nil
}

// ignoring is err, or nil when it says no more than that.
func ignoring(err, that error) error {
	if errors.Is(err, that) {
		return nil
	}
	return err
}

// Extend appends a chunk to the file of the part and flushes it. The chunk is read before, so that a slow sender holds
// nobody up.
func (b *Blobs) Extend(hash string, offset, size int64, body io.Reader) (int64, bool, error) {
	if have, whole, err := b.Part(hash); whole || err != nil {
		return have, whole, err
	}
	chunk, err := store.Chunk(hash, offset, size, body)
	if err != nil {
		return 0, false, err
	}
	b.mu.Lock()
	defer b.mu.Unlock()
	have, whole, err := b.kept(hash)
	if whole || err != nil {
		return have, whole, err
	}
	if have > size { // torn, or not the size that its beginning came with
		if err := b.dropPart(hash); err != nil {
			return 0, false, err
		}
		have = 0
	}
	if have == offset {
		if err := b.add(hash, offset, chunk); err != nil {
			return 0, false, err
		}
		have += int64(len(chunk))
	}
	if have < size {
		return have, false, nil
	}
	if err := b.complete(hash); err != nil {
		return 0, false, err
	}
	return size, true, nil
}

// add writes a chunk behind what is there and flushes it; when that fails nothing of it stays.
func (b *Blobs) add(hash string, offset int64, chunk []byte) error {
	part, err := os.OpenFile(b.partPath(hash), os.O_WRONLY|os.O_CREATE, 0o600)
	if err != nil {
		return failed(err)
	}
	_, err = part.WriteAt(chunk, offset)
	if err == nil {
		err = part.Sync()
	}
	if err != nil {
		err = errors.Join(failed(err), part.Truncate(offset))
	}
	err = errors.Join(err, part.Close())
	if err == nil && offset == 0 {
		err = flush(b.path(parts))
	}
	return failed(err)
}

// complete holds a part to its hash and gives it its name, or drops it.
func (b *Blobs) complete(hash string) error {
	part, err := os.Open(b.partPath(hash))
	if err != nil {
		return failed(err)
	}
	sum := sha256.New()
	_, err = io.Copy(sum, part)
	if err := errors.Join(err, part.Close()); err != nil {
		return failed(err)
	}
	if hex.EncodeToString(sum.Sum(nil)) != hash {
		return errors.Join(&store.Fault{Code: store.CodeWrongHash}, b.dropPart(hash))
	}
	return b.name(b.partPath(hash), hash)
}
