package exchange

import (
	"jointwalk/sync/journal"
	"jointwalk/sync/lightjson"
)

// A server that was restored from a copy lacks what came after it. It has another incarnation, so the phone notices: it
// tells how far it holds each log, hears how far the server does, and hands in the rest: its own events
// by push, all others as the pairs that it once got, which bear the server's seal. Numbers do not say that two mean
// the same history, since either side of a fork may be on the copy: only a line whose hash the server named, and those
// that the chain leads to from there, count as the server's.

// mostLogs bounds the logs of one comparison.
const mostLogs = 1000

// fill is a handing in that is under way.
type fill struct {
	site  string
	count int // of its pairs
	upto  int // how many of the feed's pairs it goes over
}

// nextCompare tells how far this phone holds each log, and where its runs of lines end.
func (p *Phone) nextCompare() (Request, bool, error) {
	if p.turn.stranger == "" {
		return Request{}, false, nil
	}
	held, err := p.holding()
	if err != nil {
		return Request{}, false, err
	}
	left := p.uncompared(held)
	if len(left) == 0 {
		return Request{}, false, nil
	}
	p.turn.asks = Frontiers{Upto: left, Ends: held.ends(left)}
	p.turn.holds = held
	body, err := lightjson.Marshal(p.turn.asks)
	return Request{Method: methodPost, Path: PathFrontiers, Type: typeJSON, Body: body}, true, err
}

// holding are all lines that this phone holds.
func (p *Phone) holding() (holding, error) {
	held := holding{}
	if err := p.pool.Log().Each(held.add); err != nil {
		return nil, err
	}
	for _, site := range p.pool.Sites() {
		feed, err := p.pool.Site(site)
		if err != nil {
			return nil, err
		}
		if err := feed.Each(func(pair journal.Pair) bool { return held.add(pair.Line) }); err != nil {
			return nil, err
		}
	}
	return held, nil
}

// uncompared is how far this phone holds the logs that the server has not answered for yet, mostLogs at most.
func (p *Phone) uncompared(held holding) journal.Frontier {
	left := p.outbox.Acked()
	for log, lines := range held {
		for seq := range lines {
			left[log] = max(left[log], seq)
		}
	}
	for log := range left {
		if p.turn.compared[log] || len(left) > mostLogs {
			delete(left, log)
		}
	}
	return left
}

// tookCompare learns which lines the server has: all others are handed in, and of the phone's own the log is unsent again from
// its beginning where one of them may be the other side of a fork.
func (p *Phone) tookCompare(body []byte, _ *News) error {
	var answer Frontiers
	if lightjson.Unmarshal(body, &answer) != nil || len(answer.Upto) == 0 {
		return badAnswer("frontiers")
	}
	for log, upto := range answer.Upto {
		hashes, ends := answer.Hash[log], p.turn.asks.Ends[log]
		if len(hashes) != len(ends)+1 {
			return badAnswer("not one hash an end")
		}
		for i, hash := range hashes {
			at := upto
			if i < len(ends) {
				at = ends[i]
			}
			p.turn.holds[log].prove(at, upto, hash, p.turn.proven)
		}
		p.turn.compared[log] = true
	}
	err := p.pool.Log().Each(func(line journal.Line) bool {
		if e, err := journal.Parse(line); err == nil && e.Seq <= answer.Upto[e.Log] && !p.turn.proven[journal.Hash(line)] {
			answer.Upto[e.Log] = 0
		}
		return true
	})
	if err != nil {
		return err
	}
	return p.outbox.Lower(answer.Upto)
}

// holding is what a phone holds, by log.
type holding map[string]run

// run is the lines of a log by seq: mostly one, more after a fork.
type run map[uint64][]link

// link is a line and the one before it.
type link struct{ hash, prev string }

// add takes in a line.
func (h holding) add(line journal.Line) bool {
	e, err := journal.Parse(line)
	if err != nil {
		return true
	}
	if h[e.Log] == nil {
		h[e.Log] = run{}
	}
	h[e.Log][e.Seq] = append(h[e.Log][e.Seq], link{journal.Hash(line), e.Prev})
	return true
}

// ends are the places with a line that none of the phone's follows.
func (h holding) ends(upto journal.Frontier) map[string][]uint64 {
	ends := map[string][]uint64{}
	for log, top := range upto {
		lines := h[log]
		for seq := uint64(1); seq <= top; seq++ {
			for _, line := range lines[seq] {
				if !lines.followed(seq, line.hash) {
					ends[log] = append(ends[log], seq)
					break
				}
			}
		}
	}
	return ends
}

func (r run) followed(seq uint64, hash string) bool {
	for _, next := range r[seq+1] {
		if next.prev == hash {
			return true
		}
	}
	return false
}

// prove notes that the server has the line whose hash begins so, and all that it follows as far as the phone holds them
// one by one: up to upto the server lacks nothing, and a hash stands for all before it.
func (r run) prove(at, upto uint64, start string, proven map[string]bool) {
	for ; at > 0 && start != ""; at-- {
		prev := ""
		for _, line := range r[at] {
			if line.hash[:len(start)] == start {
				proven[line.hash], prev = true, line.prev
			}
		}
		if start = prev; at > upto {
			return
		}
	}
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
	if err := p.put(map[string]any{keyIncarnation: p.turn.stranger, journal.KeyMerged: nil}); err != nil {
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
			if at++; at <= p.turn.passed[site] || p.turn.proven[journal.Hash(pair.Line)] {
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
