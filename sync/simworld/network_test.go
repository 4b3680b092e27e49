package simworld

import (
	"bytes"
	"encoding/json"
	"strings"
	"time"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// patience is how long a phone waits for a reply.
const patience = 60 * time.Second

// flight is a request on its way. The network carries it as the app's own pipe does: a reply to a request that was
// given up is not handed in as the reply to another.
type flight struct {
	h       *handset
	opened  int
	token   string
	request exchange.Request
	late    bool // it will come when nobody waits any more
}

// begin begins a turn.
func (h *handset) begin(whole bool) {
	if h.phone == nil || h.frozen {
		return
	}
	h.phone.Begin(whole)
	h.pump()
}

// pump carries what the phone wants carried.
func (h *handset) pump() {
	if h.phone == nil || h.frozen || h.asking != nil {
		return
	}
	request, some := h.phone.Next()
	if h.died() {
		return
	}
	if !some {
		h.rest()
		return
	}
	h.asked++
	h.w.tally.requests++
	h.w.note("%s asks %s %.60s (%d bytes)", h.name, request.Method, request.Path, len(request.Body))
	if h.phone.Standing().Revoked && request.Path != exchange.PathMeet && request.Path != exchange.PathPush {
		h.w.broken("%s knows that it is revoked and asks %s", h.name, request.Path)
	}
	h.send(request)
}

// rest is the time between two turns.
func (h *handset) rest() {
	if h.asked == 1 && h.phone.Standing().Reach == exchange.Reached && h.phone.Standing().Problem == "" {
		h.w.reached("empty sync")
	}
	if h.asked > 1 || h.w.chance(8) {
		h.w.sentIsTrue(h)
	}
	h.asked, h.went = 0, h.went && h.phone.Standing().Problem == ""
	if own := h.ownFiles(); own != h.own {
		h.w.reached(map[bool]string{true: "log rolled over", false: "file recycled"}[own > h.own])
		h.w.recycledWell(h)
		h.own = own
	}
	h.timer++
	timer, wait := h.timer, h.phone.Wait()
	if wait <= 0 || wait > 5*time.Minute {
		h.w.broken("%s waits %v for its next turn", h.name, wait)
	}
	h.later(wait, func() {
		if h.timer == timer {
			h.begin(true)
		}
	})
}

// latency is how long a body is on its way.
func (h *handset) latency(body []byte) time.Duration {
	d := h.w.between(20*time.Millisecond, 400*time.Millisecond)
	if h.slow && !h.w.quiet {
		d += h.w.between(time.Second, 20*time.Second) + time.Duration(len(body))*100*time.Microsecond
	}
	return d
}

// send lets a request go its way, or not.
func (h *handset) send(r exchange.Request) {
	w := h.w
	f := &flight{h: h, opened: h.opened, token: h.token, request: r}
	h.asking = f
	w.after(patience, func() { f.giveUp() })
	if w.now.Before(h.cutUntil) {
		w.after(h.latency(nil), f.giveUp)
		return
	}
	way := h.latency(r.Body)
	fate := w.rng.IntN(100)
	if w.quiet {
		fate = 99
	}
	switch {
	case fate < 5:
		w.fault("request dropped")
	case fate < 8:
		w.fault("request twice")
		w.after(way, func() { f.arrive(r) })
		again := &flight{h: h, opened: h.opened, token: h.token, request: r, late: true}
		w.after(way+w.between(0, time.Minute), func() { again.arrive(r) })
	case fate < 11:
		f.linger()
	case fate < 14 && len(r.Body) > 0:
		w.fault("request cut")
		r.Body = r.Body[:w.rng.IntN(len(r.Body))]
		w.after(way, func() { f.arrive(r) })
	case fate < 17:
		f.otherwise(way)
	default:
		w.after(way, func() { f.arrive(r) })
	}
}

// linger keeps a request in the network until long after it was given up.
func (f *flight) linger() {
	w := f.h.w
	f.late = true
	span := w.between(patience, time.Hour)
	w.fault("late request")
	if w.chance(2) {
		w.fault("delayed for days")
		span = w.between(time.Hour, 72*time.Hour)
	}
	w.after(span, func() { f.arrive(f.request) })
}

// otherwise answers in the server's place.
func (f *flight) otherwise(way time.Duration) {
	w := f.h.w
	if w.chance(2) {
		w.fault("portal page")
		f.back(exchange.Reply{Status: 200, Body: []byte("<!doctype html><html><title>Welcome to the guest network</title></html>")}, way)
		return
	}
	w.fault("server error page")
	f.back(exchange.Reply{Status: 502 + w.rng.IntN(2), Body: []byte("<html>Bad Gateway</html>")}, way)
}

// arrive is the request at the server.
func (f *flight) arrive(r exchange.Request) {
	w := f.h.w
	if f.late && w.quiet {
		return // the last fault is over: nothing old is on its way any more
	}
	reply := w.server.handle(f.token, r)
	w.note("server answers %s with %d (%d bytes) %.60s", f.h.name, reply.Status, len(reply.Body), code(reply))
	way := f.h.latency(reply.Body)
	fate := w.rng.IntN(100)
	switch {
	case w.quiet || reply.Status == 0 || f.late:
		f.back(reply, way)
	case fate < 4:
		w.fault("reply lost")
		if reply.Status == 200 && strings.HasPrefix(r.Path, exchange.PathPush) {
			w.fault("reply lost after commit")
		}
	case fate < 7 && len(reply.Body) > 0:
		w.fault("reply cut")
		reply.Body = reply.Body[:w.rng.IntN(len(reply.Body))]
		f.back(reply, way)
	case fate < 10:
		w.fault("reply twice")
		f.back(reply, way)
		f.back(reply, way+w.between(0, 5*time.Second))
	case fate < 12:
		f.back(reply, patience+w.between(0, 2*time.Hour))
	default:
		f.back(reply, way)
	}
}

func code(r exchange.Reply) []byte {
	if r.Status == 200 {
		return nil
	}
	return bytes.TrimSpace(r.Body)
}

func (f *flight) back(r exchange.Reply, way time.Duration) {
	f.h.w.after(way, func() { f.hear(r) })
}

// giveUp is when nobody waits any more.
func (f *flight) giveUp() {
	if f.h.asking == f {
		f.hear(exchange.Reply{})
	}
}

// hear hands a reply to the phone. One that nobody waits for is handed in where it could do harm: while nothing is asked.
func (f *flight) hear(r exchange.Reply) {
	h := f.h
	if h.phone == nil || h.opened != f.opened || h.frozen {
		return
	}
	if h.asking == nil && !h.w.quiet {
		h.w.fault("late reply")
		if news := h.phone.Took(r); len(news.Added) > 0 || news.Moved || news.Fault != "" {
			h.w.broken("%s heard a reply that it did not wait for", h.name)
		}
		return
	}
	if h.asking != f {
		return
	}
	h.asking = nil
	h.took(r, f.request)
}

// took lets the phone take a reply, and looks at what that brought.
func (h *handset) took(r exchange.Reply, to exchange.Request) {
	log, unsent, held := h.pool.Log().ID(), h.phone.Standing().Unsent, h.pool.Sites()
	var news exchange.News
	if h.w.server.revoked[h.device] && len(held) > 0 {
		h.w.losing(h, func() { news = h.phone.Took(r) }) // what was pulled is wiped, and nobody asks it to hand in anything before
	} else {
		news = h.phone.Took(r)
	}
	if h.died() {
		return
	}
	h.heldBack(r, news)
	h.hearOfFork(r, to, news)
	h.w.note("%s took %d: %d added, left %v %s", h.name, r.Status, len(news.Added), news.Left, news.Fault)
	if h.pool.Log().ID() != log {
		h.w.reached("log renewed")
	}
	if to.Path == exchange.PathFrontiers && h.phone.Standing().Unsent > unsent {
		h.w.reached("acknowledgement lowered")
	}
	switch news.Fault {
	case exchange.CodeBadAnswer, exchange.CodeBadPull:
		h.w.reached("bad answer refused")
	case "server-full":
		h.w.reached("server full told")
	}
	h.left = h.left || len(news.Left) > 0
	var lines []journal.Line
	for _, pair := range news.Added {
		h.w.read(h.book, pair.Line, h.old)
		lines = append(lines, pair.Line)
	}
	if h.learn(lines...); h.phone == nil {
		return // it died over what it dropped
	}
	h.watchSites(held, news)
	h.pump()
}

// hearOfFork notes the logs whose fork the phone was told of, and took so.
func (h *handset) hearOfFork(r exchange.Reply, to exchange.Request, news exchange.News) {
	var answer exchange.Answer
	if to.Path != exchange.PathPush || news.Fault != "" || json.Unmarshal(r.Body, &answer) != nil {
		return
	}
	for _, v := range answer.Answers {
		if v.Code == journal.CodeForked {
			h.forked[v.Log] = true
		}
	}
}

// heldBack: the first failure after a success is tried again within 1 s to 2 s.
func (h *handset) heldBack(r exchange.Reply, news exchange.News) {
	if wait := h.phone.Wait(); h.went && news.Fault != "" && !h.phone.Standing().SignedOut && wait > 2*time.Second {
		h.w.broken("%s waits %v after its first failure", h.name, wait)
	}
	h.went = r.Status == 200 && news.Fault == ""
}

// watchSites notes sites that were given back, and that came again.
func (h *handset) watchSites(held []string, news exchange.News) {
	if len(news.Left) > 0 {
		h.w.reached("site left")
		if h.book != nil {
			h.book = h.fold(h.old)
		}
	}
	if h.unsites == nil {
		h.unsites = map[string]bool{}
	}
	for _, site := range news.Left {
		h.unsites[site] = true
	}
	for _, pair := range news.Added {
		if site := h.w.event(pair.Line).About.Site; h.unsites[site] && len(held) > 0 {
			delete(h.unsites, site)
			h.w.reached("site given back from 0")
		}
	}
}
