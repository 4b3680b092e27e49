package journal

import "slices"

// maxWitness bounds the ticks that raise the counter, so that a forged one cannot use it up.
const maxWitness = 1 << 52

// linksAtOpen is how many links of the chain are followed, from its end, when a log is opened.
const linksAtOpen = 64

// After ownFile bytes the log goes on in another file of the pool; where there is none, it is tried again
// after ownAgain more.
const (
	ownFile  = 1 << 20
	ownAgain = 64 << 10
)

// Log is the device's own log: events written here, in order, chained.
type Log struct {
	tapes   []*tape // the last one is written, those before it are only read
	logs    []string
	former  []string // logs of this device whose lines may be here no more
	entries []entry
	damage  Damage

	id   string // of the present log
	seq  uint64
	prev string
	tick uint64

	limit   int64                 // the length at which another file is taken
	later   int64                 // none is taken before this length: there was none
	roll    func() (*tape, error) // takes one; nil for a log outside a pool
	renewed func()                // remembers a renewal; nil for a log outside a pool
}

// entry says where a line stands.
type entry struct {
	offset    int64
	length    int32
	log, tape uint16
	seq       uint64
}

// OpenLog reads the log in file. A torn tail is cut off; a bad line in the middle is skipped,
// counted and told by Damage. id (a new UUIDv7) becomes the log's id when file holds no event yet, or ends in
// something that cannot be read: it may have been an event, whose number is not to be given twice.
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
	l := &Log{limit: ownFile}
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
	l.entries = slices.Grow(l.entries, len(data)/usualLine)
	first, fresh, badEnd := len(l.entries), l.id, false
	for p, ok := s.next(); ok; p, ok = s.next() {
		badEnd = !l.take(p)
	}
	l.damage.Torn = len(s.tail())
	if len(l.entries) == first {
		return
	}
	l.prev = Hash(l.entries[len(l.entries)-1].in(data))
	l.damage.Broken += broken(l.entries[max(first, len(l.entries)-linksAtOpen):], data)
	if badEnd {
		l.begin(fresh)
	}
}

// take takes one piece of the newest file; false when it cannot be read.
func (l *Log) take(p piece) bool {
	g, ok := glanceOrParse(p.line)
	if ok {
		l.add(p.offset, p.line, &g)
		return true
	}
	l.damage.skip(p)
	return p.isHeader()
}

// in is the entry's line within the bytes of its file.
func (e *entry) in(data []byte) Line {
	to := e.offset + int64(e.length)
	return data[e.offset:to:to]
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
	return id == l.id || slices.Contains(l.logs, id) || slices.Contains(l.former, id)
}

// written are the logs of this device that have events, once each.
func (l *Log) written() []string {
	all := slices.Clone(l.former)
	for _, id := range l.logs {
		if !slices.Contains(all, id) {
			all = append(all, id)
		}
	}
	return all
}

// Contradicts says whether another line than this one stands in the log under its number: the other side of a fork.
func (l *Log) Contradicts(log string, seq uint64, line Line) bool {
	other := false
	for i := range l.entries {
		e := &l.entries[i]
		if e.seq != seq || l.logs[e.log] != log {
			continue
		}
		here, err := l.read(e)
		if err == nil && string(here) == string(line) {
			return false
		}
		other = true
	}
	return other
}

// Earlier are the logs that this device wrote before the present one.
func (l *Log) Earlier() []string {
	var earlier []string
	for _, id := range l.written() {
		if id != l.id {
			earlier = append(earlier, id)
		}
	}
	return earlier
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
		l.renewed()
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
	t := l.newest()
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

// newest is the file to write to: another one, where the present one is long and one can be had.
func (l *Log) newest() *tape {
	t := l.tapes[len(l.tapes)-1]
	if l.roll == nil || t.end < l.limit || t.end < l.later {
		return t
	}
	if !l.another() {
		l.later = t.end + ownAgain // the present file goes on
	}
	return l.tapes[len(l.tapes)-1]
}

// another makes another file the newest, where one can be had.
func (l *Log) another() bool {
	next, err := l.roll()
	if err == nil {
		l.tapes, l.later = append(l.tapes, next), 0
	}
	return err == nil
}

// empty says whether the newest file has no line.
func (l *Log) empty() bool {
	n := len(l.entries)
	return n == 0 || int(l.entries[n-1].tape) != len(l.tapes)-1
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
