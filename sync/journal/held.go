package journal

// feedKey is the identity of an event: the place of its log in the set, its seq, and the checksum of
// its line, which keeps both sides of a fork.
type feedKey struct {
	log uint32
	seq uint64
	sum uint32
}

// heldSet is a set of events. Those of a log are sorted: they come almost in order, so adding is cheap.
type heldSet struct {
	places map[string]uint32 // of a log in logs
	logs   []heldLog
	n      int
}

// heldLog are the events of one log, by seq, then by checksum.
type heldLog struct {
	id     string
	events []feedKey
}

// place is the place of a log in the set, made when there is none.
func (h *heldSet) place(log []byte) uint32 {
	at, ok := h.places[string(log)]
	if ok {
		return at
	}
	if h.places == nil {
		h.places = map[string]uint32{}
	}
	at = uint32(len(h.logs))
	h.places[string(log)] = at
	h.logs = append(h.logs, heldLog{id: string(log)})
	return at
}

// find is where key stands among the events of its log, or would.
func (l *heldLog) find(key feedKey) int {
	low, high := 0, len(l.events)
	if high > 0 && l.events[high-1].before(key) {
		return high
	}
	for low < high {
		if mid := (low + high) / 2; l.events[mid].before(key) {
			low = mid + 1
		} else {
			high = mid
		}
	}
	return low
}

func (k feedKey) before(other feedKey) bool {
	return k.seq < other.seq || k.seq == other.seq && k.sum < other.sum
}

func (h *heldSet) has(key feedKey) bool {
	if int(key.log) >= len(h.logs) {
		return false
	}
	l := &h.logs[key.log]
	at := l.find(key)
	return at < len(l.events) && l.events[at] == key
}

// add enters key; a log that was placed elsewhere only is placed here without its id.
func (h *heldSet) add(key feedKey) {
	for int(key.log) >= len(h.logs) {
		h.logs = append(h.logs, heldLog{})
	}
	l := &h.logs[key.log]
	at := l.find(key)
	if at < len(l.events) && l.events[at] == key {
		return
	}
	l.events = append(l.events, key)
	copy(l.events[at+1:], l.events[at:])
	l.events[at] = key
	h.n++
}

// count is the number of events of log with seq: more than one after a fork.
func (h *heldSet) count(log string, seq uint64) (n int) {
	at, ok := h.places[log]
	if !ok {
		return 0
	}
	events := h.logs[at].events
	for i := h.logs[at].find(feedKey{log: at, seq: seq}); i < len(events) && events[i].seq == seq; i++ {
		n++
	}
	return n
}

// frontier is the highest seq of each log.
func (h *heldSet) frontier() Frontier {
	upto := Frontier{}
	for i := range h.logs {
		if l := &h.logs[i]; len(l.events) > 0 {
			upto[l.id] = l.events[len(l.events)-1].seq
		}
	}
	return upto
}

// seen is upto by the log's place.
func (h *heldSet) seen(upto Frontier) []uint64 {
	seen := make([]uint64, len(h.logs))
	for i := range h.logs {
		seen[i] = upto[h.logs[i].id]
	}
	return seen
}
