package journal

import (
	"bytes"
	"encoding/json"
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

// line marshals the draft for the first and only time, without HTML escaping, and holds
// the result against Parse, so that nothing is ever written that cannot be read.
func (d *Draft) line(at place) (Line, error) {
	body, err := marshal(d.Body)
	if err != nil {
		return nil, &Fault{Code: CodeBadLine, Cause: err}
	}
	e := Event{V: max(d.V, 1), ID: d.ID, Log: at.log, Seq: at.seq, Prev: at.prev, Tick: at.tick,
		Time: d.Time, Zone: d.Zone, By: d.By, About: d.About, Kind: d.Kind, Base: d.Base, Body: body}
	line, err := marshal(e)
	if err != nil {
		return nil, &Fault{Code: CodeBadLine, Cause: err}
	}
	if _, err := Parse(line); err != nil {
		return nil, err
	}
	return line, nil
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
