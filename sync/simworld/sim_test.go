package simworld

import (
	"os"
	"runtime"
	"strconv"
	"sync"
	"testing"
	"time"
)

// seeds is how many stories make test tells; SEEDS asks for more, SEED for one.
const seeds = 200

// diskEvery is how often a story is told over the store on disk.
const diskEvery = 20

// TestWorld tells many stories, from seed 1 on or from FROM. Every law must hold in each, the same seed must give the same
// trace, and every fault and rare state must have come. UNTIL is for planted bugs: the first broken law ends it.
func TestWorld(t *testing.T) {
	first, n := 1, seeds
	if s := os.Getenv("SEEDS"); s != "" {
		n = must(strconv.Atoi(s))
	}
	if s := os.Getenv("FROM"); s != "" {
		first = must(strconv.Atoi(s))
	}
	if s := os.Getenv("SEED"); s != "" {
		first, n = must(strconv.Atoi(s)), 1
	}
	all := &tally{faults: map[string]int{}, rare: map[string]int{}}
	began, failed, told := time.Now(), 0, 0
	for o := range stories(first, n, openings(t)) {
		all.add(o.tally)
		if told++; o.failed != "" && os.Getenv("UNTIL") != "" {
			t.Fatalf("BROKEN after %d seeds, by seed %d: %s", told, o.seed, o.failed)
		}
		if o.failed != "" {
			t.Errorf("seed %d: %s\nagain with: SEED=%d go test -run TestWorld ./sync/simworld", o.seed, o.failed, o.seed)
			if failed++; failed == 1 {
				t.Logf("its end:\n%s", o.trace)
			}
		}
	}
	t.Logf("%d seeds in %.1f s\n%s", n, time.Since(began).Seconds(), all)
	if n < seeds {
		return // one story need not have everything
	}
	for _, name := range all.missing() {
		t.Errorf("never came: %s", name)
	}
}

// openings chooses the store of a seed: in memory, and for some on disk.
func openings(t *testing.T) func(seed uint64) factory {
	folder := t.TempDir()
	return func(seed uint64) factory {
		if seed%diskEvery == 0 {
			return onDisk(folder)
		}
		return inMemory
	}
}

// stories tells n stories on all processors and gives them as they end. Of every hundred one is told twice.
func stories(first, n int, opening func(uint64) factory) func(func(outcome) bool) {
	return func(yield func(outcome) bool) {
		next, done, stop := make(chan uint64), make(chan outcome), make(chan struct{})
		var tellers sync.WaitGroup
		for range runtime.GOMAXPROCS(0) {
			tellers.Go(func() {
				for seed := range next {
					o := tell(seed, opening(seed))
					if seed%100 == 1 && o.failed == "" {
						if again := tell(seed, opening(seed)); again.hash != o.hash {
							o.failed = "told twice, it is another story"
						}
					}
					select {
					case done <- o:
					case <-stop:
						return
					}
				}
			})
		}
		go func() {
			defer close(next)
			for i := range n {
				select {
				case next <- uint64(first + i):
				case <-stop:
					return
				}
			}
		}()
		defer tellers.Wait()
		defer close(stop)
		for range n {
			if !yield(<-done) {
				return
			}
		}
	}
}
