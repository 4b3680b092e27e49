package journal

import (
	"bytes"
	"encoding/json"
	"strings"

	"jointwalk/sync/lightjson"
)

const (
	// MaxStatePut bounds one Put in bytes.
	MaxStatePut = 1 << 20

	statePut   = `{"put":`        // begins a line that sets or drops keys
	stateWhole = `{"whole":true}` // ends a snapshot: before it the file is not to be believed

	// A state file is compacted when it is larger than compactFrom and compactTimes what it means.
	compactFrom  = 256 << 10
	compactTimes = 4
)

// State is a small store, key to JSON, last value wins: what was acknowledged, cursors, who I am,
// drafts on a screen. Its file is compacted by writing a snapshot to a spare file of the pool.
type State struct {
	tape    *tape
	values  map[string]json.RawMessage
	live    int64 // bytes of keys and values
	later   int64 // no compaction before the file is this long
	damage  Damage
	compact func(snapshot []byte) (*tape, error) // moves to another file, nil where there is none
	moving  bool                                 // a snapshot is being written: what is put now would miss it
	staying bool                                 // a write waits for room: it goes into the file that it began with
}

// stateLine is the form of one record.
type stateLine struct {
	Put map[string]json.RawMessage `json:"put"`
}

// openState reads a state file. whole is false when its snapshot was never finished, or was written wrong and found so: then
// some of it cannot be read, and nothing was put after it.
func openState(t *tape, data []byte) (s *State, whole bool) {
	s = &State{tape: t, values: map[string]json.RawMessage{}, later: compactFrom}
	ended, clean, used := false, false, false
	sc := scanner{data: data}
	for p, ok := sc.next(); ok; p, ok = sc.next() {
		switch {
		case string(p.line) == stateWhole:
			ended, clean = true, s.damage.Bad == 0
		case s.apply(p.line) != nil:
			s.damage.skip(p)
		default:
			used = ended
		}
	}
	s.damage.Torn = len(sc.tail())
	return s, ended && (clean || used)
}

// apply takes one record into memory.
func (s *State) apply(line []byte) error {
	if !bytes.HasPrefix(line, []byte(statePut)) {
		return fault(CodeBadLine, "state")
	}
	var record stateLine
	if err := lightjson.Unmarshal(line, &record); err != nil {
		return err
	}
	for key, value := range record.Put {
		if old, ok := s.values[key]; ok {
			s.live -= int64(len(key) + len(old))
			delete(s.values, key)
		}
		if !isNull(value) {
			s.values[key] = value
			s.live += int64(len(key) + len(value))
		}
	}
	return nil
}

func isNull(value json.RawMessage) bool { return len(value) == 0 || string(value) == "null" }

// Get is the value of key; false when there is none. The bytes are not to be changed.
func (s *State) Get(key string) (json.RawMessage, bool) {
	value, ok := s.values[key]
	return value, ok
}

// Load unmarshals the value of key into into; false when there is none.
func (s *State) Load(key string, into any) (bool, error) {
	value, ok := s.values[key]
	if !ok {
		return false, nil
	}
	if err := lightjson.Unmarshal(value, into); err != nil {
		return true, &Fault{Code: CodeBadKey, Cause: err}
	}
	return true, nil
}

// Put keeps all values together, flushed, or none. A nil value, or the JSON null, drops its key. With no values it still takes
// away what a failed Put may have left in the file, which a start after a crash would believe.
// Errors: CodeBadKey for what is not JSON or too long, and those of a write.
func (s *State) Put(values map[string]json.RawMessage) error {
	if len(values) == 0 {
		return s.tape.settle()
	}
	line, err := lightjson.Marshal(stateLine{Put: values})
	if err != nil {
		return &Fault{Code: CodeBadKey, Cause: err}
	}
	if len(line) > MaxStatePut {
		return fault(CodeBadKey, "too long for the state")
	}
	if err := s.tape.append(frame(nil, line)); err != nil {
		return err
	}
	if err := s.apply(line); err != nil {
		panic("journal: a state line that was just made cannot be read: " + err.Error())
	}
	s.maybeCompact()
	return nil
}

// Set keeps one value, flushed.
func (s *State) Set(key string, value any) error {
	raw, err := lightjson.Marshal(value)
	if err != nil {
		return &Fault{Code: CodeBadKey, Cause: err}
	}
	return s.Put(map[string]json.RawMessage{key: raw})
}

// Drop forgets keys, flushed. Unknown keys are no error.
func (s *State) Drop(keys ...string) error {
	gone := map[string]json.RawMessage{}
	for _, key := range keys {
		if _, ok := s.values[key]; ok {
			gone[key] = nil
		}
	}
	return s.Put(gone)
}

// Keys are the keys that begin with prefix, sorted.
func (s *State) Keys(prefix string) []string {
	var keys []string
	for key := range s.values {
		if strings.HasPrefix(key, prefix) {
			keys = sortIn(keys, key)
		}
	}
	return keys
}

// sortIn puts word into its place among sorted ones. (The library's sort weighs 19 kB in the phone's engine.)
func sortIn(sorted []string, word string) []string {
	low, high := 0, len(sorted)
	for low < high {
		if mid := (low + high) / 2; sorted[mid] < word {
			low = mid + 1
		} else {
			high = mid
		}
	}
	sorted = append(sorted, word)
	copy(sorted[low+1:], sorted[low:])
	sorted[low] = word
	return sorted
}

// maybeCompact moves to a spare file when most of this one is old. A failure costs nothing: the
// present file goes on, and it is tried again after some more writing.
func (s *State) maybeCompact() {
	if s.compact == nil || s.staying || s.tape.end < s.later || s.tape.end < compactTimes*s.live {
		return
	}
	s.later = s.tape.end + compactFrom
	snapshot, err := s.snapshot()
	if err != nil {
		return
	}
	s.moving = true
	if t, err := s.compact(snapshot); err == nil {
		s.tape, s.later = t, compactFrom
	}
	s.moving = false
}

// snapshot is every key on a line of its own, so that damage takes one key, and the end mark.
func (s *State) snapshot() ([]byte, error) {
	var buf []byte
	for _, key := range s.Keys("") {
		line, err := lightjson.Marshal(stateLine{Put: map[string]json.RawMessage{key: s.values[key]}})
		if err != nil {
			return nil, err
		}
		buf = frame(buf, line)
	}
	return frame(buf, []byte(stateWhole)), nil
}
