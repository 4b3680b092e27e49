package journal

const (
	// keyOwn is where the state keeps how the own log stood: see ownMemory.
	keyOwn = "own"
	// keyLog is where earlier builds kept the id of a log that was renewed and had no event yet.
	keyLog = "log"
)

// ownMemory is what the state remembers of the own log whenever its files cannot tell: another file was begun,
// the log was renewed, older files are about to be emptied.
type ownMemory struct {
	File string   `json:"file"` // mark of the newest file
	End  int64    `json:"end"`  // its length: where it is longer, its lines tell more
	Logs []string `json:"logs"` // every log that this device wrote
	ID   string   `json:"id"`   // of the log that the next event belongs to
	Seq  uint64   `json:"seq"`  // of that log's last event
	Prev string   `json:"prev"` // that event's hash
	Tick uint64   `json:"tick"`
}

// openLog opens all files of the own log; the newest is written.
func (p *Pool) openLog() error {
	p.own = p.of(streamOwn)
	if len(p.own) == 0 {
		s, err := p.claim(streamOwn, nil, 0, CodeNoTrustedFile)
		if err != nil {
			return err
		}
		p.own = append(p.own, s)
	}
	var reels []reel
	for _, s := range p.own {
		reels = append(reels, reel{s.tape, s.data})
	}
	newest := p.own[len(p.own)-1]
	newest.active = true
	p.log = openLog(p.id, reels)
	p.log.renewed = func() { _ = p.remember() } // see Renew
	p.log.roll = p.rollLog
	p.recall(newest)
	return nil
}

// recall puts the log where it stood. Where the newest file is not the one remembered, or is shorter, lines are lost
// and their numbers with them: then a new log begins, and nothing is numbered twice. It begins in a file of its own
// where one can be had: should the state be lost next, an empty newest file tells that the older ones are not the end.
func (p *Pool) recall(newest *slot) {
	var m ownMemory
	known, err := p.state.Load(keyOwn, &m)
	if !known || err != nil {
		if p.resume(); len(p.own) > 1 {
			_ = p.remember() // the state was lost: from now on it tells again when the newest file is
		}
		return
	}
	p.log.former = m.Logs
	p.log.tick = max(p.log.tick, m.Tick)
	switch {
	case m.File != newest.header.Mark || newest.tape.end < m.End:
		p.log.begin(p.id)
		if p.log.empty() || !p.log.another() {
			_ = p.remember() // a failure: the next start begins another
		}
	case newest.tape.end == m.End:
		p.log.id, p.log.seq, p.log.prev = m.ID, m.Seq, m.Prev
	}
}

// resume takes up a renewal that an earlier build noted and no event followed. When the newest file is empty the
// renewed log may have been in a lost one: then its numbers may be taken, and the fresh id stays.
func (p *Pool) resume() {
	var id string
	ok, err := p.state.Load(keyLog, &id)
	if !ok || err != nil || !isUUID(id) || p.log.Owns(id) || p.log.empty() {
		return
	}
	p.log.begin(id)
}

// remember notes how the own log stands.
func (p *Pool) remember() error {
	l, newest := p.log, p.own[len(p.own)-1]
	return p.state.Set(keyOwn, ownMemory{File: newest.header.Mark, End: newest.tape.end, Logs: l.written(),
		ID: l.id, Seq: l.seq, Prev: l.prev, Tick: l.tick})
}

// rollLog claims another file for the own log. It counts only when it is remembered: a file that vanishes
// unremembered would take its numbers along unseen.
func (p *Pool) rollLog() (*tape, error) {
	before := p.own[len(p.own)-1]
	s, err := p.claim(streamOwn, nil, p.spares(), CodeNoRoomForSite)
	if err != nil {
		return nil, err
	}
	p.own = append(p.own, s)
	if err := p.remember(); err != nil {
		p.own = p.own[:len(p.own)-1]
		_ = p.release(s) // where it comes back after a restart, it is not the one remembered
		return nil, err
	}
	before.active = false
	return s.tape, nil
}

// Recycle gives back the older files of the own log all of whose lines are covered: confirmed, and kept elsewhere
// or wanted no more. The newest file stays, and so does one with stretches that could not be read. freed is the
// number of files; a failure of a write leaves the rest for the next time.
func (p *Pool) Recycle(covered func(Line) bool) (freed int) {
	for i := 0; i < len(p.own)-1; {
		if !p.log.covered(i, covered) {
			i++
			continue
		}
		if freed == 0 && p.remember() != nil {
			break
		}
		s := p.own[i]
		p.own = append(p.own[:i], p.own[i+1:]...)
		p.log.forget(i)
		_ = p.release(s) // where it comes back after a restart, its lines are known to the server
		freed++
	}
	return freed
}
