package journal

import (
	"strconv"
	"unicode/utf8"

	"jointwalk/sync/lightjson"
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
	body, err := lightjson.Marshal(d.Body)
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
	return join(make([]byte, 0, 512+len(e.Body)), `{"v":`, number(uint64(e.V)), `,"id":"`, e.ID, `","log":"`, e.Log, `","seq":`, number(e.Seq),
		`,"prev":"`, e.Prev, `","tick":`, number(e.Tick), `,"time":"`, e.Time, `","zone":"`, e.Zone, `","by":"`, e.By,
		`","about":{"site":"`, e.About.Site, optional(`","fixture":"`, e.About.Fixture), optional(`","of":"`, e.About.Of),
		`"},"kind":"`, e.Kind, optional(`","base":"`, e.Base), `","body":`, string(e.Body), `}`)
}

// join appends all parts to buf. (Appending one by one weighs ten times as much in the phone's engine.)
func join(buf []byte, parts ...string) []byte {
	for _, part := range parts {
		buf = append(buf, part...)
	}
	return buf
}

func number(n uint64) string { return strconv.FormatUint(n, 10) }

// optional is key and value, nothing for a value of "".
func optional(key, value string) string {
	if value == "" {
		return ""
	}
	return key + value
}
