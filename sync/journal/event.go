package journal

import (
	"bytes"
	"encoding/hex"
	"encoding/json"
	"unicode/utf8"

	"jointwalk/sync/lightjson"
	"jointwalk/sync/sha"
)

const (
	// MaxLine is the longest line in bytes, without its newline.
	MaxLine = 16 << 10
	// MaxNumber bounds seq and tick: the largest whole number that every JSON reader keeps exactly.
	MaxNumber = 1<<53 - 1
	// TimeLayout is the one form of an event's time: RFC 3339 with milliseconds, UTC.
	TimeLayout = "2006-01-02T15:04:05.000Z"
)

// Line is one event as JSON, exactly as first written, without newline.
type Line []byte

// Event is the envelope of a line, parsed. It is for reading: a line is never made from an Event.
type Event struct {
	V     int             `json:"v"`              // version of the body's form, 1 and up
	ID    string          `json:"id"`             // UUIDv7 of the event
	Log   string          `json:"log"`            // UUIDv7 of the log it was first written to
	Seq   uint64          `json:"seq"`            // place in its log, dense from 1
	Prev  string          `json:"prev"`           // hex SHA-256 of the log's previous line, "" for seq 1
	Tick  uint64          `json:"tick"`           // Lamport counter, 1 and up
	Time  string          `json:"time"`           // the device's own clock, TimeLayout
	Zone  string          `json:"zone"`           // IANA name or offset of the device
	By    string          `json:"by"`             // person id
	About About           `json:"about"`          // what it is about
	Kind  string          `json:"kind"`           // lower case words, known to package record
	Base  string          `json:"base,omitempty"` // what an edit or an amendment starts from
	Body  json.RawMessage `json:"body"`           // a JSON object
}

// About names what an event is about. Fixture and Of may be "".
type About struct {
	Site    string `json:"site"`
	Fixture string `json:"fixture,omitempty"`
	Of      string `json:"of,omitempty"` // id of the noun: joint, round, look …
}

// Pair is a pulled event with its receipt.
type Pair struct {
	Line    Line
	Receipt Receipt
}

// Frontier says for each log the highest seq that is meant: acknowledged, held, known.
type Frontier map[string]uint64

// Hash is the identity of a line's bytes: hex SHA-256, lower case.
func Hash(line Line) string {
	sum := sha.Sum256(line)
	return hex.EncodeToString(sum[:])
}

// Parse reads the envelope. It is strict: every field but base, fixture and of
// is required and well formed; the body is an object. Unknown fields are let
// through. Errors are Faults with CodeLineTooLong or CodeBadLine.
func Parse(line Line) (Event, error) {
	if len(line) > MaxLine {
		return Event{}, &Fault{Code: CodeLineTooLong}
	}
	if !utf8.Valid(line) || bytes.IndexByte(line, '\n') >= 0 || bytes.IndexByte(line, '\r') >= 0 {
		return Event{}, fault(CodeBadLine, "not one line of UTF-8")
	}
	if e, ok := envelope(line); ok && e.wrong() == "" && lightjson.Valid(e.Body) {
		e.Body = bytes.Clone(e.Body)
		return e, nil
	}
	return parseSlowly(line)
}

// parseSlowly is Parse for a line in whatever order.
func parseSlowly(line Line) (Event, error) {
	var e Event
	if err := lightjson.Unmarshal(line, &e); err != nil {
		return Event{}, &Fault{Code: CodeBadLine, Cause: err}
	}
	if wrong := e.wrong(); wrong != "" {
		return Event{}, fault(CodeBadLine, wrong)
	}
	if g, ok := glance(line); ok && !g.agrees(&e) {
		return Event{}, fault(CodeBadLine, "a field twice")
	}
	return e, nil
}

// wrong names the first field that is not well formed, or is "".
func (e *Event) wrong() string {
	switch {
	case e.V < 1 || e.V > 1<<20:
		return "v"
	case !isUUID(e.ID):
		return "id"
	case !isUUID(e.Log):
		return "log"
	case e.Seq < 1 || e.Seq > MaxNumber:
		return "seq"
	case e.Prev == "" != (e.Seq == 1) || e.Prev != "" && !isHex(e.Prev, 2*sha.Size):
		return "prev"
	case e.Tick < 1 || e.Tick > MaxNumber:
		return "tick"
	}
	return e.wrongWords()
}

func (e *Event) wrongWords() string {
	switch {
	case !isTime(e.Time):
		return "time"
	case !isToken(e.Zone):
		return "zone"
	case !isToken(e.By):
		return "by"
	case !isToken(e.About.Site):
		return "about.site"
	case e.About.Fixture != "" && !isToken(e.About.Fixture):
		return "about.fixture"
	case e.About.Of != "" && !isToken(e.About.Of):
		return "about.of"
	case !isToken(e.Kind):
		return "kind"
	case e.Base != "" && !isToken(e.Base):
		return "base"
	case len(e.Body) == 0 || e.Body[0] != '{':
		return "body"
	}
	return ""
}

// isTime holds for a real moment in TimeLayout.
func isTime(s string) bool {
	if len(s) != len(TimeLayout) {
		return false
	}
	for i := 0; i < len(s); i++ {
		digit := s[i] >= '0' && s[i] <= '9'
		if wantsDigit := TimeLayout[i] >= '0' && TimeLayout[i] <= '9'; wantsDigit != digit || !digit && s[i] != TimeLayout[i] {
			return false
		}
	}
	year, month, day := two(s, 0)*100+two(s, 2), two(s, 5), two(s, 8)
	return month >= 1 && month <= 12 && day >= 1 && day <= daysIn(year, month) &&
		two(s, 11) < 24 && two(s, 14) < 60 && two(s, 17) < 60
}

// two is the number in the two digits at i.
func two(s string, i int) int { return int(s[i]-'0')*10 + int(s[i+1]-'0') }

func daysIn(year, month int) int {
	switch month {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if year%4 == 0 && (year%100 != 0 || year%400 == 0) {
			return 29
		}
		return 28
	}
	return 31
}

// isToken holds for 1 to 128 visible ASCII characters without quotes or backslash.
func isToken(s string) bool {
	for i := 0; i < len(s); i++ {
		if c := s[i]; c <= ' ' || c >= 0x7f || c == '"' || c == '\\' {
			return false
		}
	}
	return len(s) >= 1 && len(s) <= 128
}

func isHex(s string, n int) bool {
	for i := 0; i < len(s); i++ {
		if c := s[i]; (c < '0' || c > '9') && (c < 'a' || c > 'f') {
			return false
		}
	}
	return len(s) == n
}

// isUUID holds for the canonical form: lower case, 8-4-4-4-12.
func isUUID(s string) bool {
	return len(s) == 36 && s[8] == '-' && s[13] == '-' && s[18] == '-' && s[23] == '-' &&
		isHex(s[:8], 8) && isHex(s[9:13], 4) && isHex(s[14:18], 4) && isHex(s[19:23], 4) && isHex(s[24:], 12)
}
