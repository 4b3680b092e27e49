package exchange

import "time"

// The waits of a Backoff lie between these.
const (
	MinWait = time.Second
	MaxWait = 5 * time.Minute
)

// Backoff spaces tries after failures, 1 s to 5 min. The zero Backoff is ready.
type Backoff struct{ tries int }

// Failed counts a failure and gives the time to wait: the span doubles with each failure, and
// jitter, random in [0, 1), chooses within its upper half.
func (b *Backoff) Failed(jitter float64) time.Duration {
	span := min(2*MinWait<<min(b.tries, 16), MaxWait)
	b.tries++
	wait := span/2 + time.Duration(jitter*float64(span/2))
	return min(max(wait, MinWait), MaxWait)
}

// Succeeded begins anew: the next failure waits 1 s to 2 s.
func (b *Backoff) Succeeded() { b.tries = 0 }
