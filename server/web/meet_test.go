package web

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

func greeting(t *testing.T, change func(*exchange.Greeting)) string {
	t.Helper()
	g := exchange.Greeting{Speaks: exchange.Speaks, App: "7", Log: "018f0000-0000-7000-8000-0000000000c1", Clock: "2026-03-01T08:00:05.000Z"}
	if change != nil {
		change(&g)
	}
	raw, err := json.Marshal(g)
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}

func TestMeetTellsWhoWhatAndWhen(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	w := into[exchange.Welcome](t, b.call("POST", exchange.PathMeet, "tom", greeting(t, nil)), 200)
	var me Me
	if err := json.Unmarshal(w.Me, &me); err != nil || me.Person.ID != "p-tom" || w.Version != "test" || w.Incarnation != "life-1" || w.Now != "2026-03-01T08:00:00.000Z" {
		t.Errorf("%+v %v", w, err)
	}
	b.call("POST", "/api/push", "tom", p.register("p-sue", siteA))
	w = into[exchange.Welcome](t, b.call("POST", exchange.PathMeet, "tom", greeting(t, func(g *exchange.Greeting) { g.Me = w.Mark })), 200)
	if w.Me != nil || len(w.News) != 1 || w.News[0] != siteA {
		t.Errorf("%+v", w)
	}
	b.gate.people[1].Grants = Grants{siteB: {"technician"}}
	b.gate.sessions["tom"] = Visit{Person: b.gate.people[1], Device: Device{ID: "d-p-tom"}}
	if again := into[exchange.Welcome](t, b.call("POST", exchange.PathMeet, "tom", greeting(t, func(g *exchange.Greeting) { g.Me = w.Mark })), 200); again.Me == nil || again.Mark == w.Mark {
		t.Errorf("another site: %+v", again)
	}
}

// The empty sync is one request; both bodies together stay small.
func TestTheEmptySyncIsSmall(t *testing.T) {
	b := newBench(t)
	mark := into[exchange.Welcome](t, b.call("POST", exchange.PathMeet, "tom", greeting(t, nil)), 200).Mark
	slice := b.call("GET", "/api/pull?site="+siteA, "tom", "").Body.String()
	cursor := strings.Split(slice, `"`)[3]
	body := greeting(t, func(g *exchange.Greeting) {
		g.Me, g.Incarnation, g.Cursors = mark, "life-1", map[string]string{siteA: cursor}
	})
	w := b.call("POST", exchange.PathMeet, "tom", body)
	if answer := into[exchange.Welcome](t, w, 200); len(answer.News) != 0 || answer.Me != nil {
		t.Errorf("%+v", answer)
	}
	if n := len(body) + w.Body.Len(); n > 1000 {
		t.Errorf("%d bytes", n)
	}
}

func TestMeetRefusals(t *testing.T) {
	b := newBench(t)
	wants(t, b.call("POST", exchange.PathMeet, "", greeting(t, nil)), 401, "no-session")
	wants(t, b.call("POST", exchange.PathMeet, "tom", "["), 400, "bad-request")
	wants(t, b.call("POST", exchange.PathMeet, "tom", greeting(t, func(g *exchange.Greeting) { g.Speaks = 1 })), 426, exchange.CodeTooOld)
	wants(t, b.call("POST", exchange.PathMeet, "tom", strings.Repeat(" ", largestGreeting+1)), 413, "too-large")
}

// An event of a log that no device told of waits, and is let in when its device comes.
func TestALogThatNobodyToldOfWaitsForItsDevice(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	b.gate.strict = true
	a := into[exchange.Answer](t, b.call("POST", "/api/push", "sue", p.register("p-sue", siteA)+p.register("p-eva", siteA)), 200)
	if a.Answers[0].Code != exchange.CodeUnknownLog || a.Answers[1].Code != exchange.CodeUnknownLog {
		t.Fatalf("%+v", a.Answers)
	}
	into[exchange.Welcome](t, b.call("POST", exchange.PathMeet, "tom", greeting(t, func(g *exchange.Greeting) { g.Log = p.log.ID() })), 200)
	if len(b.events.pairs) != 1 || len(b.events.settled) != 1 || b.events.settled[0].How != "accepted" {
		t.Errorf("%d let in, %+v: only what Tom wrote is let in on Tom's device", len(b.events.pairs), b.events.settled)
	}
}

func TestAnyOfOurSessionsMayHandInWhatAnotherWrote(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	a := into[exchange.Answer](t, b.call("POST", "/api/push", "sue", p.register("p-sue", siteA)), 200)
	if a.Answers[0].Is != exchange.Applied || b.events.pairs[0].Receipt.From != "d-p-sue" {
		t.Errorf("%+v", a.Answers)
	}
}

func TestARevokedDeviceMayOnlyHandIn(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	b.call("POST", "/api/push", "tom", p.register("p-sue", siteA))
	wants(t, b.call("POST", "/api/devices/d-p-tom/revoke", "eva", ""), 403, "not-allowed")
	if w := b.call("POST", "/api/devices/d-p-tom/revoke", "sue", ""); w.Code != 204 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	wants(t, b.call("POST", "/api/devices/none/revoke", "sue", ""), 404, "unknown-device")
	for _, r := range b.echo.Routes() {
		method, path := r.Method, r.Path
		route := method + " " + path
		if rightOf(route).need == anyone || route == "POST "+exchange.PathPush {
			continue
		}
		wants(t, b.call(method, strings.NewReplacer(":id", "x", ":hash", hashed(png), "*", "x").Replace(path), "tom", ""), 403, exchange.CodeRevoked)
	}
	name := "Valve 4"
	a := into[exchange.Answer](t, b.call("POST", "/api/push", "tom", p.write("p-tom", siteA, string(record.FixtureEdited), record.FixtureEdit{Name: &name})), 200)
	if a.Answers[0].Code != exchange.CodeRevoked || len(b.events.pairs) != 1 {
		t.Errorf("%+v", a.Answers)
	}
	if h := into[Hello](t, b.call("GET", "/api/hello", "tom", ""), 200); h.Me != nil {
		t.Errorf("a revoked device is told %+v", h.Me)
	}
}

func TestFrontiersAndFill(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	line := p.register("p-sue", siteA)
	log := p.log.ID()
	told := into[exchange.Frontiers](t, b.call("POST", exchange.PathFrontiers, "sue", `{"upto":{"`+log+`":1}}`), 200)
	if told.Upto[log] != 0 {
		t.Errorf("%+v", told)
	}
	pair := exchange.AppendPair(nil, journal.Pair{Line: journal.Line(strings.TrimSpace(line)),
		Receipt: journal.Receipt{N: 4, At: "2026-02-01T08:00:00.000Z", Offset: 7, From: "d-p-tom", Seal: journal.Hash(journal.Line(strings.TrimSpace(line)))[:32]}})
	a := into[exchange.Answer](t, b.call("POST", exchange.PathFill, "sue", string(pair)), 200)
	if a.Answers[0].Is != exchange.Applied {
		t.Fatalf("%+v", a.Answers)
	}
	if r := b.events.pairs[0].Receipt; r.At != "2026-02-01T08:00:00.000Z" || r.From != "d-p-tom" || r.N != 1 {
		t.Errorf("%+v: its own word stays as it was", r)
	}
	wants(t, b.call("POST", exchange.PathFill, "sue", "garbage\n"), 400, "bad-request")
	wants(t, b.call("POST", exchange.PathFrontiers, "sue", "garbage"), 400, "bad-request")
}

func TestOlder(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	b.call("POST", "/api/push", "tom", p.register("p-sue", siteA))
	w := b.call("GET", "/api/older?fixture="+fixtureID, "tom", "")
	if w.Code != http.StatusOK || strings.Count(w.Body.String(), "\n") != 2 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	wants(t, b.call("GET", "/api/older?fixture="+fixtureID, "eva", ""), 404, "unknown-fixture")
}

func TestMovingAFixtureIsForSupervisorsOfBothSites(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	b.call("POST", "/api/push", "tom", p.register("p-sue", siteA))
	move := func(by string) exchange.Verdict {
		b.gate.writers[p.log.ID()] = "d-" + by
		return into[exchange.Answer](t, b.call("POST", "/api/push", "sue", p.write(by, siteA, "fixture-moved", map[string]string{"site": siteB})), 200).Answers[0]
	}
	if v := move("p-tom"); v.Code != "not-allowed" {
		t.Errorf("%+v", v)
	}
	if v := move("p-sue"); v.Is != exchange.Applied {
		t.Errorf("%+v", v)
	}
	b.gate.people[0].Grants = Grants{siteA: {"supervisor"}, siteB: {"technician"}}
	if v := move("p-sue"); v.Code != "not-allowed" {
		t.Errorf("to a site where they do not supervise: %+v", v)
	}
}

// A phone is given a fixture's last five rounds; what is older only when it asks.
func TestPullLeavesOldRoundsOut(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	batch := p.register("p-sue", siteA)
	for range 7 {
		batch += p.round("p-tom", siteA)
	}
	into[exchange.Answer](t, b.call("POST", "/api/push", "tom", batch), 200)
	lines := func(path string) int { return strings.Count(b.call("GET", path, "tom", "").Body.String(), "\n") }
	some, all := lines("/api/pull?site="+siteA), lines("/api/pull?all=1&site="+siteA)
	if some != 2*(1+5*2)+1 || all != 2*(1+7*2)+1 || lines("/api/older?fixture="+fixtureID) != all-1 {
		t.Errorf("%d lines, with all %d", some, all)
	}
}
