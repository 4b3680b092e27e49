package journal

import (
	"bytes"
	"strconv"

	"jointwalk/sync/lightjson"
)

// maxSeal bounds a Seal in characters.
const maxSeal = 64

// Receipt is what the server adds to an event. It stands outside the line and travels with it.
// The zero Receipt means that the server has not answered yet.
type Receipt struct {
	N      uint64 `json:"n"`              // place in the site's feed, dense from 1
	At     string `json:"at"`             // the server's clock, TimeLayout
	Offset int64  `json:"offset"`         // the sender's clock minus the server's, ms
	From   string `json:"from"`           // id of the device that sent it
	Seal   string `json:"seal,omitempty"` // hex, by which the server knows its own word again; "" on older receipts
}

// ParseReceipt reads a receipt. It is strict about n, at, from and seal; unknown fields are let through. Error: CodeBadLine.
func ParseReceipt(line []byte) (Receipt, error) {
	if r, ok := glanceReceipt(line); ok && r.whole() {
		return r, nil
	}
	var r Receipt
	if err := lightjson.Unmarshal(line, &r); err != nil {
		return Receipt{}, &Fault{Code: CodeBadLine, Cause: err}
	}
	if !r.whole() {
		return Receipt{}, fault(CodeBadLine, "receipt")
	}
	return r, nil
}

func (r *Receipt) whole() bool {
	return r.N >= 1 && r.N <= MaxNumber && isTime(r.At) && isToken(r.From) &&
		r.Offset >= -MaxNumber && r.Offset <= MaxNumber && len(r.Seal) <= maxSeal && isHex(r.Seal, len(r.Seal))
}

// receiptWords are a receipt's words where they stand in its line.
type receiptWords struct{ at, from, seal word }

// receiptForm walks over a receipt in the one order that this package writes, by bytes, to its very end.
func receiptForm(line []byte) (h head, r Receipt, w receiptWords) {
	h = head{line: line, ok: true}
	r.N = h.number(`{"n":`)
	w.at = h.word(`,"at":"`)
	h.take(`,"offset":`)
	sign, minus := int64(1), ""
	if h.next("-") {
		sign, minus = -1, "-"
	}
	r.Offset = sign * int64(h.number(minus))
	w.from = h.word(`,"from":"`)
	w.seal = h.optional(`,"seal":"`)
	h.take("}")
	h.ok = h.done()
	return h, r, w
}

// glanceReceipt reads a receipt in our order; false for any other. Its words are not looked into.
func glanceReceipt(line []byte) (Receipt, bool) {
	h, r, w := receiptForm(line)
	if !h.ok {
		return r, false
	}
	words, ok := h.words()
	r.At, r.From, r.Seal = w.at.of(words), w.from.of(words), w.seal.of(words)
	return r, ok
}

// isReceipt says whether a good line of a feed is a receipt, one with later fields included.
func isReceipt(line []byte) bool {
	if !bytes.HasPrefix(line, []byte(`{"n":`)) {
		return false
	}
	if h, _, _ := receiptForm(line); h.ok {
		return true
	}
	_, err := ParseReceipt(line)
	return err == nil
}

// AppendReceipt appends the receipt as JSON to buf, without seal where it is "".
func AppendReceipt(buf []byte, r Receipt) []byte {
	return join(buf, `{"n":`, number(r.N), `,"at":"`, r.At, `","offset":`, strconv.FormatInt(r.Offset, 10),
		`,"from":"`, r.From, optional(`","seal":"`, r.Seal), `"}`)
}
