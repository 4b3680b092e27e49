package exchange

import (
	"encoding/json"
	"errors"
	"strconv"
	"strings"
	"testing"
	"time"

	"jointwalk/sync/journal"
)

var (
	noon   = time.Date(2026, 3, 4, 12, 0, 0, 0, time.UTC)
	sender = Sender{Device: "device-1", Clock: noon.Add(-90 * time.Second)}
	logA   = uid(0xa)
	logB   = uid(0xb)
)

func uid(n int) string {
	s := strconv.FormatInt(int64(n), 16)
	return "01890000-0000-7000-8000-" + strings.Repeat("0", 12-len(s)) + s
}

func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}

func drafts(from, to int) []journal.Draft {
	var all []journal.Draft
	for n := from; n < to; n++ {
		all = append(all, journal.Draft{ID: uid(1000 + n), Time: "2026-03-04T05:06:07.089Z", Zone: "Europe/Paris", By: "person-1",
			About: journal.About{Site: "site-1"}, Kind: "look", Body: map[string]int{"n": n}})
	}
	return all
}

func written(log string, n int) []journal.Line {
	return must(must(journal.OpenLog(&journal.Memory{}, log)).Append(drafts(0, n)))
}

func allowAll(journal.Event) string { return "" }

// keeper is a small store: what the real ones must do, in memory.
type keeper struct {
	incarnation string
	feed        map[string][]Stored
	held        map[string]map[uint64]string // log → seq → hash
	aside       map[string]string            // hash → code
	fail        error
}

func newKeeper() *keeper {
	return &keeper{incarnation: "first", feed: map[string][]Stored{}, held: map[string]map[uint64]string{}, aside: map[string]string{}}
}

func (k *keeper) Add(items []Incoming) ([]Verdict, error) {
	if k.fail != nil {
		return nil, k.fail
	}
	var verdicts []Verdict
	for _, it := range items {
		v := Verdict{Log: it.Event.Log, Seq: it.Event.Seq}
		have, known := k.held[it.Event.Log][it.Event.Seq]
		switch {
		case it.Aside != "":
			v.Is, v.Code = Aside, it.Aside
		case known && have != it.Hash:
			v.Is, v.Code = Aside, journal.CodeForked
		case known:
			v.Is = Duplicate
		default:
			v.Is = Applied
			k.put(it)
		}
		if v.Is == Aside {
			k.aside[it.Hash] = v.Code
		}
		verdicts = append(verdicts, v)
	}
	return verdicts, nil
}

func (k *keeper) put(it Incoming) {
	if k.held[it.Event.Log] == nil {
		k.held[it.Event.Log] = map[uint64]string{}
	}
	k.held[it.Event.Log][it.Event.Seq] = it.Hash
	site := it.Event.About.Site
	it.Receipt.N = uint64(len(k.feed[site]) + 1)
	k.feed[site] = append(k.feed[site], Stored{Line: it.Line, Receipt: it.Receipt})
}

func (k *keeper) Upto(log string) (seq uint64, err error) {
	if k.fail != nil {
		return 0, k.fail
	}
	for k.held[log][seq+1] != "" {
		seq++
	}
	return seq, nil
}

func (k *keeper) Fed(log string, most uint64) (uint64, error) {
	seq, err := k.Upto(log)
	return min(seq, most), err
}

func (k *keeper) Stand(log string, seqs []uint64) (hashes []string, err error) {
	for _, seq := range seqs {
		hashes = append(hashes, k.held[log][seq])
	}
	return hashes, k.fail
}

func (k *keeper) Site(site string, after uint64, most int) ([]Stored, bool, error) {
	if k.fail != nil {
		return nil, false, k.fail
	}
	all := k.feed[site]
	if after >= uint64(len(all)) {
		return nil, false, nil
	}
	all = all[after:]
	return all[:min(most, len(all))], len(all) > most, nil
}

func (k *keeper) Incarnation() string { return k.incarnation }

// hall is a server over k whose clock stands.
func (k *keeper) hall(now time.Time) *Hall {
	return &Hall{Keeper: k, Feed: k, Now: func() time.Time { return now }, Seal: sealed,
		Register: &open{}, Judge: func(journal.Event) (Judgement, error) { return Judgement{}, nil },
		Release: func(string, func(journal.Event) (Judgement, error)) error { return nil }}
}

// open is a register that knows every log and lets everybody in.
type open struct{}

func (open) Meet(string, string, uint64, []string) (Met, error) { return Met{}, nil }
func (open) Writer(string) (string, bool, error)                { return "device-1", true, nil }
func (open) Enrolled(string) ([]string, error)                  { return []string{"person-1"}, nil }
func (open) At(string, string) (bool, error)                    { return true, nil }

// sealed is a seal that only this server can make, as far as these tests go.
func sealed(hash string, r Receipt) string {
	return journal.Hash(journal.Line("secret" + hash + r.At + strconv.FormatInt(r.Offset, 10) + r.From))[:32]
}

func receive(k *keeper, lines []journal.Line, from Sender, now time.Time, allow func(journal.Event) string) (Answer, error) {
	h := k.hall(now)
	h.Judge = func(e journal.Event) (Judgement, error) { return Judgement{Aside: allow(e)}, nil }
	return h.Push(lines, from)
}

func pull(k *keeper, site, cursor string, max int) ([]byte, error) {
	return k.hall(noon).Pull(site, cursor, max)
}

// Last is the highest n of a site.
func (k *keeper) Last(site string) (uint64, error) { return uint64(len(k.feed[site])), k.fail }

// push gives the body of the server's answer.
func push(t testing.TB, k *keeper, body []byte) []byte {
	t.Helper()
	answer, err := receive(k, must(SplitBatch(body)), sender, noon, allowAll)
	if err != nil {
		t.Fatal(err)
	}
	return must(json.Marshal(answer))
}

// notes is a Notes that can fail.
type notes struct {
	values map[string]json.RawMessage
	fail   bool
}

var errFull = errors.New("full")

func (n *notes) Get(key string) (json.RawMessage, bool) { v, ok := n.values[key]; return v, ok }

func (n *notes) Put(values map[string]json.RawMessage) error {
	if n.fail {
		return errFull
	}
	if n.values == nil {
		n.values = map[string]json.RawMessage{}
	}
	for key, value := range values {
		if value == nil {
			delete(n.values, key)
		} else {
			n.values[key] = value
		}
	}
	return nil
}

// phone is a pool with its outbox and inbox.
type phone struct {
	pool   *journal.Pool
	outbox *Outbox
	inbox  *Inbox
}

func newPhone(log string, files ...journal.File) *phone {
	fresh := len(files) == 0
	for len(files) < 6 {
		files = append(files, &journal.Memory{})
	}
	var slots []journal.Slot
	for i, f := range files {
		slots = append(slots, journal.Slot{Name: strconv.Itoa(i), File: f, Fresh: fresh})
	}
	p := must(journal.OpenPool(slots, log))
	return &phone{pool: p, outbox: must(NewOutbox(p.Log(), p.State())),
		inbox: NewInbox("site-1", must(p.Site("site-1")), p.State())}
}

var (
	_ Notes  = (*journal.State)(nil)
	_ Source = (*journal.Log)(nil)
	_ Shelf  = (*journal.Feed)(nil)
)

func texts(lines []journal.Line) string {
	var b strings.Builder
	for _, l := range lines {
		b.Write(l)
		b.WriteByte('\n')
	}
	return b.String()
}
