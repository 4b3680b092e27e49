package engine

import (
	"encoding/json"
	"errors"
	"io"
	"math/rand/v2"
	"strconv"
	"testing"
	"time"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

const (
	installation = "0190a000-0000-7000-8000-0000000000aa"
	plant        = "0190a000-0000-7000-8000-0000000000b1"
	annex        = "0190a000-0000-7000-8000-0000000000b2"
)

// phone is a device under test: files that outlive its engine.
type phone struct {
	t     testing.TB
	files []*flawed
	env   Env
	*Engine
	starts int
	told   exchange.Caller // what a server tells this phone of itself
}

// flawed is a file in memory whose writes can be made to fail.
type flawed struct {
	journal.Memory
	full bool
}

func (f *flawed) WriteAt(p []byte, off int64) (int, error) {
	if f.full {
		return 0, &journal.Fault{Code: journal.CodeStorageFull}
	}
	return f.Memory.WriteAt(p, off)
}

// seeded is reproducible randomness.
type seeded struct{ source *rand.ChaCha8 }

func (s seeded) Read(p []byte) (int, error) { return s.source.Read(p) }

func newPhone(t testing.TB, seed byte) *phone {
	clock := time.Date(2025, 3, 4, 8, 0, 0, 0, time.UTC)
	p := &phone{t: t, env: Env{
		Now:    func() time.Time { clock = clock.Add(time.Second); return clock },
		Random: seeded{rand.NewChaCha8([32]byte{seed})},
	}}
	for range journal.PoolSize {
		p.files = append(p.files, &flawed{})
	}
	p.start()
	return p
}

// start opens an engine over the files, as after a kill.
func (p *phone) start() {
	p.t.Helper()
	var slots []journal.Slot
	for i, f := range p.files {
		slots = append(slots, journal.Slot{Name: strconv.Itoa(i), File: f, Fresh: p.starts == 0})
	}
	p.starts++
	engine, err := Open(slots, p.env)
	if err != nil {
		p.t.Fatal(err)
	}
	p.Engine = engine
}

func (p *phone) fill(full bool) {
	for _, f := range p.files {
		f.full = full
	}
}

// belong makes the phone a person's.
func (p *phone) belong(person string, sites ...string) {
	p.t.Helper()
	me := &Me{Person: Person{ID: person, Name: "Person " + person}, Device: Device{ID: "device-" + person},
		Installation: installation, People: []Person{}}
	for _, s := range sites {
		me.Sites = append(me.Sites, Site{ID: s, Name: "Site " + s[len(s)-2:]})
	}
	raw, err := json.Marshal(me)
	if err != nil {
		p.t.Fatal(err)
	}
	p.told = exchange.Caller{Device: me.Device.ID, Me: raw, Mark: journal.Hash(raw), Sites: sites}
	p.welcomed()
}

// welcomed carries one greeting and what the server told then, and nothing else.
func (p *phone) welcomed() {
	p.t.Helper()
	p.call("begin", Begin{Whole: true}, nil)
	for first := true; ; first = false {
		request, some := p.Next()
		if !some {
			return
		}
		if !first && request.Path != exchange.PathMeet {
			p.Took(exchange.Reply{})
			continue
		}
		w, err := json.Marshal(exchange.Welcome{Speaks: exchange.Speaks, Incarnation: "1", Now: p.now(), Mark: p.told.Mark, Me: p.told.Me})
		if err != nil {
			p.t.Fatal(err)
		}
		p.Took(exchange.Reply{Status: 200, Body: w})
	}
}

// write keeps drafts and returns where; it fails the test on any fault.
func (p *phone) write(drafts ...Draft) []Written {
	p.t.Helper()
	kept, err := p.try(drafts...)
	if err != nil {
		p.t.Fatal(err)
	}
	return kept.Written
}

func (p *phone) try(drafts ...Draft) (Kept, error) {
	w := Write{Drafts: drafts, Zone: "Europe/Berlin"}
	for range drafts {
		id, err := p.env.uuidv7()
		if err != nil {
			p.t.Fatal(err)
		}
		w.IDs = append(w.IDs, id)
	}
	return p.Write(w)
}

var conditions = record.Conditions{Gas: "air", Pressure: record.Amount{Value: 500, Unit: "kPa"},
	Ambient: record.Amount{Value: 20, Unit: "degC"}, Solution: "film", Wetted: "after"}

// station registers a fixture with one joint and a round; it returns their ids.
func (p *phone) station(site string) (fixture, joint, round string) {
	p.t.Helper()
	fixture = p.write(draft(record.FixtureRegistered, site, "", record.RegisteredBody{Name: "Bench 3"}))[0].Fixture
	joint = p.write(draft(record.JointAdded, site, fixture,
		record.Joint{Name: "7", Kind: "compression", Circuit: "test", Order: 1}))[0].Of
	round = p.write(draft(record.RoundStarted, site, fixture, record.RoundStart{Conditions: conditions}))[0].Of
	return fixture, joint, round
}

func draft(kind record.Kind, site, fixture string, body any) Draft {
	raw, err := json.Marshal(body)
	if err != nil {
		panic(err)
	}
	return Draft{Kind: kind, Site: site, Fixture: fixture, Body: raw}
}

func tight(site, fixture, joint, round string) Draft {
	return draft(record.LookMade, site, fixture,
		record.Look{Round: round, Joint: joint, Result: record.None, Seconds: 60, Stayed: true, Back: true})
}

func leaking(site, fixture, joint, round string) Draft {
	return draft(record.LookMade, site, fixture, record.Look{Round: round, Joint: joint, Result: record.Gross})
}

// ask puts a question through the door and reads the answer into into.
func (p *phone) ask(question string, args, into any) {
	p.t.Helper()
	raw, err := json.Marshal(args)
	if err != nil {
		p.t.Fatal(err)
	}
	p.call("ask", Ask{Question: question, Args: raw}, into)
}

// call goes through the door; a fault fails the test.
func (p *phone) call(name string, args, into any) {
	p.t.Helper()
	if fault := through(p.t, p.Engine, name, args, into); fault != nil {
		p.t.Fatalf("%s: %v", name, fault)
	}
}

func through(t testing.TB, e *Engine, name string, args, into any) *Fault {
	t.Helper()
	raw, err := json.Marshal(args)
	if err != nil {
		t.Fatal(err)
	}
	var reply struct {
		OK    json.RawMessage
		Fault *Fault
	}
	if err := json.Unmarshal(e.Call(name, raw), &reply); err != nil {
		t.Fatal(err)
	}
	if reply.Fault == nil && into != nil {
		if err := json.Unmarshal(reply.OK, into); err != nil {
			t.Fatal(err)
		}
	}
	return reply.Fault
}

// dry is randomness that has run out.
type dry struct{}

func (dry) Read([]byte) (int, error) { return 0, io.ErrUnexpectedEOF }

func codeOf(err error) string {
	if err == nil {
		return ""
	}
	var fault *Fault
	if errors.As(err, &fault) {
		return fault.Code
	}
	return AsFault(err).Code
}
