//go:build js && wasm

package main

import "syscall/js"

// random reads from the browser's crypto.getRandomValues. crypto/rand would
// read the same and bring 40 kB of engine along.
type random struct{}

const mostRandom = 65536 // bytes that getRandomValues gives at once

// Read implements io.Reader; it never gives an error.
func (random) Read(p []byte) (int, error) {
	for at := 0; at < len(p); at += mostRandom {
		part := p[at:min(at+mostRandom, len(p))]
		array := js.Global().Get("Uint8Array").New(len(part))
		js.Global().Get("crypto").Call("getRandomValues", array)
		js.CopyBytesToGo(part, array)
	}
	return len(p), nil
}
