package exchange

import (
	"bytes"
	"time"

	"jointwalk/sync/journal"
)

// Hall is the server's side of the exchange. Everything that it needs of the world is in its fields.
type Hall struct {
	Keeper Keeper
	Feed   Feed
	Now    func() time.Time
	// Register knows devices, their logs and people; nil lets everybody in: the server's own example.
	Register Register
	// Judge looks at what an event says, after Register was asked who says it. An error means that this cannot be told now:
	// nothing is kept.
	Judge func(journal.Event) (Judgement, error)
	// Release lets in what was set aside with CodeUnknownLog of a log whose device is known now, as far as judge lets it.
	Release func(log string, judge func(journal.Event) (Judgement, error)) error
	// Seal is the server's mark on a receipt that it gave for the line with this hash. Nobody else can make it.
	Seal func(hash string, r Receipt) string
	// Skip says which events of a part of a feed a phone does not need unless it asks; nil for none.
	Skip func([]Stored) ([]bool, error)
}

// Judgement is what the server makes of an event. The zero Judgement lets it in.
type Judgement struct {
	Aside string // not "": set aside with this code
	To    string // not "": the site that the event moves its fixture to
}

// Sender is who pushed: the device of the session (never "") and its own clock at that moment (zero
// when it did not say).
type Sender struct {
	Device  string
	Clock   time.Time
	Revoked bool // then all is set aside
}

// SplitBatch cuts the body of a push into lines, each of which ends in a newline. Empty lines are left out. Errors:
// CodeBadPush for a body that was cut off within a line, which would be set aside and count as sent; CodeTooMuch beyond
// MaxBatch lines or MaxBatchBytes (and one longest line, since a line is never split).
func SplitBatch(body []byte) ([]journal.Line, error) {
	if len(body) > MaxBatchBytes+journal.MaxLine {
		return nil, &journal.Fault{Code: CodeTooMuch}
	}
	if len(body) > 0 && body[len(body)-1] != '\n' {
		return nil, &journal.Fault{Code: CodeBadPush, Cause: cause("cut off")}
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

// Push takes lines into the store and answers for each, in order. A line that cannot be parsed is set aside with the
// code of journal.Parse. An error means that nothing was kept: the phone keeps all and tries again.
func (h *Hall) Push(lines []journal.Line, sender Sender) (Answer, error) {
	receipt, register := h.receipt(sender), newMemo(h.Register)
	items := make([]Incoming, 0, len(lines))
	for _, line := range lines {
		item, err := h.incoming(line, receipt, sender, register)
		if err != nil {
			return Answer{}, err
		}
		items = append(items, item)
	}
	return h.keep(items, receipt.At)
}

func (h *Hall) receipt(sender Sender) Receipt {
	if sender.Device == "" {
		panic("exchange: a push without a device")
	}
	now := h.Now()
	receipt := Receipt{At: journal.Stamp(now), From: sender.Device}
	if !sender.Clock.IsZero() {
		receipt.Offset = sender.Clock.Sub(now).Milliseconds()
	}
	return receipt
}

// incoming judges a line and seals its receipt.
func (h *Hall) incoming(line journal.Line, receipt Receipt, sender Sender, r Register) (Incoming, error) {
	item := Incoming{Line: line, Hash: journal.Hash(line), Receipt: receipt}
	item.Receipt.Seal = h.Seal(item.Hash, receipt)
	event, err := journal.Parse(line)
	if err != nil {
		item.Aside = journal.CodeOf(err)
		return item, nil
	}
	judged, err := h.judge(event, r)
	if sender.Revoked {
		judged.Aside = CodeRevoked
	}
	item.Event, item.Aside, item.To = event, judged.Aside, judged.To
	return item, err
}

// judge says whether an event may go into a feed.
func (h *Hall) judge(e journal.Event, r Register) (Judgement, error) {
	judged, err := h.Judge(e)
	if err != nil || h.Register == nil {
		return judged, err
	}
	code, err := may(r, e)
	if code != "" {
		judged.Aside = code
	}
	return judged, err
}

// keep hands the items to the store and makes the answer.
func (h *Hall) keep(items []Incoming, now string) (Answer, error) {
	answer := Answer{Answers: []Verdict{}, Upto: map[string]uint64{}, Now: now}
	if len(items) == 0 {
		return answer, nil
	}
	verdicts, err := h.Keeper.Add(items)
	if err != nil {
		return Answer{}, err
	}
	if len(verdicts) != len(items) {
		panic("exchange: the keeper did not answer for each item")
	}
	answer.Answers = verdicts
	for _, item := range items {
		log := item.Event.Log
		if _, known := answer.Upto[log]; known || log == "" {
			continue
		}
		if answer.Upto[log], err = h.Keeper.Upto(log); err != nil {
			return Answer{}, err
		}
	}
	return answer, nil
}

// Fill takes pairs that a phone was once given by this server: one that bears the server's own seal goes in
// as it was, with what its receipt said; any other is a line like all that are pushed. Errors: CodeBadPull
// for what is not pairs, CodeTooMuch, and those of the store.
func (h *Hall) Fill(body []byte, sender Sender) (Answer, error) {
	pairs, err := readPairs(body)
	if err != nil {
		return Answer{}, err
	}
	if len(pairs) > MaxBatch {
		return Answer{}, &journal.Fault{Code: CodeTooMuch}
	}
	receipt, register := h.receipt(sender), newMemo(h.Register)
	items := make([]Incoming, 0, len(pairs))
	for _, pair := range pairs {
		item, err := h.filling(pair, receipt, sender, register)
		if err != nil {
			return Answer{}, err
		}
		items = append(items, item)
	}
	return h.keep(items, receipt.At)
}

// filling is what becomes of a pair: the server's own word is not judged again.
func (h *Hall) filling(pair journal.Pair, receipt Receipt, sender Sender, r Register) (Incoming, error) {
	hash := journal.Hash(pair.Line)
	event, err := journal.Parse(pair.Line)
	if err != nil || sender.Revoked || !h.own(hash, pair.Receipt) {
		return h.incoming(pair.Line, receipt, sender, r)
	}
	judged, err := h.Judge(event)
	pair.Receipt.N = 0
	return Incoming{Line: pair.Line, Event: event, Hash: hash, Receipt: pair.Receipt, To: judged.To, Fed: true}, err
}

// own says whether the server gave this receipt for the line with this hash.
func (h *Hall) own(hash string, r Receipt) bool {
	seal := h.Seal(hash, r) // an older server's may be longer: it begins so too
	return r.Seal != "" && same(r.Seal[:min(len(r.Seal), len(seal))], seal)
}

// same compares in a time that does not tell where two texts of one length differ.
func same(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	differ := byte(0)
	for i := range len(a) {
		differ |= a[i] ^ b[i]
	}
	return differ == 0
}

// Compare answers what a phone holds with how far the feeds have each of these logs, and with the lines that stand where the
// phone's runs of lines end: two histories under one log's name are told apart by them. What is set aside does not
// count: a phone may hold it as accepted. Error: the store's.
func (h *Hall) Compare(held Frontiers) (Frontiers, error) {
	fed := Frontiers{Upto: journal.Frontier{}, Hash: map[string][]string{}}
	for log, seq := range held.Upto {
		upto, err := h.Keeper.Fed(log, seq)
		if err != nil {
			return Frontiers{}, err
		}
		ends := held.Ends[log]
		hashes, err := h.Keeper.Stand(log, append(ends[:len(ends):len(ends)], upto))
		if err != nil {
			return Frontiers{}, err
		}
		for i := range hashes {
			hashes[i] = hashes[i][:min(len(hashes[i]), hashStart)]
		}
		fed.Upto[log], fed.Hash[log] = upto, hashes
	}
	return fed, nil
}
