package web

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

const (
	tagCode   = "0123456789"
	fixtureID = "6ec570c2-f7b7-56da-a824-33f05b0cf521" // of that tag at this installation
)

// phone is a phone's log, to write real lines with.
type phone struct {
	t   *testing.T
	log *journal.Log
	n   int
}

func newPhone(t *testing.T) *phone {
	t.Helper()
	log, err := journal.OpenLog(&journal.Memory{}, "018f0000-0000-7000-8000-0000000000c1")
	if err != nil {
		t.Fatal(err)
	}
	return &phone{t: t, log: log}
}

func (p *phone) write(by, site, kind string, body any) string {
	p.t.Helper()
	return p.of("", by, site, record.Kind(kind), body)
}

// of writes an event about a noun.
func (p *phone) of(noun, by, site string, kind record.Kind, body any) string {
	p.t.Helper()
	p.n++
	lines, err := p.log.Append([]journal.Draft{{ID: fmt.Sprintf("018f0000-0000-7000-8000-%012d", p.n), Time: "2026-03-01T08:00:00.000Z", Zone: "UTC", By: by,
		About: journal.About{Site: site, Fixture: fixtureID, Of: noun}, Kind: string(kind), Body: body}})
	if err != nil {
		p.t.Fatal(err)
	}
	return string(lines[0]) + "\n"
}

func (p *phone) register(by, site string) string {
	return p.write(by, site, string(record.FixtureRegistered), record.RegisteredBody{Name: "Válvula 3", Tag: tagCode + string(record.CheckCharacter(tagCode))})
}

// round is a round that was begun and ended without a look.
func (p *phone) round(by, site string) string {
	p.t.Helper()
	id := fmt.Sprintf("018f0000-0000-7000-8000-0000000a%04d", p.n)
	start := record.RoundStart{Conditions: record.Conditions{Gas: "air", Pressure: record.Amount{Value: 500, Unit: "kPa"},
		Ambient: record.Amount{Value: 20, Unit: "degC"}, Solution: "film", Wetted: "after"}}
	return p.of(id, by, site, record.RoundStarted, start) + p.of(id, by, site, record.RoundEnded, record.RoundEnd{})
}

func TestPushAndPull(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	a := into[exchange.Answer](t, b.call("POST", "/api/push", "tom", p.register("p-sue", siteA), exchange.ClockHeader, "2026-03-01T08:00:05.000Z"), 200)
	if len(a.Answers) != 1 || a.Answers[0].Is != exchange.Applied {
		t.Fatalf("%+v", a)
	}
	if r := b.events.pairs[0].Receipt; r.From != "d-p-tom" || r.Offset != 5000 || r.N != 1 {
		t.Errorf("receipt %+v", r)
	}
	w := b.call("GET", "/api/pull?site="+siteA, "tom", "")
	if w.Code != 200 || w.Header().Get("Content-Type") != ndjson {
		t.Fatalf("%d %v", w.Code, w.Header())
	}
	lines := strings.Split(strings.TrimSpace(w.Body.String()), "\n")
	if len(lines) != 3 || lines[0] != string(b.events.pairs[0].Line) {
		t.Fatalf("%q", lines)
	}
	var end struct {
		Cursor string
		More   bool
	}
	if err := json.Unmarshal([]byte(lines[2]), &end); err != nil || end.Cursor == "" || end.More {
		t.Errorf("%s %v", lines[2], err)
	}
	again := b.call("GET", "/api/pull?site="+siteA+"&cursor="+end.Cursor, "tom", "")
	if n := strings.Count(again.Body.String(), "\n"); n > 1 {
		t.Errorf("pulled again: %s", again.Body)
	}
}

// One that may not be written is set aside with its code, and the next goes on.
func TestPushSetsAside(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	body := p.register("p-eva", siteA) + p.register("p-tom", siteB) +
		p.write("p-tom", siteA, string(record.FindingReviewed), map[string]string{"verdict": "accept"}) +
		p.write("p-tom", siteA, string(record.FixtureRegistered), map[string]string{"name": ""}) +
		"garbage\n" + p.write("p-tom", siteA, "kind-of-next-year", map[string]int{"x": 1}) + p.register("p-sue", siteA)
	a := into[exchange.Answer](t, b.call("POST", "/api/push", "tom", body), 200)
	want := []string{"not-yours", "wrong-site", "not-allowed", record.Missing, "*", "", ""}
	for i, code := range want {
		v := a.Answers[i]
		if code == "*" && v.Is == exchange.Aside && v.Code != "" {
			continue
		}
		if v.Code != code || (v.Is == exchange.Aside) != (code != "") {
			t.Errorf("line %d: %+v, want %q", i, v, code)
		}
	}
	if len(b.events.pairs) != 2 || len(b.events.asides) != 5 {
		t.Errorf("%d kept, %d aside", len(b.events.pairs), len(b.events.asides))
	}
}

func TestReviewsAreForEngineers(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	review := func(by string) string {
		return p.write(by, siteB, string(record.FindingReviewed), map[string]string{"verdict": "accept"})
	}
	for who, applied := range map[string]bool{"eva": true, "sue": true} {
		b.gate.writers[p.log.ID()] = "d-p-" + who
		a := into[exchange.Answer](t, b.call("POST", "/api/push", who, review("p-"+who)), 200)
		if (a.Answers[0].Is == exchange.Applied) != applied {
			t.Errorf("%s: %+v", who, a.Answers)
		}
	}
}

func TestPushRefusals(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	wants(t, b.call("POST", "/api/push", "tom", strings.Repeat("x", exchange.MaxBatchBytes+1)), 413, "too-large")
	wants(t, b.call("POST", "/api/push", "tom", strings.Repeat("{}\n", exchange.MaxBatch+1)), 413, exchange.CodeTooMuch)
	b.events.broken = &Refusal{Code: "server-full"}
	wants(t, b.call("POST", "/api/push", "tom", p.register("p-sue", siteA)), 507, "server-full")
	if a := b.call("POST", "/api/push", "tom", ""); a.Code != 200 && a.Code != 400 && a.Code != 507 {
		t.Errorf("an empty push: %d", a.Code)
	}
}

func TestPullRefusals(t *testing.T) {
	b := newBench(t)
	wants(t, b.call("GET", "/api/pull?site="+siteB, "tom", ""), 403, "wrong-site")
	wants(t, b.call("GET", "/api/pull", "tom", ""), 403, "wrong-site")
	wants(t, b.call("GET", "/api/pull?site=*", "tom", ""), 403, "wrong-site")
	if w := b.call("GET", "/api/pull?site="+siteA+"&cursor=%00garbage", "tom", ""); w.Code != 200 {
		t.Errorf("a cursor that nobody made begins at 0: %d %s", w.Code, w.Body)
	}
}

func TestAskReadsOnlyWhatIsNew(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	b.call("POST", "/api/push", "tom", p.register("p-sue", siteA))
	home := into[summary.Home](t, b.call("POST", "/api/ask/home", "tom", "{}"), 200)
	if len(home.Sites) != 1 || len(home.Sites[0].Fixtures) != 1 || home.Sites[0].Fixtures[0].Name != "Válvula 3" {
		t.Fatalf("%+v", home)
	}
	before := b.events.reads
	into[summary.Home](t, b.call("POST", "/api/ask/home", "tom", "{}"), 200)
	if b.events.reads != before {
		t.Errorf("read %d events again", b.events.reads-before)
	}
	name := "Valve 4"
	b.call("POST", "/api/push", "tom", p.write("p-sue", siteA, string(record.FixtureEdited), record.FixtureEdit{Name: &name}))
	if f := into[summary.Fixture](t, b.call("POST", "/api/ask/fixture", "tom", `{"id":"`+fixtureID+`"}`), 200); f.Name != name || f.SiteName != "North plant" {
		t.Errorf("%+v", f)
	}
}

func TestAskShowsOwnSitesOnly(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	b.call("POST", "/api/push", "tom", p.register("p-sue", siteA))
	into[summary.Fixture](t, b.call("POST", "/api/ask/fixture", "sue", `{"id":"`+fixtureID+`"}`), 200)
	wants(t, b.call("POST", "/api/ask/fixture", "eva", `{"id":"`+fixtureID+`"}`), 404, summary.UnknownFixture)
	if home := into[summary.Home](t, b.call("POST", "/api/ask/home", "eva", "{}"), 200); len(home.Sites) != 1 || len(home.Sites[0].Fixtures) != 0 {
		t.Errorf("%+v", home)
	}
	tag := into[summary.TagAnswer](t, b.call("POST", "/api/ask/tag", "eva", `{"text":"`+tagCode+string(record.CheckCharacter(tagCode))+`"}`), 200)
	if tag.Fixture != "" || tag.Problem != "tag-unknown" {
		t.Errorf("%+v", tag)
	}
}

func TestAskEveryQuestion(t *testing.T) {
	b := newBench(t)
	for name, code := range map[string]string{"round": summary.UnknownRound, "finding": summary.UnknownFinding, "fixture": summary.UnknownFixture} {
		wants(t, b.call("POST", "/api/ask/"+name, "sue", `{"id":"none"}`), 404, code)
		wants(t, b.call("POST", "/api/ask/"+name, "sue", `{}`), 422, "bad-input")
	}
	into[summary.Findings](t, b.call("POST", "/api/ask/findings", "sue", `{}`), 200)
	wants(t, b.call("POST", "/api/ask/tag", "sue", `{"text":"`+strings.Repeat("x", longestText+1)+`"}`), 422, "bad-input")
	wants(t, b.call("POST", "/api/ask/home", "sue", `[`), 400, "bad-request")
	w := b.call("POST", "/api/ask/estimate", "sue", `{"round":"none","joint":"none","observation":{"medium":"film","how":"window","count":5,"seconds":10,"size":{"as":"diameter"}}}`)
	if w.Code != 404 && w.Code != 422 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

func TestLabel(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	b.call("POST", "/api/push", "tom", p.register("p-sue", siteA))
	path := "/api/fixtures/" + fixtureID + "/label.pdf"
	w := b.call("GET", path+"?size=40x40", "tom", "")
	code := tagCode + string(record.CheckCharacter(tagCode))
	if want := "%PDF " + code + "|Válvula 3|HTTP://LOCALHOST:8080/T/" + code + "|40x40"; w.Body.String() != want || w.Header().Get("Content-Type") != "application/pdf" {
		t.Errorf("%d %q %v", w.Code, w.Body, w.Header())
	}
	wants(t, b.call("GET", path+"?size=1x1", "tom", ""), 422, "unknown-size")
	wants(t, b.call("GET", path, "eva", ""), 404, summary.UnknownFixture)
	wants(t, b.call("GET", "/api/fixtures/none/label.pdf", "tom", ""), 404, summary.UnknownFixture)
}
