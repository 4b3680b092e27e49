package exchange

import (
	"bytes"
	"encoding/base64"
	"encoding/json"

	"jointwalk/sync/journal"
)

// place is what a cursor means. It is opaque to everybody but the server.
type place struct {
	Incarnation string `json:"i"`
	Site        string `json:"s"`
	N           uint64 `json:"n"`
}

// sliceEnd is the last line of a slice.
type sliceEnd struct {
	Cursor string `json:"cursor"`
	More   *bool  `json:"more"`
}

// Pull makes one slice of a site's feed as NDJSON: an event's line, its receipt, …, and at the end
// {"cursor","more"}. A cursor that is empty, unreadable, of another site or of another incarnation begins at 0; max ≤ 0
// means MaxSlice. A slice ends early at MaxSliceBytes. Errors are the store's.
func Pull(feed Feed, site, cursor string, max int) ([]byte, error) {
	if max <= 0 || max > MaxSlice {
		max = MaxSlice
	}
	at := place{Incarnation: feed.Incarnation(), Site: site}
	at.N = readCursor(cursor, at)
	stored, more, err := feed.Site(site, at.N, max)
	if err != nil {
		return nil, err
	}
	var body []byte
	for _, s := range stored {
		if len(body) > 0 && len(body)+len(s.Line) > MaxSliceBytes {
			more = true
			break
		}
		body = append(append(body, s.Line...), '\n')
		body = append(journal.AppendReceipt(body, s.Receipt), '\n')
		at.N = s.Receipt.N
	}
	return appendEnd(body, at, more)
}

func appendEnd(body []byte, at place, more bool) ([]byte, error) {
	raw, err := json.Marshal(at)
	if err != nil {
		return nil, err
	}
	end, err := json.Marshal(sliceEnd{Cursor: base64.RawURLEncoding.EncodeToString(raw), More: &more})
	if err != nil {
		return nil, err
	}
	return append(append(body, end...), '\n'), nil
}

// readCursor is the n of a cursor that belongs to here, else 0.
func readCursor(cursor string, here place) uint64 {
	raw, err := base64.RawURLEncoding.DecodeString(cursor)
	if err != nil {
		return 0
	}
	var at place
	if json.Unmarshal(raw, &at) != nil || at.Incarnation != here.Incarnation || at.Site != here.Site {
		return 0
	}
	return at.N
}

// parseSlice reads a whole slice, strictly: pairs, then the end, and a newline after each. Error: CodeBadPull.
func parseSlice(body []byte) (pairs []journal.Pair, end sliceEnd, err error) {
	if !bytes.HasSuffix(body, []byte("\n")) {
		return nil, end, badPull("cut off")
	}
	lines := bytes.Split(body[:len(body)-1], []byte("\n"))
	last := len(lines) - 1
	if last%2 != 0 {
		return nil, end, badPull("an event without a receipt")
	}
	if json.Unmarshal(lines[last], &end) != nil || end.Cursor == "" || end.More == nil {
		return nil, end, badPull("no end")
	}
	n := uint64(0)
	for i := 0; i < last; i += 2 {
		if _, err := journal.Parse(lines[i]); err != nil {
			return nil, end, &journal.Fault{Code: CodeBadPull, Cause: err}
		}
		receipt, err := journal.ParseReceipt(lines[i+1])
		if err != nil || receipt.N <= n {
			return nil, end, badPull("receipt")
		}
		n = receipt.N
		pairs = append(pairs, journal.Pair{Line: lines[i], Receipt: receipt})
	}
	return pairs, end, nil
}

func badPull(why string) error { return &journal.Fault{Code: CodeBadPull, Cause: cause(why)} }

// cause is the plain reason inside a Fault.
type cause string

func (c cause) Error() string { return string(c) }
