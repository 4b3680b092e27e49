package sha

import (
	"bytes"
	"crypto/sha1"
	"crypto/sha256"
	"encoding/hex"
	"testing"
)

// The examples that NIST publishes with FIPS 180-4 (from memory): one block, two blocks; and the digest of nothing.
func TestPublished(t *testing.T) {
	const two = "abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"
	for _, c := range []struct{ data, sha1, sha256 string }{
		{"abc", "a9993e364706816aba3e25717850c26c9cd0d89d", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"},
		{two, "84983e441c3bd26ebaae4aa1f95129e5e54670f1", "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1"},
		{"", "da39a3ee5e6b4b0d3255bfef95601890afd80709", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"},
	} {
		one, big := plain1([]byte(c.data)), plain256([]byte(c.data))
		if got := hex.EncodeToString(one[:]); got != c.sha1 {
			t.Errorf("SHA-1 of %q: %s", c.data, got)
		}
		if got := hex.EncodeToString(big[:]); got != c.sha256 {
			t.Errorf("SHA-256 of %q: %s", c.data, got)
		}
	}
}

// Every length round the ends of blocks, against the standard library.
func TestEveryLength(t *testing.T) {
	data := bytes.Repeat([]byte("0123456789abcdef!"), 40)
	for n := range data {
		same(t, data[:n])
	}
}

func FuzzPlain(f *testing.F) {
	f.Add([]byte("seed"))
	f.Fuzz(func(t *testing.T, data []byte) { same(t, data) })
}

func same(t *testing.T, data []byte) {
	t.Helper()
	if plain1(data) != sha1.Sum(data) || plain256(data) != sha256.Sum256(data) {
		t.Fatalf("not the library's digest of %x", data)
	}
	if Sum1(data) != sha1.Sum(data) || Sum256(data) != sha256.Sum256(data) {
		t.Fatalf("chosen wrongly for %x", data)
	}
}
