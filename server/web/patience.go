package web

import (
	"context"
	"fmt"
	"net/http"
	"runtime"
	"sync"
	"time"

	"github.com/labstack/echo/v4"
)

// times are how long callers may take. What none of them covers has the server's own: a minute for a request to come in, two
// for its answer to be taken.
type times struct {
	batch time.Duration // for lines or a piece of a picture of 256 kB from the edge of the network to come in
	file  time.Duration // for what is long to go in or out: pictures, the app itself, all of a fixture
	event time.Duration // for one event of a stream to be taken
	turn  time.Duration // to wait for one's turn at what is heavy
}

var usualTimes = times{batch: time.Minute, file: 10 * time.Minute, event: 30 * time.Second, turn: 10 * time.Second}

// Limits on what is under way at once.
const (
	mostImports = 4 // each holds a picture as text and as bytes
	mostStreams = 8 // of one device: a browser with as many pages open
)

// patience is how long a body may take to come in, and its answer to be taken after. A connection that keeps no time is left
// without.
func patience(c echo.Context, d time.Duration) {
	control := http.NewResponseController(c.Response())
	_ = control.SetReadDeadline(time.Now().Add(d))
	_ = control.SetWriteDeadline(time.Now().Add(2 * d))
}

// turns lets so many callers at once do what is heavy.
type turns chan struct{}

// heavyTurns are for what keeps a processor busy.
func heavyTurns() turns { return make(turns, 2*runtime.GOMAXPROCS(0)) }

// take waits for a turn, which the caller gives back by done; "too-busy" when none came in time.
func (t turns) take(ctx context.Context, patience time.Duration) (done func(), err error) {
	wait := time.NewTimer(patience)
	defer wait.Stop()
	select {
	case t <- struct{}{}:
		return func() { <-t }, nil
	case <-ctx.Done():
		return nil, ctx.Err()
	case <-wait.C:
		p := refuse(http.StatusServiceUnavailable, "too-busy", fmt.Sprintf("%d such requests are under way already; try again a little later", cap(t)))
		p.after = "5"
		return nil, p
	}
}

// counts holds how much of something each of many has.
type counts struct {
	mu   sync.Mutex
	most int
	by   map[string]int
}

// enter counts one more, unless there are as many as may be.
func (n *counts) enter(who string) bool {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.by[who] >= n.most {
		return false
	}
	n.by[who]++
	return true
}

func (n *counts) leave(who string) {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.by[who]--; n.by[who] == 0 {
		delete(n.by, who)
	}
}
