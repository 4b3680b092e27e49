// Package sha is SHA-256 and SHA-1 without their weight on the phone: the standard library's bring a whole module of
// certified cryptography, 40 kB of the engine's 1 MB, for two functions of a page each. On the server it is that library.
package sha

// Size is the length of a SHA-256 digest in bytes.
const Size = 32

// Sum256 is the SHA-256 digest of some data (FIPS 180-4, 6.2).
func Sum256(data []byte) [Size]byte { return sum256(data) }

// Sum1 is the SHA-1 digest of some data (FIPS 180-4, 6.1). It names, as in name-based UUIDs, and protects nothing.
func Sum1(data []byte) [20]byte { return sum1(data) }
