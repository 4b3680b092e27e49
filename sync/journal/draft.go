package journal

import (
	"bytes"
	"encoding/json"
	"strconv"
	"unicode/utf8"
)

// Draft is an event before it has its place: everything but log, seq, prev and tick.
type Draft struct {
	ID, Time, Zone, By string
	About              About
	Kind               string
	V                  int // 0 means 1
	Base               string
	Body               any // marshalled once; must become a JSON object
}

// place is what a log gives to a draft.
type place struct {
	log  string
	seq  uint64
	prev string
	tick uint64
}

// line marshals the draft for the first and only time, without HTML escaping. Everything that Parse asks of a line is
// asked here, so that nothing is ever written that cannot be read.
func (d *Draft) line(at place) (Line, error) {
	body, err := marshal(d.Body)
	if err != nil {
		return nil, &Fault{Code: CodeBadLine, Cause: err}
	}
	e := Event{V: max(d.V, 1), ID: d.ID, Log: at.log, Seq: at.seq, Prev: at.prev, Tick: at.tick,
		Time: d.Time, Zone: d.Zone, By: d.By, About: d.About, Kind: d.Kind, Base: d.Base, Body: body}
	if wrong := e.wrong(); wrong != "" {
		return nil, fault(CodeBadLine, wrong)
	}
	if !utf8.Valid(body) {
		return nil, fault(CodeBadLine, "not UTF-8")
	}
	line := e.line()
	if len(line) > MaxLine {
		return nil, &Fault{Code: CodeLineTooLong}
	}
	return line, nil
}

// line writes the envelope in the one order that there is. Its words are well formed: they need no escapes.
func (e *Event) line() Line {
	b := append(make([]byte, 0, 512+len(e.Body)), `{"v":`...)
	b = strconv.AppendUint(b, uint64(e.V), 10)
	b = field(b, `,"id":"`, e.ID)
	b = field(b, `,"log":"`, e.Log)
	b = strconv.AppendUint(append(b, `,"seq":`...), e.Seq, 10)
	b = field(b, `,"prev":"`, e.Prev)
	b = strconv.AppendUint(append(b, `,"tick":`...), e.Tick, 10)
	b = field(b, `,"time":"`, e.Time)
	b = field(b, `,"zone":"`, e.Zone)
	b = field(b, `,"by":"`, e.By)
	b = field(b, `,"about":{"site":"`, e.About.Site)
	b = optional(b, `,"fixture":"`, e.About.Fixture)
	b = optional(b, `,"of":"`, e.About.Of)
	b = field(b, `},"kind":"`, e.Kind)
	b = optional(b, `,"base":"`, e.Base)
	b = append(append(b, `,"body":`...), e.Body...)
	return append(b, '}')
}

// field appends key, value and the closing quote.
func field(b []byte, key, value string) []byte {
	return append(append(append(b, key...), value...), '"')
}

// optional is field for a value that may be "": then nothing is appended.
func optional(b []byte, key, value string) []byte {
	if value == "" {
		return b
	}
	return field(b, key, value)
}

// marshal is json.Marshal without HTML escaping.
func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(v); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}
