package journal

import (
	"strconv"

	"jointwalk/sync/lightjson"
)

// PoolSize is the number of files that a device makes once, at its first start.
const PoolSize = 16

// Slot is one file of the pool. Fresh means that it did not exist before this start.
type Slot struct {
	Name  string
	File  File
	Fresh bool
}

// Pool is the fixed set of files of a device and the streams that live in them: the own log, the
// state, the pictures and one feed a site. A fresh file is trusted only when all were fresh
// (the first start) or a later start has found it: files made late were seen to vanish.
type Pool struct {
	slots    []*slot
	id       string // mark of this start
	top      uint64 // highest generation seen
	first    bool
	log      *Log
	own      []*slot // the files of the log, oldest first
	state    *State
	pictures *Pictures
	feeds    map[string]*Feed
}

// slot is a file and what it holds.
type slot struct {
	name    string
	fresh   bool
	trusted bool
	tape    *tape
	header  header
	active  bool // its stream writes here
	data    []byte
}

func (s *slot) free() bool { return s.trusted && s.tape.end == 0 && !s.active }

// OpenPool reads the headers of all files and recovers every stream. id is a new UUIDv7: the own log's id
// if there is no log yet, and the mark of files claimed from now on.
// Errors: CodeNoTrustedFile (start again later), CodeReadFailed, and those of a write.
func OpenPool(slots []Slot, id string) (*Pool, error) {
	p := &Pool{id: id, first: true, feeds: map[string]*Feed{}}
	for _, s := range slots {
		p.first = p.first && s.Fresh
	}
	for _, s := range slots {
		if err := p.read(s); err != nil {
			return nil, err
		}
	}
	for _, open := range []func() error{p.openState, p.openLog, p.openFeeds, p.openPictures} {
		if err := open(); err != nil {
			return nil, err
		}
	}
	for _, s := range p.slots {
		s.tape.remember(s.data)
		if s.header.Stream == streamOwn || siteOf(s.header.Stream) != "" {
			s.tape.kept = s.data // a start replays what is in them
		}
		s.data = nil
	}
	p.pictures.tidy()
	return p, nil
}

// read takes one file in and finds out what it holds. What is left of a claim that never ended is cut.
func (p *Pool) read(from Slot) (err error) {
	s := &slot{name: from.Name, fresh: from.Fresh, trusted: !from.Fresh || p.first, tape: &tape{file: from.File}}
	s.tape.room = func() bool { return p.pictures != nil && p.pictures.yield(s) }
	p.slots = append(p.slots, s)
	if s.data, err = s.tape.all(); err != nil {
		return err
	}
	s.header = readHeader(s.data)
	p.top = max(p.top, s.header.Generation)
	if sc := (scanner{data: s.data}); s.header.Stream == "" && len(s.data) > 0 {
		if _, ok := sc.next(); !ok {
			_ = s.tape.cut(0) // a failure leaves the tape dirty: tried again before the next write
			s.data = nil      // so that whoever claims the file does not take it for what it holds
		}
	}
	return nil
}

// of gives the trusted files of a stream, oldest first. (In each of its places it would weigh 1 kB.)
//
//go:noinline
func (p *Pool) of(stream string) []*slot {
	var found []*slot
	for _, s := range p.slots {
		if !s.trusted || s.tape.end == 0 || s.header.Stream != stream {
			continue
		}
		found = append(found, s)
		for at := len(found) - 1; at > 0 && s.header.Generation < found[at-1].header.Generation; at-- {
			found[at-1], found[at] = s, found[at-1]
		}
	}
	return found
}

// claim writes the header of stream, and rest after it, into a free file, leaving at least spare others free.
func (p *Pool) claim(stream string, rest []byte, spare int, none string) (*slot, error) {
	free := p.free()
	for len(free) <= spare && p.wanted(stream) {
		free = p.free()
	}
	if len(free) <= spare {
		return nil, &Fault{Code: none}
	}
	h := header{Pool: poolVersion, Generation: p.top + 1, Stream: stream,
		Mark: p.id + "." + strconv.FormatUint(p.top+1, 10)}
	line, err := lightjson.Marshal(h)
	if err != nil {
		return nil, &Fault{Code: CodeWriteFailed, Cause: err}
	}
	if err := free[0].tape.append(append(frame(nil, line), rest...)); err != nil {
		return nil, err
	}
	p.top++
	free[0].header, free[0].active = h, true
	return free[0], nil
}

// free are the files that no stream has claimed.
func (p *Pool) free() (free []*slot) {
	for _, s := range p.slots {
		if s.free() {
			free = append(free, s)
		}
	}
	return free
}

// wanted gives back a file of confirmed pictures because stream wants one: the newest only to the pictures themselves.
func (p *Pool) wanted(stream string) bool {
	if p.pictures == nil {
		return false
	}
	if stream == streamPictures {
		return p.pictures.yield(nil)
	}
	return p.pictures.yield(p.pictures.newest())
}

// release gives a file back. On error it is free all the same, but the next start may find it full.
func (p *Pool) release(s *slot) error {
	s.header, s.active, s.data = header{}, false, nil // whoever claims the file must not take it for what it held
	return s.tape.cut(0)
}

// Check is for a return to view, when handles may have died: it says whether every file still answers, is
// as long as it was left, and ends in what was last written to it. Error: CodeReadFailed; then the pool is
// to be opened anew with new handles.
func (p *Pool) Check() error {
	for _, s := range p.slots {
		if err := s.tape.check(); err != nil {
			return err
		}
	}
	return nil
}

// Log is the device's own log.
func (p *Pool) Log() *Log { return p.log }

// State is the small store of what the device must remember besides events.
func (p *Pool) State() *State { return p.state }

// Pictures are the pictures that wait to be sent.
func (p *Pool) Pictures() *Pictures { return p.pictures }
