package journal

import (
	"bytes"
)

// maxWitness bounds the ticks that raise the counter, so that a forged one cannot use it up.
const maxWitness = 1 << 52

// linksAtOpen is how many links of the chain are followed, from its end, when a log is opened.
const linksAtOpen = 256

// Log is the device's own log: events written here, in order, chained.
type Log struct {
	tapes   []*tape // the last one is written, those before it are only read
	logs    []string
	entries []entry
	damage  Damage

	id   string // of the present log
	seq  uint64
	prev string
	tick uint64

	renewed func(id string) // remembers a renewal; nil for a log outside a pool
}

// entry says where a line stands.
type entry struct {
	offset    int64
	length    int32
	log, tape uint16
	seq       uint64
}

// OpenLog reads the log in file. A torn tail is cut off; a bad line in the middle is skipped,
// counted and told by Damage. id (a new UUIDv7) becomes the log's id when file holds no event yet.
// older are read-only files with earlier lines of this device, oldest first; mostly there are none.
func OpenLog(file File, id string, older ...File) (*Log, error) {
	var reels []reel
	for _, f := range append(append([]File{}, older...), file) {
		r := reel{tape: &tape{file: f}}
		var err error
		if r.data, err = r.tape.all(); err != nil {
			return nil, err
		}
		reels = append(reels, r)
	}
	return openLog(id, reels), nil
}

// reel is a tape with the bytes that were read from it.
type reel struct {
	tape *tape
	data []byte
}

// openLog indexes the reels, oldest first; the last one is written from now on.
func openLog(id string, reels []reel) *Log {
	l := &Log{}
	for _, r := range reels {
		l.begin(id)
		l.index(r.tape, r.data)
	}
	if torn := l.damage.Torn; torn > 0 {
		t := reels[len(reels)-1].tape
		_ = t.cut(t.end - int64(torn)) // a failure leaves the tape dirty: tried again before the next write
	}
	return l
}

// index reads the lines of one file into the log's index.
func (l *Log) index(t *tape, data []byte) {
	l.tapes = append(l.tapes, t)
	s := scanner{data: data}
	first := len(l.entries)
	for p, ok := s.next(); ok; p, ok = s.next() {
		if p.line == nil {
			l.damage.skip(p.offset, p.bad)
			continue
		}
		g, ok := glanceOrParse(p.line)
		switch {
		case ok:
			l.add(p.offset, p.line, &g)
		case p.offset != 0 || !isHeader(p.line):
			l.damage.skip(p.offset, p.line)
		}
	}
	l.damage.Torn = len(s.tail())
	if len(l.entries) == first {
		return
	}
	l.prev = Hash(l.entries[len(l.entries)-1].in(data))
	l.damage.Broken += broken(l.entries[max(first, len(l.entries)-linksAtOpen):], data)
}

// in is the entry's line within the bytes of its file.
func (e *entry) in(data []byte) Line { return data[e.offset : e.offset+int64(e.length)] }

// broken counts the lines of one file, after the first given, that do not follow the line before them.
func broken(entries []entry, data []byte) (n int) {
	for i := 1; i < len(entries); i++ {
		before, e := &entries[i-1], &entries[i]
		g, _ := glanceOrParse(e.in(data))
		switch {
		case e.log != before.log && e.seq != 1:
			n++
		case e.log == before.log && (e.seq != before.seq+1 || string(g.prev) != Hash(before.in(data))):
			n++
		}
	}
	return n
}

// Verify follows the whole chain and counts the lines that do not follow the one before them.
// Opening follows only its end: hashing everything would be most of a cold start. Error: CodeReadFailed.
func (l *Log) Verify() (n int, err error) {
	for first := 0; first < len(l.entries); {
		next := first
		for next < len(l.entries) && l.entries[next].tape == l.entries[first].tape {
			next++
		}
		t := l.tapes[l.entries[first].tape]
		data, err := t.read(0, t.end)
		if err != nil {
			return 0, err
		}
		n += broken(l.entries[first:next], data)
		first = next
	}
	return n, nil
}

// add enters a line as the last of its log.
func (l *Log) add(offset int64, line []byte, g *glimpse) {
	if n := len(l.logs); n == 0 || l.logs[n-1] != string(g.log) {
		l.logs = append(l.logs, string(g.log))
	}
	l.id, l.seq = l.logs[len(l.logs)-1], g.seq
	l.tick = max(l.tick, g.tick)
	l.entries = append(l.entries, entry{offset: offset, length: int32(len(line)),
		log: uint16(len(l.logs) - 1), tape: uint16(len(l.tapes) - 1), seq: g.seq})
}

// ID is the id that the next event will carry.
func (l *Log) ID() string { return l.id }

// Owns says whether id is a log of this device, the present one or an earlier one.
func (l *Log) Owns(id string) bool {
	for _, log := range l.logs {
		if log == id {
			return true
		}
	}
	return id == l.id
}

// Seq is the seq of the last event of the present log, 0 when it has none.
func (l *Log) Seq() uint64 { return l.seq }

// Tick is the highest tick written or witnessed.
func (l *Log) Tick() uint64 { return l.tick }

// Damage is what was found when the log was opened.
func (l *Log) Damage() Damage { return l.damage }

// Witness raises the Lamport counter to a tick that was seen elsewhere; beyond 2^52 it is not believed.
func (l *Log) Witness(tick uint64) {
	if tick <= maxWitness {
		l.tick = max(l.tick, tick)
	}
}

// Renew starts another log in the same file: what the device does when it learns of a fork.
// The next event has seq 1. Earlier lines stay. A pool remembers it over a restart; where that
// fails, the next push learns of the fork again.
func (l *Log) Renew(id string) {
	l.begin(id)
	if l.renewed != nil {
		l.renewed(id)
	}
}

func (l *Log) begin(id string) { l.id, l.seq, l.prev = id, 0, "" }

// Append writes the drafts: one buffer, one write, one flush, then read back. When it returns
// nil the lines are kept ("saved"). On any error nothing is kept, the log is as before and usable;
// only where cutting back failed too and the device then dies, a restart may find what was refused.
// Each event gets the highest tick seen so far + 1. A crash in the midst may keep some of the
// drafts, whole and in order, none of which was called saved.
func (l *Log) Append(drafts []Draft) ([]Line, error) {
	if len(drafts) == 0 {
		return nil, nil
	}
	lines, buf, err := l.compose(drafts)
	if err != nil {
		return nil, err
	}
	t := l.tapes[len(l.tapes)-1]
	at := t.end
	if err := t.append(buf); err != nil {
		return nil, err
	}
	for _, line := range lines {
		g, _ := glance(line)
		l.add(at, line, &g)
		at += int64(len(line)) + frameExtra
	}
	l.prev = Hash(lines[len(lines)-1])
	return lines, nil
}

// compose gives the drafts their places and makes one buffer of them.
func (l *Log) compose(drafts []Draft) (lines []Line, buf []byte, err error) {
	at := place{log: l.id, seq: l.seq, prev: l.prev, tick: l.tick}
	for i := range drafts {
		at.seq++
		at.tick++
		line, err := drafts[i].line(at)
		if err != nil {
			return nil, nil, err
		}
		at.prev = Hash(line)
		lines = append(lines, line)
		buf = frame(buf, line)
	}
	return lines, buf, nil
}

// After gives the lines beyond upto, in the order written, at most most lines and size bytes
// (the first line is given even when it is longer). Error: CodeReadFailed.
func (l *Log) After(upto Frontier, most, size int) ([]Line, error) {
	var lines []Line
	seen := l.seen(upto)
	for i := range l.entries {
		e := &l.entries[i]
		if e.seq <= seen[e.log] {
			continue
		}
		size -= int(e.length) + 1
		if len(lines) == most || len(lines) > 0 && size < 0 {
			break
		}
		line, err := l.read(e)
		if err != nil {
			return nil, err
		}
		lines = append(lines, line)
	}
	return lines, nil
}

// Count is the number of lines beyond upto.
func (l *Log) Count(upto Frontier) int {
	n, seen := 0, l.seen(upto)
	for i := range l.entries {
		if l.entries[i].seq > seen[l.entries[i].log] {
			n++
		}
	}
	return n
}

// Oldest is the oldest line beyond upto that can be read; false when there is none.
func (l *Log) Oldest(upto Frontier) (Line, bool) {
	seen := l.seen(upto)
	for i := range l.entries {
		e := &l.entries[i]
		if e.seq <= seen[e.log] {
			continue
		}
		if line, err := l.read(e); err == nil {
			return line, true
		}
	}
	return nil, false
}

// seen is upto by the log's place in logs.
func (l *Log) seen(upto Frontier) []uint64 {
	seen := make([]uint64, len(l.logs))
	for i, log := range l.logs {
		seen[i] = upto[log]
	}
	return seen
}

func (l *Log) read(e *entry) (Line, error) {
	framed, err := l.tapes[e.tape].read(e.offset, int64(e.length)+frameExtra-1)
	if err != nil {
		return nil, err
	}
	line, _, ok := unframe(framed)
	if !ok {
		return nil, fault(CodeReadFailed, "a line changed since it was indexed")
	}
	return line, nil
}

// Each calls visit with every line in the order written, until visit returns false. The line is
// the caller's. Error: CodeReadFailed.
func (l *Log) Each(visit func(Line) bool) error {
	var data []byte
	have := -1
	for i := range l.entries {
		e := &l.entries[i]
		if t := l.tapes[e.tape]; have != int(e.tape) {
			var err error
			if data, err = t.read(0, t.end); err != nil {
				return err
			}
			have = int(e.tape)
		}
		if !visit(bytes.Clone(e.in(data))) {
			return nil
		}
	}
	return nil
}
