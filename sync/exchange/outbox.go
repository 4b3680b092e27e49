package exchange

import (
	"encoding/json"
	"time"

	"jointwalk/sync/journal"
)

// Notes is where the phone keeps what it must remember; *journal.State is one.
type Notes interface {
	Get(key string) (json.RawMessage, bool)
	Put(values map[string]json.RawMessage) error
}

// Source is the phone's own log; *journal.Log is one.
type Source interface {
	After(upto journal.Frontier, most, size int) ([]journal.Line, error)
	Count(upto journal.Frontier) int
}

// Outbox is the phone's side of a push.
type Outbox struct{}

// NewOutbox reads from notes what was acknowledged.
func NewOutbox(source Source, notes Notes) (*Outbox, error) { panic("exchange: not built yet") }

// Batch is what one push carries. An empty batch means that all was sent.
type Batch struct{ Lines []journal.Line }

// Empty says that there is nothing to send.
func (b Batch) Empty() bool { return len(b.Lines) == 0 }

// Body is the batch as NDJSON, ready to be posted.
func (b Batch) Body() []byte { panic("exchange: not built yet") }

// Next is the next batch: at most MaxBatch lines and MaxBatchBytes. It stays the same until Answer.
func (o *Outbox) Next() (Batch, error) { panic("exchange: not built yet") }

// Outcome is what an answer meant.
type Outcome struct {
	Applied, Duplicate int
	Aside              []Verdict // those set aside, with their codes
	Forked             bool      // the server holds another history of this log: call journal.Log.Renew
	Now                string    // the server's clock
}

// Answer takes the server's answer to batch and keeps what it acknowledged (it only grows) before it returns.
// Errors: CodeBadAnswer when it does not answer this batch line for line; those of Notes. Then the batch stays unsent.
func (o *Outbox) Answer(batch Batch, body []byte) (Outcome, error) { panic("exchange: not built yet") }

// Unsent is the number of events that the server has not acknowledged.
func (o *Outbox) Unsent() int { panic("exchange: not built yet") }

// Acked is a copy of what the server acknowledged, by log.
func (o *Outbox) Acked() journal.Frontier { panic("exchange: not built yet") }

// Backoff spaces tries after failures, 1 s to 5 min. The zero Backoff is ready.
type Backoff struct{ tries int }

// Failed counts a failure and gives the time to wait; jitter is random in [0, 1).
func (b *Backoff) Failed(jitter float64) time.Duration { panic("exchange: not built yet") }

// Succeeded begins anew: the next failure waits about 1 s.
func (b *Backoff) Succeeded() { b.tries = 0 }
