package bolt

import (
	"bytes"
	"encoding/binary"
	"math"

	"jointwalk/sync/exchange"
)

// history is what the ledger knows of a log.
type history struct {
	upto  head
	top   uint64           // the highest seq on disk: what is beyond need not be looked for
	first uint64           // the seq of run's first
	run   []known          // what came in this transaction one after the other, as most do
	other map[uint64]known // by seq, what else was looked up or came
}

// known is what stands for (log, seq).
type known struct {
	hash  string // "" for none in a feed
	at    []byte // its key in events
	prev  string // of one that came in this transaction
	fresh bool   // it came in this transaction
	here  bool   // in a feed or set aside
}

// history finds what is known of a log.
func (l *ledger) history(log string) (*history, error) {
	if l.recent != nil && l.recentLog == log { // most often it is the log of the event before
		return l.recent, nil
	}
	if h := l.histories[log]; h != nil {
		l.recent, l.recentLog = h, log
		return h, nil
	}
	n, err := getNumber(l.upto, []byte(log))
	if err != nil {
		return nil, err
	}
	h := &history{upto: head{n, n}, top: l.topOf(log)}
	l.histories[log] = h
	return h, nil
}

// topOf is the highest seq of a log on disk.
func (l *ledger) topOf(log string) uint64 {
	all := l.logs.Cursor()
	key, _ := all.Seek(numbered(log, math.MaxUint64))
	if key == nil {
		key, _ = all.Last()
	} else {
		key, _ = all.Prev()
	}
	if name := prefix(log); len(key) == len(name)+8 && bytes.HasPrefix(key, name) {
		return binary.BigEndian.Uint64(key[len(name):])
	}
	return 0
}

// find gives what stands for (log, seq).
func (l *ledger) find(log string, seq uint64) (known, error) {
	h, err := l.history(log)
	if err != nil {
		return known{}, err
	}
	if k, looked := h.get(seq); looked || seq > h.top {
		return k, nil
	}
	k, key := known{}, numbered(log, seq)
	if sealed := l.logs.Get(key); sealed != nil {
		raw, err := unseal(key, sealed)
		if err != nil {
			return known{}, err
		}
		hash, at, _ := bytes.Cut(raw, []byte{'\n'})
		k = known{hash: string(hash), at: at, here: true}
	}
	h.set(seq, k)
	return k, nil
}

// get gives what was looked up or came before.
func (h *history) get(seq uint64) (k known, looked bool) {
	if i := seq - h.first; i < uint64(len(h.run)) {
		return h.run[i], true
	}
	k, looked = h.other[seq]
	return k, looked
}

// set keeps what stands for a seq.
func (h *history) set(seq uint64, k known) {
	i := seq - h.first
	switch {
	case i < uint64(len(h.run)):
		h.run[i] = k
	case !k.fresh || len(h.run) > 0 && i != uint64(len(h.run)):
		if h.other == nil {
			h.other = map[uint64]known{}
		}
		h.other[seq] = k
	default:
		if len(h.run) == 0 {
			h.first = seq
		}
		h.run = append(h.run, k)
	}
}

func (l *ledger) Hash(log string, seq uint64) (string, error) {
	k, err := l.find(log, seq)
	return k.hash, err
}

func (l *ledger) Prev(log string, seq uint64) (string, error) {
	k, err := l.find(log, seq)
	if err != nil || k.fresh || k.at == nil {
		return k.prev, err
	}
	return l.prevOf(k.at)
}

// know notes what an event in a feed stands for: its (log, seq), unless it is beside it.
func (l *ledger) know(item *exchange.Incoming, beside bool, at []byte) error {
	log, seq := item.Event.Log, item.Event.Seq
	if beside {
		return l.see(log, seq)
	}
	key := l.key(log, seq)
	l.put(l.logs, key, l.seal(key, []byte(item.Hash), []byte{'\n'}, at))
	return l.note(log, seq, known{hash: item.Hash, at: at, prev: item.Event.Prev, fresh: true, here: true})
}

// see notes that (log, seq) is here, though in no feed.
func (l *ledger) see(log string, seq uint64) error {
	if log == "" {
		return nil
	}
	if k, err := l.find(log, seq); err != nil || k.here {
		return err
	}
	key := numbered(log, seq)
	l.put(l.logs, key, seal(key, nil))
	return l.note(log, seq, known{fresh: true, here: true})
}

// note keeps what is known and moves the log's frontier over what is here.
func (l *ledger) note(log string, seq uint64, k known) error {
	h, err := l.history(log)
	if err != nil {
		return err
	}
	h.set(seq, k)
	for {
		next, err := l.find(log, h.upto.now+1)
		if err != nil || !next.here {
			return err
		}
		h.upto.now++
	}
}
