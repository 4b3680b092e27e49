package engine

import (
	"encoding/hex"
	"io"
	"time"
)

// Env is what an engine may ask of the world: the time, and random bytes.
type Env struct {
	Now    func() time.Time
	Random io.Reader
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
