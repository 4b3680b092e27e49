package simworld

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"hash"
	"strings"
	"time"
)

// told is how many lines of a trace are kept to be shown.
const told = 60

// trace is all that happened, hashed; its last lines can be read.
type trace struct {
	all   hash.Hash
	last  [told]string
	lines int
	aloud bool // every line is printed, for who follows one story
}

func (t *trace) add(line string) {
	if t.all == nil {
		t.all = sha256.New()
	}
	t.all.Write([]byte(line + "\n"))
	if t.aloud {
		fmt.Println(line)
	}
	t.last[t.lines%told] = line
	t.lines++
}

func (t *trace) sum() string {
	if t.all == nil {
		return ""
	}
	return hex.EncodeToString(t.all.Sum(nil))
}

// end is its last lines.
func (t *trace) end() string {
	var b strings.Builder
	for i := max(0, t.lines-told); i < t.lines; i++ {
		b.WriteString(t.last[i%told] + "\n")
	}
	return b.String()
}

// note writes a line of the trace.
func (w *world) note(format string, args ...any) {
	at := w.now.Sub(begun).Truncate(time.Millisecond)
	w.trace.add(fmt.Sprintf("%v ", at) + fmt.Sprintf(format, args...))
}
