package journal

import (
	"bytes"
	"strconv"
)

// glimpse is what the index needs of a line. Its slices point into the line.
type glimpse struct {
	id, log, prev []byte
	seq, tick     uint64
}

// glance reads the head of a line by bytes, without unmarshalling. It knows only the order
// that this package writes (v id log seq prev tick) and says false for any other.
func glance(line []byte) (g glimpse, ok bool) {
	h := head{rest: line, ok: true}
	h.number(`{"v":`)
	g.id = h.text(`,"id":"`)
	g.log = h.text(`,"log":"`)
	g.seq = h.number(`,"seq":`)
	g.prev = h.text(`,"prev":"`)
	g.tick = h.number(`,"tick":`)
	h.take(`,"`)
	return g, h.ok
}

// glanceOrParse is glance with the slow way behind it: a valid line in another order is read too.
func glanceOrParse(line []byte) (glimpse, bool) {
	if g, ok := glance(line); ok {
		return g, g.wellFormed()
	}
	e, err := Parse(line)
	if err != nil {
		return glimpse{}, false
	}
	return glimpse{id: []byte(e.ID), log: []byte(e.Log), prev: []byte(e.Prev), seq: e.Seq, tick: e.Tick}, true
}

func (g *glimpse) agrees(e *Event) bool {
	return string(g.id) == e.ID && string(g.log) == e.Log && g.seq == e.Seq &&
		string(g.prev) == e.Prev && g.tick == e.Tick
}

func (g *glimpse) wellFormed() bool {
	return len(g.log) == 36 && g.seq >= 1 && g.seq <= MaxNumber && g.tick >= 1 && g.tick <= MaxNumber
}

// head walks along the fixed beginning of a line.
type head struct {
	rest []byte
	ok   bool
}

func (h *head) take(key string) {
	if !h.ok || len(h.rest) < len(key) || string(h.rest[:len(key)]) != key {
		h.ok = false
		return
	}
	h.rest = h.rest[len(key):]
}

// next says whether c comes next.
func (h *head) next(c byte) bool { return h.ok && len(h.rest) > 0 && h.rest[0] == c }

// text reads a string value that has no escapes, and its closing quote.
func (h *head) text(key string) []byte {
	h.take(key)
	if !h.ok {
		return nil
	}
	end := bytes.IndexByte(h.rest, '"')
	if end < 0 || bytes.IndexByte(h.rest[:end], '\\') >= 0 {
		h.ok = false
		return nil
	}
	value := h.rest[:end]
	h.rest = h.rest[end+1:]
	return value
}

func (h *head) number(key string) uint64 {
	h.take(key)
	if !h.ok {
		return 0
	}
	i := 0
	for i < len(h.rest) && h.rest[i] >= '0' && h.rest[i] <= '9' {
		i++
	}
	value, err := strconv.ParseUint(string(h.rest[:i]), 10, 64)
	h.ok = err == nil && (i == 1 || h.rest[0] != '0')
	h.rest = h.rest[i:]
	return value
}
