package sha

import (
	"encoding/binary"
	"math/bits"
)

const block = 64 // bytes

// blocks gives the padded data block by block: after it comes a bit, zeros, and its length in bits (FIPS 180-4, 5.1.1).
func blocks(data []byte, each func([]byte)) {
	whole := len(data) / block * block
	for at := 0; at < whole; at += block {
		each(data[at : at+block])
	}
	var tail [2 * block]byte
	n := copy(tail[:], data[whole:])
	tail[n] = 0x80
	end := block
	if n+1+8 > block {
		end = 2 * block
	}
	binary.BigEndian.PutUint64(tail[end-8:], uint64(len(data))*8)
	for at := 0; at < end; at += block {
		each(tail[at : at+block])
	}
}

// The first 32 bits of the fractional parts of the cube roots of the first 64 primes (FIPS 180-4, 4.2.2).
var roots = [64]uint32{
	0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1, 0x923f82a4, 0xab1c5ed5,
	0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3, 0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174,
	0xe49b69c1, 0xefbe4786, 0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
	0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147, 0x06ca6351, 0x14292967,
	0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13, 0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85,
	0xa2bfe8a1, 0xa81a664b, 0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
	0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a, 0x5b9cca4f, 0x682e6ff3,
	0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208, 0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
}

// plain256 is SHA-256 as FIPS 180-4 writes it down.
func plain256(data []byte) (digest [Size]byte) {
	h := [8]uint32{0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c, 0x1f83d9ab, 0x5be0cd19}
	blocks(data, func(b []byte) { step256(&h, b) })
	for i, word := range h {
		binary.BigEndian.PutUint32(digest[4*i:], word)
	}
	return digest
}

func step256(h *[8]uint32, b []byte) {
	var w [64]uint32
	for i := range 16 {
		w[i] = binary.BigEndian.Uint32(b[4*i:])
	}
	for i := 16; i < 64; i++ {
		x, y := w[i-15], w[i-2]
		s0 := bits.RotateLeft32(x, -7) ^ bits.RotateLeft32(x, -18) ^ x>>3
		s1 := bits.RotateLeft32(y, -17) ^ bits.RotateLeft32(y, -19) ^ y>>10
		w[i] = s1 + w[i-7] + s0 + w[i-16]
	}
	v0, v1, v2, v3, v4, v5, v6, v7 := h[0], h[1], h[2], h[3], h[4], h[5], h[6], h[7]
	for i := range w {
		s1 := bits.RotateLeft32(v4, -6) ^ bits.RotateLeft32(v4, -11) ^ bits.RotateLeft32(v4, -25)
		t1 := v7 + s1 + (v4&v5 ^ ^v4&v6) + roots[i] + w[i]
		s0 := bits.RotateLeft32(v0, -2) ^ bits.RotateLeft32(v0, -13) ^ bits.RotateLeft32(v0, -22)
		t2 := s0 + (v0&v1 ^ v0&v2 ^ v1&v2)
		v7, v6, v5, v4, v3, v2, v1, v0 = v6, v5, v4, v3+t1, v2, v1, v0, t1+t2
	}
	for i, v := range [8]uint32{v0, v1, v2, v3, v4, v5, v6, v7} {
		h[i] += v
	}
}

// plain1 is SHA-1 as FIPS 180-4 writes it down.
func plain1(data []byte) (digest [20]byte) {
	h := [5]uint32{0x67452301, 0xefcdab89, 0x98badcfe, 0x10325476, 0xc3d2e1f0}
	blocks(data, func(b []byte) { step1(&h, b) })
	for i, word := range h {
		binary.BigEndian.PutUint32(digest[4*i:], word)
	}
	return digest
}

func step1(h *[5]uint32, b []byte) {
	var w [80]uint32
	for i := range 16 {
		w[i] = binary.BigEndian.Uint32(b[4*i:])
	}
	for i := 16; i < 80; i++ {
		w[i] = bits.RotateLeft32(w[i-3]^w[i-8]^w[i-14]^w[i-16], 1)
	}
	v0, v1, v2, v3, v4 := h[0], h[1], h[2], h[3], h[4]
	for i, word := range w {
		t := bits.RotateLeft32(v0, 5) + mixed(i, v1, v2, v3) + v4 + word
		v4, v3, v2, v1, v0 = v3, v2, bits.RotateLeft32(v1, 30), v0, t
	}
	for i, v := range [5]uint32{v0, v1, v2, v3, v4} {
		h[i] += v
	}
}

// mixed is the function of a round and its constant (FIPS 180-4, 4.1.1 and 4.2.1).
func mixed(i int, x, y, z uint32) uint32 {
	switch i / 20 {
	case 0:
		return (x&y ^ ^x&z) + 0x5a827999
	case 1:
		return (x ^ y ^ z) + 0x6ed9eba1
	case 2:
		return (x&y ^ x&z ^ y&z) + 0x8f1bbcdc
	}
	return (x ^ y ^ z) + 0xca62c1d6
}
