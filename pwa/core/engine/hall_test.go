package engine

import (
	"encoding/json"
	"slices"
	"strconv"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// hall is a server's keeper and feed in a few lines, for the exchange to run against.
type hall struct {
	sites   map[string][]exchange.Stored
	hashes  map[string]string // log/seq → hash
	life    string
	refuses string // kind that is set aside
}

func newHall() *hall {
	return &hall{sites: map[string][]exchange.Stored{}, hashes: map[string]string{}, life: "1"}
}

func (h *hall) Add(items []exchange.Incoming) ([]exchange.Verdict, error) {
	var verdicts []exchange.Verdict
	for _, item := range items {
		v := exchange.Verdict{Log: item.Event.Log, Seq: item.Event.Seq, Is: exchange.Applied, Code: item.Aside}
		key := v.Log + "/" + strconv.FormatUint(v.Seq, 10)
		held, known := h.hashes[key]
		switch {
		case item.Aside != "":
			v.Is = exchange.Aside
		case known && held == item.Hash:
			v.Is = exchange.Duplicate
		case known:
			v.Is, v.Code = exchange.Aside, journal.CodeForked
		default:
			h.hashes[key] = item.Hash
			h.keep(item)
		}
		verdicts = append(verdicts, v)
	}
	return verdicts, nil
}

func (h *hall) keep(item exchange.Incoming) {
	site := item.Event.About.Site
	receipt := item.Receipt
	receipt.N = uint64(len(h.sites[site]) + 1)
	h.sites[site] = append(h.sites[site], exchange.Stored{Line: item.Line, Receipt: receipt})
}

func (h *hall) Upto(log string) (uint64, error) {
	n := uint64(0)
	for h.hashes[log+"/"+strconv.FormatUint(n+1, 10)] != "" {
		n++
	}
	return n, nil
}

func (h *hall) Site(site string, after uint64, max int) ([]exchange.Stored, bool, error) {
	all := h.sites[site]
	from := min(int(after), len(all))
	to := min(from+max, len(all))
	return slices.Clone(all[from:to]), to < len(all), nil
}

func (h *hall) Incarnation() string { return h.life }

func (h *hall) allow(e journal.Event) string {
	if e.Kind == h.refuses {
		return "not-allowed"
	}
	return ""
}

// sync pushes all and pulls all, through the door.
func (h *hall) sync(p *phone) (sent Sent) {
	p.t.Helper()
	for {
		var push Push
		p.call("push", Nothing{}, &push)
		if push.Body == "" {
			break
		}
		lines, err := exchange.SplitBatch([]byte(push.Body))
		if err != nil {
			p.t.Fatal(err)
		}
		answer, err := exchange.Receive(h, lines, exchange.Sender{Device: "device"}, p.env.Now(), h.allow)
		if err != nil {
			p.t.Fatal(err)
		}
		raw, err := json.Marshal(answer)
		if err != nil {
			p.t.Fatal(err)
		}
		p.call("pushed", Body{Text: string(raw)}, &sent)
	}
	h.pull(p)
	return sent
}

func (h *hall) pull(p *phone) {
	p.t.Helper()
	for more := true; more; {
		more = false
		var pulls Pulls
		p.call("pulls", Nothing{}, &pulls)
		for _, pull := range pulls.Pulls {
			slice, err := exchange.Pull(h, pull.Site, pull.Cursor, 2)
			if err != nil {
				p.t.Fatal(err)
			}
			var pulled Pulled
			p.call("pulled", Body{Site: pull.Site, Text: string(slice)}, &pulled)
			more = more || pulled.More
		}
	}
}
