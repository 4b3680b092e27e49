package journal

import (
	"bytes"
	"encoding/json"
	"strconv"
)

// Receipt is what the server adds to an event. It stands outside the line and travels with it.
// The zero Receipt means that the server has not answered yet.
type Receipt struct {
	N      uint64 `json:"n"`      // place in the site's feed, dense from 1
	At     string `json:"at"`     // the server's clock, TimeLayout
	Offset int64  `json:"offset"` // the sender's clock minus the server's, ms
	From   string `json:"from"`   // id of the device that sent it
}

// ParseReceipt reads a receipt. It is strict about n, at and from; unknown fields are let through. Error: CodeBadLine.
func ParseReceipt(line []byte) (Receipt, error) {
	if r, ok := glanceReceipt(line); ok {
		return r, nil
	}
	var r Receipt
	if err := json.Unmarshal(line, &r); err != nil {
		return Receipt{}, &Fault{Code: CodeBadLine, Cause: err}
	}
	if !r.whole() {
		return Receipt{}, fault(CodeBadLine, "receipt")
	}
	return r, nil
}

func (r *Receipt) whole() bool {
	return r.N >= 1 && r.N <= MaxNumber && isTime(r.At) && isToken(r.From) &&
		r.Offset >= -MaxNumber && r.Offset <= MaxNumber
}

// glanceReceipt reads a receipt in the one order that this package writes, by bytes, to its very end.
func glanceReceipt(line []byte) (Receipt, bool) {
	n, offset, at, from, ok := receiptFields(line)
	if !ok {
		return Receipt{}, false
	}
	r := Receipt{N: n, At: string(at), Offset: offset, From: string(from)}
	return r, r.whole()
}

// isReceipt says whether a good line of a feed is a receipt, one with later fields included.
func isReceipt(line []byte) bool {
	if _, _, _, _, ok := receiptFields(line); ok {
		return true
	}
	if !bytes.HasPrefix(line, []byte(`{"n":`)) {
		return false
	}
	_, err := ParseReceipt(line)
	return err == nil
}

func receiptFields(line []byte) (n uint64, offset int64, at, from []byte, ok bool) {
	h := head{rest: line, ok: true}
	n = h.number(`{"n":`)
	at = h.text(`,"at":"`)
	h.take(`,"offset":`)
	if h.ok && len(h.rest) > 0 && h.rest[0] == '-' {
		offset = -int64(h.number("-"))
	} else {
		offset = int64(h.number(""))
	}
	from = h.text(`,"from":"`)
	h.take("}")
	return n, offset, at, from, h.ok && len(h.rest) == 0
}

// AppendReceipt appends the receipt as JSON to buf.
func AppendReceipt(buf []byte, r Receipt) []byte {
	buf = strconv.AppendUint(append(buf, `{"n":`...), r.N, 10)
	buf = append(append(buf, `,"at":"`...), r.At...)
	buf = strconv.AppendInt(append(buf, `","offset":`...), r.Offset, 10)
	return append(append(append(buf, `,"from":"`...), r.From...), `"}`...)
}
