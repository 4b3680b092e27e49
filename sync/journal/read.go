package journal

import "bytes"

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

// covered says whether every line of one file is covered, and none of its bytes is unread.
func (l *Log) covered(tape int, covered func(Line) bool) bool {
	t := l.tapes[tape]
	data, err := t.read(0, t.end)
	if err != nil {
		return false
	}
	s := scanner{data: data}
	for p, ok := s.next(); ok; p, ok = s.next() {
		if _, ok := glanceOrParse(p.line); !p.isHeader() && (!ok || !covered(bytes.Clone(p.line))) {
			return false
		}
	}
	return len(s.tail()) == 0
}

// forget drops one file and its lines from the index.
func (l *Log) forget(tape int) {
	l.tapes = append(l.tapes[:tape], l.tapes[tape+1:]...)
	kept := l.entries[:0]
	for _, e := range l.entries {
		if int(e.tape) > tape {
			e.tape--
		} else if int(e.tape) == tape {
			continue
		}
		kept = append(kept, e)
	}
	l.entries = kept
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

// Each calls visit with every line in the order written, until visit returns false. The line is the caller's, who may
// keep it but not write to it: it shares its bytes with the others. Error: CodeReadFailed.
func (l *Log) Each(visit func(Line) bool) error {
	var data []byte
	have := -1
	for i := range l.entries {
		e := &l.entries[i]
		if t := l.tapes[e.tape]; have != int(e.tape) {
			var err error
			if data, err = t.whole(); err != nil {
				return err
			}
			have = int(e.tape)
		}
		if !visit(e.in(data)) {
			return nil
		}
	}
	return nil
}
