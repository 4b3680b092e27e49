package exchange

import (
	"encoding/json"
	"maps"

	"jointwalk/sync/journal"
)

// A server that was restored from a copy lacks what came after it. It has another incarnation, so the phone notices: it
// tells how far it holds each log, hears how far the server does, and hands in the rest: its own events
// by push, all others as the pairs that it once got, which bear the server's seal.

// mostLogs bounds the logs of one comparison.
const mostLogs = 1000

// fill is a handing in that is under way.
type fill struct {
	site  string
	count int // of its pairs
	upto  int // how many of the feed's pairs it goes over
}

// nextCompare tells how far this phone holds each log.
func (p *Phone) nextCompare() (Request, bool, error) {
	if p.turn.stranger == "" {
		return Request{}, false, nil
	}
	left, err := p.uncompared()
	if err != nil || len(left) == 0 {
		return Request{}, false, err
	}
	body, err := json.Marshal(Frontiers{Upto: left})
	return Request{Method: methodPost, Path: PathFrontiers, Type: typeJSON, Body: body}, true, err
}

// uncompared is how far this phone holds the logs that the server has not answered for yet, mostLogs at most.
func (p *Phone) uncompared() (journal.Frontier, error) {
	held := p.outbox.Acked()
	for _, site := range p.pool.Sites() {
		feed, err := p.pool.Site(site)
		if err != nil {
			return nil, err
		}
		for log, seq := range feed.Frontier() {
			held[log] = max(held[log], seq)
		}
	}
	for log := range held {
		if _, known := p.turn.lacks[log]; known || len(held) > mostLogs {
			delete(held, log)
		}
	}
	return held, nil
}

// tookCompare believes the server that it has no more than it says: what was acknowledged beyond is unsent again.
func (p *Phone) tookCompare(body []byte, _ *News) error {
	var answer Frontiers
	if json.Unmarshal(body, &answer) != nil || len(answer.Upto) == 0 {
		return badAnswer("frontiers")
	}
	own := answer.agreed()
	if err := p.pool.Log().Each(own.look); err != nil {
		return err
	}
	given := answer.agreed()
	for _, site := range p.pool.Sites() {
		feed, err := p.pool.Site(site)
		if err != nil {
			return err
		}
		if err := feed.Each(func(pair journal.Pair) bool { return given.look(pair.Line) }); err != nil {
			return err
		}
	}
	maps.Copy(p.turn.lacks, given.upto)
	return p.outbox.Lower(own.upto)
}

// agreed is how far a phone and the server mean the same history.
type agreed struct {
	theirs Frontiers
	upto   journal.Frontier
}

// agreed begins with nothing agreed.
func (f Frontiers) agreed() *agreed {
	a := &agreed{f, journal.Frontier{}}
	for log := range f.Upto {
		a.upto[log] = 0
	}
	return a
}

// look agrees where the phone has the very line at which the server stands, or the one that follows it. Where it has neither
// the server's may be the other side of a fork, and all is handed in.
func (a *agreed) look(line journal.Line) bool {
	e, err := journal.Parse(line)
	if err != nil {
		return true
	}
	at, hash := a.theirs.Upto[e.Log], a.theirs.Hash[e.Log]
	if at > 0 && (e.Seq == at && journal.Hash(line) == hash || e.Seq == at+1 && e.Prev == hash) {
		a.upto[e.Log] = at
	}
	return true
}

// nextFill hands in the next pairs that the server lacks. After the last one the store is no stranger any more.
func (p *Phone) nextFill() (Request, bool, error) {
	if p.turn.stranger == "" {
		return Request{}, false, nil
	}
	pairs, err := p.lacking()
	if err != nil {
		return Request{}, false, err
	}
	if len(pairs) > 0 {
		return Request{Method: methodPost, Path: PathFill, Type: typeLines, Clock: p.now(), Body: pairsBody(pairs)}, true, nil
	}
	if err := p.put(map[string]any{keyIncarnation: p.turn.stranger}); err != nil {
		return Request{}, false, err
	}
	p.life, p.turn.stranger = p.turn.stranger, ""
	p.turn.pulls = nil // whatever the feeds hold now
	for _, s := range p.me.Sites {
		p.turn.pulls = append(p.turn.pulls, s.ID)
	}
	return Request{}, false, nil
}

// lacking are the next pairs that the server lacks, of one site.
func (p *Phone) lacking() (pairs []journal.Pair, err error) {
	for _, site := range p.pool.Sites() {
		feed, err := p.pool.Site(site)
		if err != nil {
			return nil, err
		}
		at, size := 0, 0
		err = feed.Each(func(pair journal.Pair) bool {
			if at++; at <= p.turn.passed[site] || p.known(pair.Line, feed) {
				return true
			}
			if size += len(pair.Line) + longestReceipt; len(pairs) == MaxBatch || size > MaxBatchBytes {
				at--
				return false
			}
			pairs = append(pairs, vouched(pair))
			return true
		})
		if err != nil || len(pairs) > 0 {
			p.turn.fill = fill{site: site, count: len(pairs), upto: at}
			return pairs, err
		}
	}
	return nil, nil
}

// longestReceipt is more than any receipt of ours is long.
const longestReceipt = 256

// known says whether the server has this line already. Of both sides of a fork it may have one only.
func (p *Phone) known(line journal.Line, feed *journal.Feed) bool {
	e, err := journal.Parse(line)
	return err != nil || e.Seq <= p.turn.lacks[e.Log] && !feed.Forked(e.Log, e.Seq)
}

// vouched gives a pair whose receipt was damaged here one that nobody has sealed: it goes in as any line does.
func vouched(pair journal.Pair) journal.Pair {
	if pair.Receipt.N == 0 {
		pair.Receipt = Receipt{N: 1, At: "1970-01-01T00:00:00.000Z", From: "unknown"}
	}
	return pair
}

func pairsBody(pairs []journal.Pair) []byte {
	var body []byte
	for _, pair := range pairs {
		body = AppendPair(body, pair)
	}
	return body
}

// tookFill goes on behind what was handed in.
func (p *Phone) tookFill(body []byte, _ *News) error {
	answer, err := parseAnswer(body)
	if err != nil {
		return err
	}
	if len(answer.Answers) != p.turn.fill.count {
		return badAnswer("not one answer a pair")
	}
	p.turn.passed[p.turn.fill.site] = p.turn.fill.upto
	p.turn.fill = fill{}
	return nil
}
