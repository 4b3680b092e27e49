package exchange

import (
	"bytes"
	"time"

	"jointwalk/sync/journal"
)

// Sender is who pushed: the device of the session (never "") and its own clock at that moment (zero
// when it did not say).
type Sender struct {
	Device string
	Clock  time.Time
}

// SplitBatch cuts the body of a push into lines. Empty lines are left out. Error: CodeTooMuch beyond
// MaxBatch lines or MaxBatchBytes (and one longest line, since a line is never split).
func SplitBatch(body []byte) ([]journal.Line, error) {
	if len(body) > MaxBatchBytes+journal.MaxLine {
		return nil, &journal.Fault{Code: CodeTooMuch}
	}
	var lines []journal.Line
	for _, line := range bytes.Split(body, []byte("\n")) {
		if len(line) > 0 {
			lines = append(lines, journal.Line(line))
		}
	}
	if len(lines) > MaxBatch {
		return nil, &journal.Fault{Code: CodeTooMuch}
	}
	return lines, nil
}

// Receive takes pushed lines into the store and answers for each, in order. allow gives the code with
// which an event is set aside, or "" when its sender may write it. A line that cannot be parsed is set aside with the
// code of journal.Parse. An error means that nothing was kept: the phone keeps all and tries again.
func Receive(keeper Keeper, lines []journal.Line, sender Sender, now time.Time, allow func(journal.Event) string) (Answer, error) {
	if sender.Device == "" {
		panic("exchange: a push without a device")
	}
	receipt := Receipt{At: now.UTC().Format(journal.TimeLayout), From: sender.Device}
	if !sender.Clock.IsZero() {
		receipt.Offset = sender.Clock.Sub(now).Milliseconds()
	}
	items := make([]Incoming, 0, len(lines))
	for _, line := range lines {
		items = append(items, incoming(line, receipt, allow))
	}
	answer := Answer{Answers: []Verdict{}, Upto: map[string]uint64{}, Now: receipt.At}
	if len(items) == 0 {
		return answer, nil
	}
	verdicts, err := keeper.Add(items)
	if err != nil {
		return Answer{}, err
	}
	if len(verdicts) != len(items) {
		panic("exchange: the keeper did not answer for each item")
	}
	answer.Answers = verdicts
	return answer, upto(keeper, items, answer.Upto)
}

func incoming(line journal.Line, receipt Receipt, allow func(journal.Event) string) Incoming {
	item := Incoming{Line: line, Hash: journal.Hash(line), Receipt: receipt}
	event, err := journal.Parse(line)
	if err != nil {
		item.Aside = journal.CodeOf(err)
		return item
	}
	item.Event, item.Aside = event, allow(event)
	return item
}

// upto asks for the frontier of each log that the batch spoke of.
func upto(keeper Keeper, items []Incoming, into map[string]uint64) error {
	for _, item := range items {
		log := item.Event.Log
		if _, known := into[log]; known || log == "" {
			continue
		}
		seq, err := keeper.Upto(log)
		if err != nil {
			return err
		}
		into[log] = seq
	}
	return nil
}
