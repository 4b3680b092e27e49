package exchange

import (
	"bytes"
	"encoding/base64"
	"strconv"
	"strings"

	"jointwalk/sync/journal"
	"jointwalk/sync/lightjson"
	"jointwalk/sync/sha"
)

// place is what a cursor means. It is opaque to everybody but the server.
type place struct {
	Incarnation, Site string
	N                 uint64
}

// sign is a digest of incarnation and site, by which a cursor is known to belong. A phone sends a cursor a site whenever it
// asks for news, so both would be too long to travel.
func (p place) sign() string {
	sum := sha.Sum256([]byte(p.Incarnation + "\n" + p.Site))
	return base64.RawURLEncoding.EncodeToString(sum[:9]) + "."
}

func (p place) cursor() string { return p.sign() + strconv.FormatUint(p.N, 10) }

// sliceEnd is the last line of a slice.
type sliceEnd struct {
	Cursor  string `json:"cursor"`
	More    *bool  `json:"more"`
	Skipped int    `json:"skipped,omitempty"` // events of the feed that were passed over, as a phone does not need them
}

// Pull makes one slice of a site's feed as NDJSON: an event's line, its receipt, …, and at the end
// {"cursor","more","skipped"}. A cursor that is empty, unreadable, of another site or of another incarnation begins at 0; max ≤ 0
// means MaxSlice. A slice ends early at MaxSliceBytes. Errors are the store's.
func (h *Hall) Pull(site, cursor string, max int) ([]byte, error) {
	if max <= 0 || max > MaxSlice {
		max = MaxSlice
	}
	at := place{Incarnation: h.Feed.Incarnation(), Site: site}
	at.N = readCursor(cursor, at)
	var body []byte
	skipped := 0
	for looked := 0; looked < mostLooked; looked += max {
		stored, more, err := h.Feed.Site(site, at.N, max)
		if err != nil {
			return nil, err
		}
		skip := make([]bool, len(stored))
		if h.Skip != nil {
			if skip, err = h.Skip(stored); err != nil {
				return nil, err
			}
		}
		body, more = appendSome(body, stored, skip, &at, &skipped, more)
		if len(body) > 0 || !more {
			return appendEnd(body, at, skipped, more)
		}
	}
	return appendEnd(body, at, skipped, true)
}

// mostLooked bounds how many skipped events one pull goes over.
const mostLooked = 20 * MaxSlice

// appendSome appends the pairs that a phone needs, moves the place behind all that were looked at, and counts the others.
func appendSome(body []byte, stored []Stored, skip []bool, at *place, skipped *int, more bool) ([]byte, bool) {
	for i, s := range stored {
		if !skip[i] {
			if len(body) > 0 && len(body)+len(s.Line) > MaxSliceBytes {
				return body, true
			}
			body = AppendPair(body, s)
		} else {
			*skipped++
		}
		at.N = s.Receipt.N
	}
	return body, more
}

// AppendPair appends a pair as it travels: the line, the receipt, each with a newline.
func AppendPair(body []byte, pair journal.Pair) []byte {
	body = append(append(body, pair.Line...), '\n')
	return append(journal.AppendReceipt(body, pair.Receipt), '\n')
}

func appendEnd(body []byte, at place, skipped int, more bool) ([]byte, error) {
	end, err := lightjson.Marshal(sliceEnd{Cursor: at.cursor(), More: &more, Skipped: skipped})
	if err != nil {
		return nil, err
	}
	return append(append(body, end...), '\n'), nil
}

// readCursor is the n of a cursor that belongs to here, else 0.
func readCursor(cursor string, here place) uint64 {
	at, _ := cursorAt(cursor, here)
	return at
}

// isCursor says whether a cursor belongs to here.
func isCursor(cursor string, here place) bool {
	_, ok := cursorAt(cursor, here)
	return ok
}

func cursorAt(cursor string, here place) (n uint64, ok bool) {
	digits, ok := strings.CutPrefix(cursor, here.sign())
	if !ok {
		return 0, false
	}
	n, err := strconv.ParseUint(digits, 10, 64)
	return n, err == nil
}

// parseSlice reads a whole slice, strictly: pairs, then the end, and a newline after each. Error: CodeBadPull.
func parseSlice(body []byte) (pairs []journal.Pair, end sliceEnd, err error) {
	if !bytes.HasSuffix(body, []byte("\n")) {
		return nil, end, badPull("cut off")
	}
	lines := bytes.Split(body[:len(body)-1], []byte("\n"))
	last := len(lines) - 1
	if lightjson.Unmarshal(lines[last], &end) != nil || end.Cursor == "" || end.More == nil {
		return nil, end, badPull("no end")
	}
	pairs, err = pairsOf(lines[:last])
	for i := 1; i < len(pairs) && err == nil; i++ {
		if pairs[i].Receipt.N <= pairs[i-1].Receipt.N {
			err = badPull("receipt")
		}
	}
	return pairs, end, err
}

// readPairs reads pairs and nothing else, strictly. Error: CodeBadPull.
func readPairs(body []byte) ([]journal.Pair, error) {
	if len(body) == 0 {
		return nil, nil
	}
	if !bytes.HasSuffix(body, []byte("\n")) {
		return nil, badPull("cut off")
	}
	return pairsOf(bytes.Split(body[:len(body)-1], []byte("\n")))
}

func pairsOf(lines [][]byte) (pairs []journal.Pair, err error) {
	if len(lines)%2 != 0 {
		return nil, badPull("an event without a receipt")
	}
	for i := 0; i < len(lines); i += 2 {
		if _, err := journal.Parse(lines[i]); err != nil {
			return nil, &journal.Fault{Code: CodeBadPull, Cause: err}
		}
		receipt, err := journal.ParseReceipt(lines[i+1])
		if err != nil {
			return nil, badPull("receipt")
		}
		pairs = append(pairs, journal.Pair{Line: lines[i], Receipt: receipt})
	}
	return pairs, nil
}

func badPull(why string) error { return &journal.Fault{Code: CodeBadPull, Cause: cause(why)} }

// cause is the plain reason inside a Fault.
type cause string

func (c cause) Error() string { return string(c) }
