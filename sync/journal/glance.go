package journal

import (
	"bytes"
	"hash/crc32"
)

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

// Named says whether a line may be the event with this id: quickly, of a line that this package wrote.
func Named(line Line, id string) bool {
	from := len(`{"v":1,"id":"`)
	if len(line) < from+len(id) || line[from-1] != '"' {
		return true
	}
	return string(line[from:from+len(id)]) == id
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

// Outline is what a line is about: parts of the line, not copied.
type Outline struct{ Fixture, Of, Kind []byte }

// Skim reads what a line that this package kept is about, without the rest of it. It is false where the envelope is in another
// order than ours. Of a line that says a thing once more after its body, which nobody of ours writes, the first counts.
func Skim(line Line) (Outline, bool) {
	f := formOf(line)
	o := Outline{f.fixture.in(line), f.of.in(line), f.kind.in(line)}
	for _, part := range [...][]byte{o.Fixture, o.Of, o.Kind} {
		f.ok = f.ok && bytes.IndexByte(part, '\\') < 0
	}
	return o, f.ok
}

// printed is how much of a line's beginning its print reads: the envelope's ids and numbers.
const printed = 192

// Print is a number that tells lines with their receipts apart: a checksum of what a line begins with, which holds its event's
// id, log and number and the hash of the line before it, and of the receipt.
func Print(line Line, receipt []byte) uint32 {
	sum := checksum(line[:min(len(line), printed)])
	return crc32.Update(sum^uint32(len(line)), castagnoli, receipt)
}

// form is a walk over a line in the one order that this package writes: its numbers, and where its words stand.
type form struct {
	head
	v, seq, tick                                                 uint64
	id, log, prev, time, zone, by, site, fixture, of, kind, base word
}

// formOf walks up to the body; ok is false for any other order.
func formOf(line []byte) (f form) {
	f.head = head{line: line, ok: len(line) <= MaxLine}
	f.v = f.number(`{"v":`)
	f.id = f.word(`,"id":"`)
	f.log = f.word(`,"log":"`)
	f.seq = f.number(`,"seq":`)
	f.prev = f.word(`,"prev":"`)
	f.tick = f.number(`,"tick":`)
	f.time = f.word(`,"time":"`)
	f.zone = f.word(`,"zone":"`)
	f.by = f.word(`,"by":"`)
	f.site = f.word(`,"about":{"site":"`)
	f.fixture = f.optional(`,"fixture":"`)
	f.of = f.optional(`,"of":"`)
	f.kind = f.word(`},"kind":"`)
	f.base = f.optional(`,"base":"`)
	f.take(`,"body":`)
	return f
}

// envelope reads a line in the one order that this package writes, by bytes, and is false for any other. What it takes,
// Parse's slow way takes with the same Event, as long as the line is UTF-8 without line breaks, the words are well
// formed, and the body is valid JSON.
func envelope(line []byte) (e Event, ok bool) {
	f := formOf(line)
	body, end := f.at, len(line)-1
	if !f.head.ok || end <= body || line[body] != '{' || line[end-1] != '}' || line[end] != '}' {
		return Event{}, false
	}
	words, ok := f.words()
	e.V, e.Seq, e.Tick = int(f.v), f.seq, f.tick
	e.ID, e.Log, e.Prev, e.Time, e.Zone, e.By = f.id.of(words), f.log.of(words), f.prev.of(words), f.time.of(words), f.zone.of(words), f.by.of(words)
	e.About = About{Site: f.site.of(words), Fixture: f.fixture.of(words), Of: f.of.of(words)}
	e.Kind, e.Base, e.Body = f.kind.of(words), f.base.of(words), line[body:end:end]
	return e, ok
}

// word says where a word stands in its line.
type word struct{ from, to int }

func (w word) of(words string) string { return words[w.from:w.to] }

func (w word) in(line []byte) []byte { return line[w.from:w.to] }

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
