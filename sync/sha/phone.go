//go:build js

package sha

func sum256(data []byte) [Size]byte { return plain256(data) }

func sum1(data []byte) [20]byte { return plain1(data) }
