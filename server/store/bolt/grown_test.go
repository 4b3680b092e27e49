package bolt

import (
	"crypto/rand"
	"fmt"
	mathrand "math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"testing"
	"time"

	"go.etcd.io/bbolt"
)

// envLong lets the benchmarks take minutes.
const envLong = "JOINTWALK_LONG"

// A fixture has about so many events, and a slice of a feed at most.
const (
	grownFixture = 400
	grownSlice   = 500
)

// BenchmarkGrown: how long a store of some years takes to open, what it holds in memory, and how long the slowest in a
// hundred waits for a slice of a feed and for all about a fixture. A million events only with JOINTWALK_LONG=1.
func BenchmarkGrown(b *testing.B) {
	sizes := []int{10_000, 100_000}
	if os.Getenv(envLong) != "" {
		sizes = append(sizes, 1_000_000)
	}
	for _, size := range sizes {
		path := ""
		b.Run(fmt.Sprintf("events=%d", size), func(b *testing.B) {
			if path == "" {
				path = grow(b, size)
			}
			readGrown(b, path, size)
		})
	}
}

// grow makes a store of so many events.
func grow(b *testing.B, size int) string {
	folder, err := os.MkdirTemp("", "grown")
	if err != nil {
		b.Fatal(err)
	}
	b.Cleanup(func() { os.RemoveAll(folder) })
	path := filepath.Join(folder, "store.db")
	s, err := open(path, rand.Reader, bbolt.Options{NoSync: true})
	if err != nil {
		b.Fatal(err)
	}
	crowd := make([]benchPhone, max(1, size/grownFixture))
	for i := range crowd {
		crowd[i].id = i
	}
	for left := size; left > 0; left -= 200 {
		for _, lines := range crowd[left/200%len(crowd)].batches(1, 200) {
			if _, err := s.Add(incoming(b, lines)); err != nil {
				b.Fatal(err)
			}
		}
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
	return path
}

func readGrown(b *testing.B, path string, size int) {
	info, err := os.Stat(path)
	if err != nil {
		b.Fatal(err)
	}
	opening, heap, s := openGrown(b, path)
	random := mathrand.New(mathrand.NewPCG(1, 2))
	var feeds, fixtures []time.Duration
	for b.Loop() {
		begun := time.Now()
		phone := random.IntN(max(1, size/grownFixture))
		if found, _, err := s.Site(benchSite(phone), random.Uint64N(uint64(max(1, size/benchSites-grownSlice))), grownSlice); err != nil || len(found) == 0 {
			b.Fatalf("%d %v", len(found), err)
		}
		feeds = append(feeds, time.Since(begun))
		begun = time.Now()
		if found, err := s.Fixture(benchFixture(phone)); err != nil || len(found) == 0 {
			b.Fatalf("%d %v", len(found), err)
		}
		fixtures = append(fixtures, time.Since(begun))
	}
	if err := s.Close(); err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(float64(opening.Microseconds())/1000, "open-ms")
	b.ReportMetric(float64(heap)/1024, "heap-kB")
	b.ReportMetric(float64(info.Size())/float64(size), "file-B/event")
	for what, took := range map[string][]time.Duration{"slice": feeds, "fixture": fixtures} {
		b.ReportMetric(quantile(took, 50), what+"-p50-ms")
		b.ReportMetric(quantile(took, 99), what+"-p99-ms")
	}
}

// openGrown opens a store and gives what that took, and what it holds in memory then, without the file's mapping.
func openGrown(b *testing.B, path string) (took time.Duration, heap int64, s *Store) {
	before := live()
	begun := time.Now()
	s, err := Open(path, rand.Reader)
	if err != nil {
		b.Fatal(err)
	}
	took = time.Since(begun)
	return took, live() - before, s
}

// live is what is on the heap and in use.
func live() int64 {
	var m runtime.MemStats
	runtime.GC()
	runtime.GC() // what was pooled goes with the second
	runtime.ReadMemStats(&m)
	return int64(m.HeapAlloc)
}

// quantile is what so many of a hundred do not exceed, in milliseconds.
func quantile(all []time.Duration, percent int) float64 {
	slices.Sort(all)
	return float64(all[len(all)*percent/100].Microseconds()) / 1000
}
