package journal

import "errors"

// mergeAtOnce is how many pairs of an older file are taken over with one write.
const mergeAtOnce = 200

// Feed is what was pulled of one site: events with their receipts, in the order they came. In its
// file the two lines of a pair follow each other.
type Feed struct {
	tape    *tape
	mark    string
	log     *Log // witnesses ticks; nil in tests of the feed alone
	entries []feedEntry
	whole   heldSet // what is held with its receipt
	damage  Damage
}

// feedEntry says where a pair stands. receipt is 0 when the receipt was damaged.
type feedEntry struct {
	offset        int64
	line, receipt int32
	key           feedKey
}

func openFeed(t *tape, data []byte, mark string, log *Log) *Feed {
	f := &Feed{tape: t, mark: mark, log: log}
	f.entries = make([]feedEntry, 0, len(data)/usualLine)
	s := scanner{data: data}
	var open *feedEntry // an event that waits for its receipt
	for p, ok := s.next(); ok; p, ok = s.next() {
		open = f.take(p, open)
	}
	f.damage.Torn = len(s.tail())
	whole := t.end - int64(f.damage.Torn)
	if open != nil && open.offset+int64(open.line)+frameExtra == whole {
		f.damage.Torn += int(whole - open.offset) // an event at the very end without its receipt
	} else if open != nil {
		f.entries = append(f.entries, *open)
	}
	if f.damage.Torn > 0 {
		_ = t.cut(t.end - int64(f.damage.Torn)) // a failure leaves the tape dirty: tried again before the next write
	}
	return f
}

// take takes one piece of the file. It gives the event that waits for its receipt, if there is one.
func (f *Feed) take(p piece, open *feedEntry) *feedEntry {
	if isReceipt(p.line) {
		if open != nil {
			open.receipt = int32(len(p.line))
			f.hold(*open)
		}
		return nil
	}
	g, ok := glanceOrParse(p.line)
	if !ok {
		f.damage.skip(p)
	}
	if open != nil && (ok || p.line == nil) {
		f.entries = append(f.entries, *open)
		open = nil
	}
	if ok {
		f.witness(g.tick)
		open = &feedEntry{offset: p.offset, line: int32(len(p.line)), key: feedKey{f.whole.place(g.log), g.seq, p.sum}}
	}
	return open
}

func (f *Feed) hold(e feedEntry) {
	f.entries = append(f.entries, e)
	f.whole.add(e.key)
}

func (f *Feed) witness(tick uint64) {
	if f.log != nil {
		f.log.Witness(tick)
	}
}

// Append keeps the pairs that it does not hold yet, with one write and one flush, and gives
// those back. Appending the same again does nothing. Ticks are witnessed by the own log.
// Errors: CodeBadLine or CodeLineTooLong for a pair that is none, and those of a write; then nothing is kept.
func (f *Feed) Append(pairs []Pair) (added []Pair, err error) {
	var buf []byte
	var entries []feedEntry
	batch := heldSet{}
	top := uint64(0)
	for _, p := range pairs {
		e, tick, err := f.entry(p, f.tape.end+int64(len(buf)))
		if err != nil {
			return nil, err
		}
		if f.whole.has(e.key) || batch.has(e.key) {
			continue
		}
		batch.add(e.key)
		top = max(top, tick)
		buf = frame(frame(buf, p.Line), AppendReceipt(nil, p.Receipt))
		entries, added = append(entries, e), append(added, p)
	}
	if len(added) == 0 {
		return nil, nil
	}
	if err := f.tape.append(buf); err != nil {
		return nil, err
	}
	for _, e := range entries {
		f.hold(e)
	}
	f.witness(top)
	return added, nil
}

// entry checks a pair and says where it will stand.
func (f *Feed) entry(p Pair, offset int64) (feedEntry, uint64, error) {
	if len(p.Line) > MaxLine {
		return feedEntry{}, 0, &Fault{Code: CodeLineTooLong}
	}
	e, err := Parse(p.Line)
	if err != nil {
		return feedEntry{}, 0, err
	}
	if !p.Receipt.whole() {
		return feedEntry{}, 0, fault(CodeBadLine, "receipt")
	}
	return feedEntry{offset: offset, line: int32(len(p.Line)), receipt: int32(len(AppendReceipt(nil, p.Receipt))),
		key: feedKey{f.whole.place([]byte(e.Log)), e.Seq, checksum(p.Line)}}, e.Tick, nil
}

// Each calls visit with every pair in the order pulled, until visit returns false. A pair whose
// receipt was damaged has a zero Receipt, unless it was pulled again since. The line is the caller's, who may keep it but
// not write to it: it shares its bytes with the others. Error: CodeReadFailed.
func (f *Feed) Each(visit func(Pair) bool) error {
	var bad error
	err := f.Lines(func(line Line, receipt []byte) bool {
		p := Pair{Line: line}
		p.Receipt, bad = readReceipt(receipt)
		return bad == nil && visit(p)
	})
	return errors.Join(err, bad)
}

// Lines is Each without the receipts being read: they are as ParseReceipt takes them, empty where Each gives a zero Receipt. What
// holds for the line holds for them. Error: CodeReadFailed.
func (f *Feed) Lines(visit func(line Line, receipt []byte) bool) error {
	data, err := f.tape.whole()
	if err != nil {
		return err
	}
	for i := range f.entries {
		e := &f.entries[i]
		if e.receipt == 0 && f.whole.has(e.key) {
			continue
		}
		if line, receipt := e.in(data[e.offset:]); !visit(line, receipt) {
			break
		}
	}
	return nil
}

// in is the entry's line and receipt within the bytes of its file from its offset on, not copied.
func (e *feedEntry) in(data []byte) (line Line, receipt []byte) {
	line = data[:e.line:e.line]
	if e.receipt > 0 {
		from := e.line + frameExtra
		receipt = data[from : from+e.receipt : from+e.receipt]
	}
	return line, receipt
}

// readReceipt reads a receipt that was parsed before it was written; none is a zero Receipt.
func readReceipt(receipt []byte) (Receipt, error) {
	if r, ok := glanceReceipt(receipt); ok || len(receipt) == 0 {
		return r, nil
	}
	r, err := ParseReceipt(receipt)
	if err != nil {
		return r, &Fault{Code: CodeReadFailed, Cause: err}
	}
	return r, nil
}

// After gives the pairs, with whole receipts, whose seq is beyond upto of their log, in the order held, at
// most most pairs and size bytes (the first is given even when it is longer). Error: CodeReadFailed.
func (f *Feed) After(upto Frontier, most, size int) (pairs []Pair, err error) {
	seen := f.whole.seen(upto)
	for i := range f.entries {
		e := &f.entries[i]
		if e.receipt == 0 || e.key.seq <= seen[e.key.log] {
			continue
		}
		size -= int(e.line+e.receipt) + 2
		if len(pairs) == most || len(pairs) > 0 && size < 0 {
			break
		}
		p, err := f.read(e)
		if err != nil {
			return nil, err
		}
		pairs = append(pairs, p)
	}
	return pairs, nil
}

// read gives one whole pair; its event is held against its checksum again.
func (f *Feed) read(e *feedEntry) (Pair, error) {
	data, err := f.tape.read(e.offset, int64(e.line+e.receipt)+2*frameExtra)
	if err != nil {
		return Pair{}, err
	}
	if checksum(data[:e.line]) != e.key.sum {
		return Pair{}, fault(CodeReadFailed, "a line changed since it was indexed")
	}
	line, receipt := e.in(data)
	r, err := readReceipt(receipt)
	return Pair{Line: line, Receipt: r}, err
}

// merge takes over what an older file of the site holds and this one lacks; true when nothing in it is missing
// here. Not into a file with bad stretches: what is missing there must show in its length until it is pulled again.
// note remembers that something comes in this way, before it does.
func (f *Feed) merge(older *Feed, note func() error) bool {
	if f.damage.Bad > 0 {
		return false
	}
	var missing []Pair
	all := true
	err := older.Each(func(p Pair) bool {
		switch held := f.whole.has(f.keyOf(p.Line)); {
		case held:
		case p.Receipt.whole():
			missing = append(missing, p)
		default:
			all = false
		}
		return true
	})
	if len(missing) > 0 && err == nil {
		err = note()
	}
	for len(missing) > 0 && err == nil {
		n := min(len(missing), mergeAtOnce)
		_, err = f.Append(missing[:n])
		missing = missing[n:]
	}
	return err == nil && all
}

// keyOf is the identity of a line that was read from a feed.
func (f *Feed) keyOf(line Line) feedKey {
	g, _ := glanceOrParse(line)
	return feedKey{f.whole.place(g.log), g.seq, checksum(line)}
}

// Has says whether an event is held with its receipt, whichever side of a fork.
func (f *Feed) Has(log string, seq uint64) bool { return f.whole.count(log, seq) > 0 }

// Holds says whether this very line, which is the event of log with seq, is held with its receipt.
func (f *Feed) Holds(log string, seq uint64, line Line) bool {
	at, known := f.whole.places[log]
	return known && f.whole.has(feedKey{at, seq, checksum(line)})
}

// Frontier is the highest seq held of each log. What a log wrote of other sites is not here: there are holes below it.
func (f *Feed) Frontier() Frontier { return f.whole.frontier() }

// Len is the number of whole pairs held.
func (f *Feed) Len() int { return f.whole.n }

// Mark changes whenever the feed begins anew in another file: a cursor is good only with the mark it was kept with.
func (f *Feed) Mark() string { return f.mark }

// Damage is what was found when the feed was opened.
func (f *Feed) Damage() Damage { return f.damage }
