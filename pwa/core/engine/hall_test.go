package engine

import (
	"encoding/json"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// hall is a server's keeper and feed in a few lines, for the exchange to run against.
type hall struct {
	sites   map[string][]exchange.Stored
	hashes  map[string]string // log/seq → hash
	life    string
	refuses string // kind that is set aside

	pictures map[string][]byte // path → what is given for it
	given    []string          // paths of pictures that were given
}

func newHall() *hall {
	return &hall{sites: map[string][]exchange.Stored{}, hashes: map[string]string{}, life: "1", pictures: map[string][]byte{}}
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

func (h *hall) Fed(log string, most uint64) (uint64, error) {
	n, err := h.Upto(log)
	return min(n, most), err
}

func (h *hall) Stand(log string, seqs []uint64) (hashes []string, err error) {
	for _, n := range seqs {
		hashes = append(hashes, h.hashes[log+"/"+strconv.FormatUint(n, 10)])
	}
	return hashes, nil
}

func (h *hall) Site(site string, after uint64, max int) ([]exchange.Stored, bool, error) {
	all := h.sites[site]
	from := min(int(after), len(all))
	to := min(from+max, len(all))
	return slices.Clone(all[from:to]), to < len(all), nil
}

func (h *hall) Incarnation() string { return h.life }

func (h *hall) Last(site string) (uint64, error) { return uint64(len(h.sites[site])), nil }

// server is the hall as the exchange's own server side.
func (h *hall) server(p *phone) *exchange.Hall {
	return &exchange.Hall{Keeper: h, Feed: h, Now: p.env.Now, Register: open{},
		Seal:    func(string, exchange.Receipt) string { return "5ea1" },
		Release: func(string, func(journal.Event) (exchange.Judgement, error)) error { return nil },
		Judge: func(e journal.Event) (exchange.Judgement, error) {
			if e.Kind == h.refuses {
				return exchange.Judgement{Aside: "not-allowed"}, nil
			}
			return exchange.Judgement{}, nil
		}}
}

// open is a register that lets everybody in.
type open struct{}

func (open) Meet(string, string, uint64, []string) (exchange.Met, error) { return exchange.Met{}, nil }
func (open) Writer(string) (string, bool, error)                         { return "device", true, nil }
func (open) Enrolled(string) ([]string, error)                           { return []string{"ann", "bob"}, nil }
func (open) At(string, string) (bool, error)                             { return true, nil }

// sync carries a whole turn, through the door.
func (h *hall) sync(p *phone) (sent exchange.Outcome) {
	p.t.Helper()
	p.call("begin", Begin{Whole: true}, nil)
	for {
		request, some := p.Next()
		if !some {
			return sent
		}
		body, err := h.answer(p, request, &sent)
		if err != nil {
			p.t.Fatal(err)
		}
		if taken := p.Took(exchange.Reply{Status: 200, Body: body}); taken.Fault != "" {
			p.t.Fatalf("%s %s: %s", request.Method, request.Path, taken.Fault)
		}
	}
}

func (h *hall) answer(p *phone, r exchange.Request, sent *exchange.Outcome) ([]byte, error) {
	server := h.server(p)
	path, query, _ := strings.Cut(r.Path, "?")
	switch path {
	case exchange.PathMeet:
		var g exchange.Greeting
		if err := json.Unmarshal(r.Body, &g); err != nil {
			return nil, err
		}
		w, err := server.Meet(g, p.told, "")
		return []byte(asJSON(p.t, w)), err
	case exchange.PathPush:
		lines, err := exchange.SplitBatch(r.Body)
		if err != nil {
			return nil, err
		}
		a, err := server.Push(lines, exchange.Sender{Device: "device"})
		for _, v := range a.Answers {
			switch v.Is {
			case exchange.Applied:
				sent.Applied++
			case exchange.Duplicate:
				sent.Duplicate++
			default:
				sent.Aside = append(sent.Aside, v)
			}
		}
		return []byte(asJSON(p.t, a)), err
	case exchange.PathPull:
		values, err := url.ParseQuery(query)
		if err != nil {
			return nil, err
		}
		return server.Pull(values.Get("site"), values.Get("cursor"), 2)
	}
	if content, here := h.pictures[r.Path]; here {
		h.given = append(h.given, r.Path)
		return content, nil
	}
	return []byte(asJSON(p.t, exchange.Part{Whole: true})), nil
}
