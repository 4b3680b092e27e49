package engine

import (
	"encoding/hex"
	"io"
	"time"
)

// Env is what an engine may ask of the world: the time, random bytes, which version it is.
type Env struct {
	Now    func() time.Time
	Random io.Reader
	App    string // version of the app
}

// jitter is random, in [0, 1); without randomness it is the middle.
func (env Env) jitter() float64 {
	var raw [2]byte
	if _, err := io.ReadFull(env.Random, raw[:]); err != nil {
		return 0.5
	}
	return float64(uint16(raw[0])<<8|uint16(raw[1])) / (1 << 16)
}

// uuidv7 mints an id (RFC 9562, version 7): 48 bits of time in ms, the rest
// random. Error: those of the randomness.
func (env Env) uuidv7() (string, error) {
	var raw [16]byte
	if _, err := io.ReadFull(env.Random, raw[6:]); err != nil {
		return "", &Fault{Code: CodeNoRandomness}
	}
	ms := env.Now().UnixMilli()
	for i := range 6 {
		raw[i] = byte(ms >> (40 - 8*i))
	}
	raw[6] = raw[6]&0x0f | 0x70
	raw[8] = raw[8]&0x3f | 0x80
	text := make([]byte, 0, 36)
	for i, width := 0, [...]int{4, 2, 2, 2, 6}; i < len(width); i++ {
		if i > 0 {
			text = append(text, '-')
		}
		at := [...]int{0, 4, 6, 8, 10}[i]
		text = hex.AppendEncode(text, raw[at:at+width[i]])
	}
	return string(text), nil
}
