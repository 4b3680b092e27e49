//go:build !js

package sha

import (
	"crypto/sha1"
	"crypto/sha256"
)

func sum256(data []byte) [Size]byte { return sha256.Sum256(data) }

func sum1(data []byte) [20]byte { return sha1.Sum(data) }
