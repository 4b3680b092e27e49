package journal

// Feed is what was pulled of one site: events with their receipts, in the order they came. In its
// file the two lines of a pair follow each other.
type Feed struct {
	tape    *tape
	mark    string
	log     *Log // witnesses ticks; nil in tests of the feed alone
	entries []feedEntry
	held    map[feedKey]struct{}
	logs    map[string]uint32
	damage  Damage
}

// feedEntry says where a pair stands. receipt is 0 when the receipt was damaged.
type feedEntry struct {
	offset        int64
	line, receipt int32
	key           feedKey
}

// feedKey is the identity of an event. The checksum keeps both sides of a fork.
type feedKey struct {
	log uint32
	seq uint64
	sum uint32
}

func openFeed(t *tape, data []byte, mark string, log *Log) *Feed {
	f := &Feed{tape: t, mark: mark, log: log, held: map[feedKey]struct{}{}, logs: map[string]uint32{}}
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
	g, ok := glimpse{}, false
	if p.line != nil {
		g, ok = glanceOrParse(p.line)
	}
	switch {
	case p.line == nil:
		f.damage.skip(p.offset, p.bad)
	case !ok && (p.offset != 0 || !isHeader(p.line)):
		f.damage.skip(p.offset, p.line)
	}
	if open != nil && (ok || p.line == nil) {
		f.entries = append(f.entries, *open)
		open = nil
	}
	if ok {
		f.witness(g.tick)
		open = &feedEntry{offset: p.offset, line: int32(len(p.line)), key: f.key(&g, p.sum)}
	}
	return open
}

func (f *Feed) hold(e feedEntry) {
	f.entries = append(f.entries, e)
	f.held[e.key] = struct{}{}
}

func (f *Feed) witness(tick uint64) {
	if f.log != nil {
		f.log.Witness(tick)
	}
}

func (f *Feed) key(g *glimpse, sum uint32) feedKey {
	n, ok := f.logs[string(g.log)]
	if !ok {
		n = uint32(len(f.logs))
		f.logs[string(g.log)] = n
	}
	return feedKey{log: n, seq: g.seq, sum: sum}
}

// Append keeps the pairs that it does not hold yet, with one write and one flush, and gives
// those back. Appending the same again does nothing. Ticks are witnessed by the own log.
// Errors: CodeBadLine or CodeLineTooLong for a pair that is none, and those of a write; then nothing is kept.
func (f *Feed) Append(pairs []Pair) (added []Pair, err error) {
	var buf []byte
	var entries []feedEntry
	batch := map[feedKey]struct{}{}
	top := uint64(0)
	for _, p := range pairs {
		e, tick, err := f.entry(p, f.tape.end+int64(len(buf)))
		if err != nil {
			return nil, err
		}
		_, here := f.held[e.key]
		_, again := batch[e.key]
		if here || again {
			continue
		}
		batch[e.key] = struct{}{}
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
	g := glimpse{log: []byte(e.Log), seq: e.Seq}
	return feedEntry{offset: offset, line: int32(len(p.Line)), receipt: int32(len(AppendReceipt(nil, p.Receipt))),
		key: f.key(&g, checksum(p.Line))}, e.Tick, nil
}

// Each calls visit with every pair in the order pulled, until visit returns false. A pair whose
// receipt was damaged has a zero Receipt, unless it was pulled again since. Error: CodeReadFailed.
func (f *Feed) Each(visit func(Pair) bool) error {
	data, err := f.tape.read(0, f.tape.end)
	if err != nil {
		return err
	}
	for _, e := range f.entries {
		line, rest := data[e.offset:e.offset+int64(e.line)], data[e.offset+int64(e.line)+frameExtra:]
		p := Pair{Line: append(Line{}, line...)}
		if e.receipt > 0 {
			if p.Receipt, err = ParseReceipt(rest[:e.receipt]); err != nil {
				return &Fault{Code: CodeReadFailed, Cause: err}
			}
		} else if _, again := f.held[e.key]; again {
			continue
		}
		if !visit(p) {
			break
		}
	}
	return nil
}

// Len is the number of whole pairs held.
func (f *Feed) Len() int { return len(f.held) }

// Mark changes whenever the feed begins anew in another file: a cursor is good only with the mark it was kept with.
func (f *Feed) Mark() string { return f.mark }

// Damage is what was found when the feed was opened.
func (f *Feed) Damage() Damage { return f.damage }
