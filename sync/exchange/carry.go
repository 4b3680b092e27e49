package exchange

import (
	"strconv"

	"jointwalk/sync/journal"
	"jointwalk/sync/lightjson"
)

// hear turns what came back into the fault that it stands for, nil for an answer of the server.
func (p *Phone) hear(r Reply) error {
	if r.Status >= 200 && r.Status < 300 {
		p.reach, p.signedOut = Reached, false
		return nil
	}
	var problem struct {
		Code string `json:"code"`
	}
	_ = lightjson.Unmarshal(r.Body, &problem) // what has no code is not ours: a proxy, a portal
	if r.Status == 0 || problem.Code == "" {
		p.reach = Offline
		return &journal.Fault{Code: CodeOffline}
	}
	p.reach = Reached
	switch {
	case r.Status == 401:
		p.signedOut = true
		return &journal.Fault{Code: CodeSignedOut}
	case r.Status == 404 && problem.Code != CodeUnknownPicture:
		return &journal.Fault{Code: CodeNotFound}
	}
	return &journal.Fault{Code: problem.Code}
}

// nextPush sends what waits. A log that the server was not told of yet waits for the next greeting.
func (p *Phone) nextPush() (Request, bool, error) {
	if p.met != p.pool.Log().ID() && !p.revoked {
		return Request{}, false, nil
	}
	batch, err := p.outbox.Next()
	if err != nil || batch.Empty() {
		return Request{}, false, err
	}
	p.turn.batch = batch
	return Request{Method: methodPost, Path: PathPush, Type: typeLines, Clock: p.now(), Body: batch.Body()}, true, nil
}

func (p *Phone) tookPush(body []byte, news *News) error {
	outcome, err := p.outbox.Answer(p.turn.batch, body)
	if err != nil {
		return err
	}
	p.turn.done += len(p.turn.batch.Lines)
	p.turn.batch = Batch{}
	if outcome.Forked {
		if err := p.renew(); err != nil {
			return err
		}
		p.again = max(p.again, justSend) // which tells the server of the new log
	}
	if outcome.Applied > 0 {
		p.turn.behind += outcome.Applied
		p.turn.pulls = nil // they come back with their receipts
		for _, s := range p.me.Sites {
			p.turn.pulls = append(p.turn.pulls, s.ID)
		}
	}
	if !p.revoked {
		return nil // sites are given back after a greeting, which tells whether the server was restored
	}
	return p.leave(news)
}

func (p *Phone) leftToSend() (int, float64) { return p.outbox.Unsent(), 0 }

func (p *Phone) leftToPull() (int, float64) {
	if !p.turn.counted && p.turn.behind == 0 {
		return -1, 0
	}
	return p.turn.behind, 0
}

// setAside remembers which events the server would not take, and why.
func (p *Phone) setAside(verdicts []Verdict) error {
	for _, v := range verdicts {
		p.asides[asideKey(v.Log, v.Seq)] = v.Code
	}
	return p.put(map[string]any{keyAsides: p.asides})
}

func asideKey(log string, seq uint64) string { return log + "/" + strconv.FormatUint(seq, 10) }

func (p *Phone) inbox(site string) (*Inbox, error) {
	feed, err := p.pool.Site(site)
	if err != nil {
		return nil, err
	}
	return NewInbox(site, feed, p.pool.State()), nil
}

// nextPull fetches the next slice of the first site that has news. After the last one, own files whose every event is
// safe are given back.
func (p *Phone) nextPull() (Request, bool, error) {
	if len(p.turn.pulls) == 0 {
		p.pool.Recycle(p.covered)
		return Request{}, false, nil
	}
	site := p.turn.pulls[0]
	inbox, err := p.inbox(site)
	if err != nil {
		return Request{}, false, err
	}
	return Request{Method: methodGet, Path: PathPull + "?site=" + escape(site) + "&cursor=" + escape(inbox.Cursor())}, true, nil
}

// escape writes a value as it stands in a query: every byte but the unreserved ones of RFC 3986 as %XX.
func escape(value string) string {
	const hexadecimal = "0123456789ABCDEF"
	var out []byte
	for i := 0; i < len(value); i++ {
		switch c := value[i]; {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '-', c == '.', c == '_', c == '~':
			out = append(out, c)
		default:
			out = append(out, '%', hexadecimal[c>>4], hexadecimal[c&15])
		}
	}
	return string(out)
}

func (p *Phone) tookPull(body []byte, news *News) error {
	inbox, err := p.inbox(p.turn.pulls[0])
	if err != nil {
		return err
	}
	slice, err := inbox.Apply(body)
	if bad := p.added(slice.Added, news); err == nil { // what is kept is told, even where the cursor could not move
		err = bad
	}
	p.turn.done, p.turn.behind = p.turn.done+slice.Passed, max(0, p.turn.behind-slice.Passed)
	if err == nil && !slice.More {
		p.turn.pulls = p.turn.pulls[1:]
	}
	return err
}

// added hands on what is new. An event that was set aside and comes back in a feed was let in.
func (p *Phone) added(pairs []journal.Pair, news *News) error {
	news.Added = append(news.Added, pairs...)
	left := len(p.asides)
	for _, pair := range pairs {
		if len(p.asides) == 0 {
			break
		}
		e, err := journal.Parse(pair.Line)
		if err == nil && !p.pool.Log().Contradicts(e.Log, e.Seq, pair.Line) {
			delete(p.asides, asideKey(e.Log, e.Seq)) // and not for the other side of a fork
		}
	}
	if len(p.asides) == left {
		return nil
	}
	return p.put(map[string]any{keyAsides: p.asides})
}

// covered says whether an event of the own log need not be kept there: the server has it, and so has the feed of its site
// as long as that is one of ours.
func (p *Phone) covered(line journal.Line) bool {
	e, err := journal.Parse(line)
	if err != nil || e.Seq > p.outbox.acked[e.Log] || p.asides[asideKey(e.Log, e.Seq)] != "" {
		return false
	}
	if !p.ours(e.About.Site) {
		return true
	}
	feed, err := p.pool.Site(e.About.Site)
	return err == nil && feed.Holds(e.Log, e.Seq, line)
}

// Older keeps what the server gave of a fixture's older rounds, in the feed of its site. Errors: CodeBadPull
// and those of a write.
func (p *Phone) Older(site string, body []byte) ([]journal.Pair, error) {
	pairs, err := readPairs(body)
	if err != nil {
		return nil, err
	}
	feed, err := p.pool.Site(site)
	if err != nil {
		return nil, err
	}
	return feed.Append(pairs)
}
