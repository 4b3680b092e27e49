package store

import (
	"crypto/sha256"
	"io"
	"strings"
)

// IsHash says whether this is a SHA-256 in lower-case hexadecimal.
func IsHash(hash string) bool {
	return len(hash) == 2*sha256.Size && strings.Trim(hash, "0123456789abcdef") == ""
}

// Chunk reads a chunk for Blobs.Extend to its end, so that one that breaks off leaves nothing. It refuses what Extend
// refuses before anything is written: CodeWrongHash for a name that is no hash, CodeTooLarge.
func Chunk(hash string, offset, size int64, body io.Reader) ([]byte, error) {
	if !IsHash(hash) {
		return nil, &Fault{Code: CodeWrongHash}
	}
	if offset < 0 || size < 0 || size > LargestBlob {
		return nil, &Fault{Code: CodeTooLarge}
	}
	room := max(size-offset, 0)
	chunk, err := io.ReadAll(io.LimitReader(body, room+1))
	if err != nil {
		return nil, err
	}
	if int64(len(chunk)) > room {
		return nil, &Fault{Code: CodeTooLarge}
	}
	return chunk, nil
}
