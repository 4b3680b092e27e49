package journal

import "bytes"

// glimpse is what the index needs of a line. Its slices point into the line.
type glimpse struct {
	id, log, prev []byte
	seq, tick     uint64
}

// glance reads the head of a line by bytes, without unmarshalling. It knows only the order
// that this package writes (v id log seq prev tick) and says false for any other.
func glance(line []byte) (g glimpse, ok bool) {
	h := head{line: line, ok: true}
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

// Glance reads the envelope of a line that this package kept: its checksum was good, and it was parsed before it was
// written. So neither the words nor what the body says are looked into again, and the body is a part of line, which must
// not change any more. A line in another order than ours, or with more fields, is parsed. Errors: those of Parse.
func Glance(line Line) (Event, error) {
	if e, ok := envelope(line); ok && oneObject(e.Body) {
		return e, nil
	}
	return Parse(line)
}

// oneObject says of what stands after "body": in valid JSON, its last brace left out, that it is one object and no more
// fields after it.
func oneObject(body []byte) bool {
	depth := 0
	for i := 0; i < len(body); i++ {
		switch body[i] {
		case '{':
			depth++
		case '}':
			if depth--; depth == 0 {
				return i == len(body)-1
			}
		case '"':
			for i++; i < len(body) && body[i] != '"'; i++ {
				if body[i] == '\\' {
					i++
				}
			}
		}
	}
	return false
}

// envelope reads a line in the one order that this package writes, by bytes, and is false for any other. What it takes,
// Parse's slow way takes with the same Event, as long as the line is UTF-8 without line breaks, the words are well
// formed, and the body is valid JSON.
func envelope(line []byte) (e Event, ok bool) {
	h := head{line: line, ok: len(line) <= MaxLine}
	e.V = int(h.number(`{"v":`))
	id := h.word(`,"id":"`)
	log := h.word(`,"log":"`)
	e.Seq = h.number(`,"seq":`)
	prev := h.word(`,"prev":"`)
	e.Tick = h.number(`,"tick":`)
	time := h.word(`,"time":"`)
	zone := h.word(`,"zone":"`)
	by := h.word(`,"by":"`)
	site := h.word(`,"about":{"site":"`)
	fixture := h.optional(`,"fixture":"`)
	of := h.optional(`,"of":"`)
	kind := h.word(`},"kind":"`)
	base := h.optional(`,"base":"`)
	h.take(`,"body":`)
	body, end := h.at, len(line)-1
	if !h.ok || end <= body || line[body] != '{' || line[end-1] != '}' || line[end] != '}' {
		return Event{}, false
	}
	words, ok := h.words()
	e.ID, e.Log, e.Prev, e.Time, e.Zone, e.By = id.of(words), log.of(words), prev.of(words), time.of(words), zone.of(words), by.of(words)
	e.About = About{Site: site.of(words), Fixture: fixture.of(words), Of: of.of(words)}
	e.Kind, e.Base, e.Body = kind.of(words), base.of(words), line[body:end:end]
	return e, ok
}

// word says where a word stands in its line.
type word struct{ from, to int }

func (w word) of(words string) string { return words[w.from:w.to] }

// head walks along the fixed beginning of a line.
type head struct {
	line []byte
	at   int
	ok   bool
}

func (h *head) take(key string) {
	if to := h.at + len(key); h.ok && to <= len(h.line) && string(h.line[h.at:to]) == key {
		h.at = to
		return
	}
	h.ok = false
}

// next says whether key comes next.
func (h *head) next(key string) bool {
	to := h.at + len(key)
	return h.ok && to <= len(h.line) && string(h.line[h.at:to]) == key
}

// done says whether all went well up to the very end.
func (h *head) done() bool { return h.ok && h.at == len(h.line) }

// word reads a string value and its closing quote; words says in the end that none has escapes.
func (h *head) word(key string) word {
	h.take(key)
	if !h.ok {
		return word{}
	}
	n := bytes.IndexByte(h.line[h.at:], '"')
	if n < 0 {
		h.ok = false
		return word{}
	}
	h.at += n + 1
	return word{h.at - 1 - n, h.at - 1}
}

// optional is word where key comes next. An empty value is not ours: it would have been left out.
func (h *head) optional(key string) word {
	if !h.next(key) {
		return word{}
	}
	w := h.word(key)
	h.ok = h.ok && w.from < w.to
	return w
}

// words is a copy of what was walked over, for all words at once; false where one of them has escapes.
func (h *head) words() (string, bool) {
	walked := h.line[:h.at]
	return string(walked), h.ok && bytes.IndexByte(walked, '\\') < 0
}

// text reads a string value that has no escapes, and its closing quote.
func (h *head) text(key string) []byte {
	w := h.word(key)
	value := h.line[w.from:w.to]
	h.ok = h.ok && bytes.IndexByte(value, '\\') < 0
	return value
}

// number reads a whole number as JSON has it, of at most 18 digits.
func (h *head) number(key string) (n uint64) {
	h.take(key)
	from := h.at
	for h.ok && h.at < len(h.line) && h.line[h.at] >= '0' && h.line[h.at] <= '9' {
		n = n*10 + uint64(h.line[h.at]-'0')
		h.at++
	}
	digits := h.at - from
	h.ok = h.ok && digits >= 1 && digits <= 18 && (digits == 1 || h.line[from] != '0')
	return n
}
