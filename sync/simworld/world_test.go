package simworld

import (
	"container/heap"
	"fmt"
	"math/rand/v2"
	"os"
	"runtime/debug"
	"strings"
	"time"

	"jointwalk/sync/journal"
)

// begun is when every world begins.
var begun = time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC)

// settleTime is how long after the last fault everything must be settled.
const settleTime = 6 * time.Minute

// world is one seed's story.
type world struct {
	seed   uint64
	rng    *rand.Rand
	now    time.Time
	queue  queue
	ids    uint64
	trace  trace
	tally  *tally
	server *server
	phones []*handset
	people []*person
	sites  []string
	truth  truth
	things things
	events map[string]journal.Event // parsed, by hash
	quiet  bool                     // the last fault is over
	spares bool                     // the server leaves out of its answers what phones do not need
}

// broken is a law that was broken.
type broken string

func (w *world) broken(format string, args ...any) { panic(broken(fmt.Sprintf(format, args...))) }

// outcome is what became of one seed.
type outcome struct {
	seed   uint64
	hash   string
	failed string // "" when all laws held
	trace  string // the end of it, when one did not
	tally  *tally
	lasted time.Duration
}

// tell tells the story of one seed from beginning to end.
func tell(seed uint64, open factory) (o outcome) {
	w := newWorld(seed)
	w.trace.aloud = os.Getenv("TRACE") != ""
	defer func() {
		if w.server != nil {
			w.server.vault.close()
		}
		o = outcome{seed: seed, hash: w.trace.sum(), tally: w.tally, lasted: w.now.Sub(begun)}
		switch why := recover().(type) {
		case nil:
		case broken:
			o.failed, o.trace = string(why), w.trace.end()
		default:
			o.failed, o.trace = fmt.Sprintf("panic: %v\n%s", why, debug.Stack()), w.trace.end()
		}
	}()
	w.populate(open)
	w.plan()
	w.run(w.now.Add(w.length()))
	w.settle()
	return o
}

func newWorld(seed uint64) *world {
	return &world{seed: seed, rng: rand.New(rand.NewPCG(seed, 0x6a77)), now: begun, tally: newTally(), events: map[string]journal.Event{}}
}

// length is how long the faulty part of the story lasts: hours or weeks.
func (w *world) length() time.Duration {
	return w.between(2*time.Hour, time.Duration(1+w.rng.IntN(21))*24*time.Hour)
}

// run lets everything happen that happens before end.
func (w *world) run(end time.Time) {
	for len(w.queue) > 0 && w.queue[0].at.Before(end) {
		next := heap.Pop(&w.queue).(happening)
		w.now = next.at
		next.do()
	}
	w.now = end
}

// after lets something happen later.
func (w *world) after(d time.Duration, do func()) {
	w.ids++
	heap.Push(&w.queue, happening{at: w.now.Add(max(d, 0)), n: w.ids, do: do})
}

// happening is something that happens at a moment; n orders those of one moment.
type happening struct {
	at time.Time
	n  uint64
	do func()
}

type queue []happening

func (q queue) Len() int      { return len(q) }
func (q queue) Swap(i, j int) { q[i], q[j] = q[j], q[i] }
func (q *queue) Push(x any)   { *q = append(*q, x.(happening)) }
func (q queue) Less(i, j int) bool {
	return q[i].at.Before(q[j].at) || q[i].at.Equal(q[j].at) && q[i].n < q[j].n
}
func (q *queue) Pop() any {
	last := len(*q) - 1
	x := (*q)[last]
	*q = (*q)[:last]
	return x
}

// chance is true once in so many times.
func (w *world) chance(one int) bool { return w.rng.IntN(one) == 0 }

// between is a time from low to high, more often nearer to low.
func (w *world) between(low, high time.Duration) time.Duration {
	if high <= low {
		return low
	}
	share := w.rng.Float64()
	return low + time.Duration(share*share*float64(high-low))
}

func pick[T any](w *world, from []T) T { return from[w.rng.IntN(len(from))] }

// newID is a UUIDv7 in form; its number makes it unlike any other of this world.
func (w *world) newID() string {
	w.ids++
	return fmt.Sprintf("01890000-%04x-7000-8000-%012x", w.rng.IntN(1<<16), w.ids)
}

// text is some letters.
func (w *world) text(n int) string {
	var b strings.Builder
	for range n {
		b.WriteByte("abcdefghijklmnopqrstuvwxyz <&>\"é"[w.rng.IntN(29)])
	}
	return b.String()
}
