package bolt

import (
	"crypto/rand"
	"fmt"
	"path/filepath"
	"sync/atomic"
	"testing"

	"jointwalk/sync/exchange"
)

// A lone phone that pushes one event at a time, flushed each time.
func BenchmarkLonePush(b *testing.B) { pushes(b, 1) }

// Sixty-four phones at once: their pushes share transactions.
func BenchmarkCrowdedPush(b *testing.B) { pushes(b, 64) }

func pushes(b *testing.B, phones int) {
	s, err := Open(filepath.Join(b.TempDir(), "store.db"), rand.Reader)
	if err != nil {
		b.Fatal(err)
	}
	var phone atomic.Int64
	b.SetParallelism(phones)
	if phones == 1 {
		for n := range b.N {
			push1(b, s, "log", uint64(n))
		}
	} else {
		b.RunParallel(func(pb *testing.PB) {
			log := fmt.Sprint("log", phone.Add(1))
			for n := uint64(0); pb.Next(); n++ {
				push1(b, s, log, n)
			}
		})
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
}

func push1(b *testing.B, s *Store, log string, n uint64) {
	if _, err := s.Add([]exchange.Incoming{item(log, 2*n+2)}); err != nil {
		b.Error(err)
	}
}
