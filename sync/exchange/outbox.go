package exchange

import (
	"bytes"
	"encoding/json"
	"maps"

	"jointwalk/sync/journal"
	"jointwalk/sync/lightjson"
)

// ackedKey is where an Outbox keeps what was acknowledged.
const ackedKey = "acked"

// Notes is where the phone keeps what it must remember; *journal.State is one.
type Notes interface {
	Get(key string) (json.RawMessage, bool)
	Put(values map[string]json.RawMessage) error // all flushed, or none
}

// Source is the phone's own log; *journal.Log is one.
type Source interface {
	After(upto journal.Frontier, most, size int) ([]journal.Line, error)
	Count(upto journal.Frontier) int
	Oldest(upto journal.Frontier) (journal.Line, bool)
}

// Outbox is the phone's side of a push.
type Outbox struct {
	source Source
	notes  Notes
	acked  journal.Frontier
	aside  func([]Verdict) error // is told what was set aside before that counts as acknowledged; may be nil
}

// NewOutbox reads from notes what was acknowledged. Notes that cannot be read count as none:
// then all is sent again, which the server answers with duplicates.
func NewOutbox(source Source, notes Notes) (*Outbox, error) {
	o := &Outbox{source: source, notes: notes, acked: journal.Frontier{}}
	if raw, ok := notes.Get(ackedKey); ok {
		if lightjson.Unmarshal(raw, &o.acked) != nil || o.acked == nil {
			o.acked = journal.Frontier{}
		}
	}
	return o, nil
}

// Batch is what one push carries. An empty batch means that all was sent.
type Batch struct{ Lines []journal.Line }

// Empty says that there is nothing to send.
func (b Batch) Empty() bool { return len(b.Lines) == 0 }

// Body is the batch as NDJSON, ready to be posted.
func (b Batch) Body() []byte {
	var body []byte
	for _, line := range b.Lines {
		body = append(append(body, line...), '\n')
	}
	return body
}

// Next is the next batch: at most MaxBatch lines and MaxBatchBytes. It begins with the same line
// until an Answer moved it on. Error: that of the log's file.
func (o *Outbox) Next() (Batch, error) {
	lines, err := o.source.After(o.acked, MaxBatch, MaxBatchBytes)
	return Batch{Lines: lines}, err
}

// Outcome is what an answer meant.
type Outcome struct {
	Applied, Duplicate int
	Aside              []Verdict // those set aside, with their codes
	Forked             bool      // the server holds another history of this log: call journal.Log.Renew
	Now                string    // the server's clock
}

// Answer takes the server's answer to batch and keeps what it acknowledged (it only grows) before it
// returns. What the server set aside is acknowledged too: it is kept there.
// The server's upto is not believed here: after a fork it speaks of another history.
// Errors: CodeBadAnswer when it does not answer this batch line for line; those of Notes. Then the batch stays unsent.
func (o *Outbox) Answer(batch Batch, body []byte) (Outcome, error) {
	answer, err := parseAnswer(body)
	if err != nil {
		return Outcome{}, err
	}
	if len(answer.Answers) != len(batch.Lines) {
		return Outcome{}, badAnswer("not one answer a line")
	}
	out := Outcome{Now: answer.Now}
	acked := maps.Clone(o.acked)
	for i, line := range batch.Lines {
		if err := out.take(line, answer.Answers[i], acked); err != nil {
			return Outcome{}, err
		}
	}
	if o.aside != nil && len(out.Aside) > 0 {
		if err := o.aside(out.Aside); err != nil {
			return Outcome{}, err
		}
	}
	if err := o.keep(acked); err != nil {
		return Outcome{}, err
	}
	return out, nil
}

// keep remembers what was acknowledged, flushed.
func (o *Outbox) keep(acked journal.Frontier) error {
	if maps.Equal(acked, o.acked) {
		return nil
	}
	raw, err := lightjson.Marshal(acked)
	if err != nil {
		return err
	}
	if err := o.notes.Put(map[string]json.RawMessage{ackedKey: raw}); err != nil {
		return err
	}
	o.acked = acked
	return nil
}

// Lower takes back what was acknowledged beyond upto, for the logs that it names: a server that was restored has
// no more than that. Errors: those of Notes.
func (o *Outbox) Lower(upto journal.Frontier) error {
	acked := maps.Clone(o.acked)
	for log, seq := range acked {
		if have, named := upto[log]; named {
			acked[log] = min(seq, have)
		}
	}
	return o.keep(acked)
}

// Forget takes back all that was acknowledged: everything that is here is sent once more. Errors: those of Notes.
func (o *Outbox) Forget() error { return o.keep(journal.Frontier{}) }

// take counts one verdict and raises acked.
func (out *Outcome) take(line journal.Line, v Verdict, acked journal.Frontier) error {
	event, err := journal.Parse(line)
	if err != nil {
		return err
	}
	unread := v.Log == "" && v.Seq == 0 && v.Is == Aside // the server could not parse it
	if !unread && (v.Log != event.Log || v.Seq != event.Seq) {
		return badAnswer("an answer to another event")
	}
	switch v.Is {
	case Applied:
		out.Applied++
	case Duplicate:
		out.Duplicate++
	default:
		v.Log, v.Seq = event.Log, event.Seq
		out.Aside = append(out.Aside, v)
		out.Forked = out.Forked || v.Code == journal.CodeForked
	}
	acked[event.Log] = max(acked[event.Log], event.Seq)
	return nil
}

// parseAnswer reads the answer to a push, strictly. Error: CodeBadAnswer.
func parseAnswer(body []byte) (Answer, error) {
	var answer Answer
	if err := lightjson.Unmarshal(bytes.TrimSpace(body), &answer); err != nil {
		return Answer{}, &journal.Fault{Code: CodeBadAnswer, Cause: err}
	}
	if answer.Answers == nil || answer.Now == "" {
		return Answer{}, badAnswer("not whole")
	}
	for _, v := range answer.Answers {
		switch {
		case v.Is != Applied && v.Is != Duplicate && v.Is != Aside:
			return Answer{}, badAnswer("an unknown verdict")
		case (v.Is == Aside) != (v.Code != ""):
			return Answer{}, badAnswer("a code where none belongs, or none where one does")
		}
	}
	return answer, nil
}

func badAnswer(why string) error { return &journal.Fault{Code: CodeBadAnswer, Cause: cause(why)} }

// Unsent is the number of events that the server has not acknowledged.
func (o *Outbox) Unsent() int { return o.source.Count(o.acked) }

// Oldest is the device's time of the oldest of them, "" for none.
func (o *Outbox) Oldest() string {
	line, some := o.source.Oldest(o.acked)
	if !some {
		return ""
	}
	event, err := journal.Parse(line)
	if err != nil {
		return ""
	}
	return event.Time
}

// Acked is a copy of what the server acknowledged, by log.
func (o *Outbox) Acked() journal.Frontier { return maps.Clone(o.acked) }
