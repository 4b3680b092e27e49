package people

import (
	"crypto/sha256"
	"crypto/subtle"
	"encoding/hex"
	"io"
	"strings"

	"github.com/google/uuid"
)

// alphabet is Crockford's: 5 bits a character, no I, L, O, U.
const alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"

// The lengths of secrets in characters of 5 bits.
const (
	sessionLength = 52 // 260 bits
	setupLength   = 26 // 130 bits
	linkLength    = 26 // 130 bits
	typedLength   = 7  // 35 bits, with at most 5 wrong tries
	handleLength  = 3  // says which invitation is meant; no secret
)

// secret draws a random text.
func (g *Gate) secret(length int) (string, error) {
	raw := make([]byte, length)
	if _, err := io.ReadFull(g.random, raw); err != nil {
		return "", err
	}
	for i, b := range raw {
		raw[i] = alphabet[b&31]
	}
	return string(raw), nil
}

// newID is a UUIDv7, so that rows sort by the time they were made.
func (g *Gate) newID() (string, error) {
	id, err := uuid.NewV7FromReader(g.random)
	return id.String(), err
}

// hash is how a secret is kept.
func hash(secret string) string {
	sum := sha256.Sum256([]byte(secret))
	return hex.EncodeToString(sum[:])
}

// same compares hashes in constant time.
func same(a, b string) bool { return subtle.ConstantTimeCompare([]byte(a), []byte(b)) == 1 }

// plain reads a code as people type it: lower case, grouped, O for 0, I and L
// for 1.
func plain(text string) string {
	return strings.NewReplacer(" ", "", "-", "", "O", "0", "I", "1", "L", "1").Replace(strings.ToUpper(strings.TrimSpace(text)))
}
