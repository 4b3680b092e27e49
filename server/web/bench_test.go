package web

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

const (
	siteA        = "018f0000-0000-7000-8000-00000000000a"
	siteB        = "018f0000-0000-7000-8000-00000000000b"
	installation = "018f0000-0000-7000-8000-000000000001"
)

var day = time.Date(2026, 3, 1, 8, 0, 0, 0, time.UTC)

// bench is a server over small parts that keep everything in maps.
type bench struct {
	*Server
	gate   *gate
	events *events
	watch  *watch
	log    *bytes.Buffer
}

func newBench(t *testing.T, change ...func(*Parts)) *bench {
	t.Helper()
	b := &bench{gate: newGate(), events: &events{}, watch: &watch{made: make(chan []string, 9), to: make(chan Changed)}, log: &bytes.Buffer{}}
	parts := Parts{Version: "test", Public: "http://localhost:8080", App: app(), Gate: b.gate, Events: b.events, Pictures: &pictures{}, Watch: b.watch,
		Paper: drawing{}, Now: func() time.Time { return day }, Log: slog.New(slog.NewTextHandler(b.log, &slog.HandlerOptions{Level: slog.LevelDebug}))}
	for _, c := range change {
		c(&parts)
	}
	s, err := New(parts)
	if err != nil {
		t.Fatal(err)
	}
	b.Server = s
	return b
}

func app() fs.FS {
	return fstest.MapFS{
		"index.html":      {Data: []byte("<!doctype html>app")},
		"sw.js":           {Data: []byte("self")},
		"assets/a-1.wasm": {Data: []byte("wasm")}, "assets/a-1.wasm.br": {Data: []byte("br")}, "assets/a-1.wasm.gz": {Data: []byte("gz")},
		".gitkeep": {},
	}
}

// call sends a request as a token's person ("" for nobody), with the header unless the token starts with "!".
func (b *bench) call(method, path, token, body string, headers ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	if !strings.HasPrefix(token, "!") {
		r.Header.Set("X-Jointwalk", "1")
	}
	if token = strings.TrimPrefix(token, "!"); token != "" {
		r.AddCookie(&http.Cookie{Name: b.cookieName(), Value: token})
	}
	for i := 0; i+1 < len(headers); i += 2 {
		r.Header.Set(headers[i], headers[i+1])
	}
	w := httptest.NewRecorder()
	b.ServeHTTP(w, r)
	return w
}

// wants checks a refusal: its status, its code, and that it is problem details with the request's id.
func wants(t *testing.T, w *httptest.ResponseRecorder, status int, code string) Problem {
	t.Helper()
	var p Problem
	if err := json.Unmarshal(w.Body.Bytes(), &p); err != nil {
		t.Fatalf("no problem details: %d %q", w.Code, w.Body)
	}
	if w.Code != status || p.Status != status || p.Code != code || w.Header().Get("Content-Type") != "application/problem+json" ||
		p.Request == "" || p.Request != w.Header().Get(requestHeader) {
		t.Errorf("want %d %s, got %d %+v (%s)", status, code, w.Code, p, w.Header().Get("Content-Type"))
	}
	return p
}

func into[T any](t *testing.T, w *httptest.ResponseRecorder, status int) T {
	t.Helper()
	var v T
	if w.Code != status {
		t.Fatalf("want %d, got %d %s", status, w.Code, w.Body)
	}
	if err := json.Unmarshal(w.Body.Bytes(), &v); err != nil {
		t.Fatalf("%v in %s", err, w.Body)
	}
	return v
}

// gate holds tokens as they are: "sue" supervises everywhere, "tom" is a technician at site A, "eva" an engineer at B.
type gate struct {
	mu       sync.Mutex
	sessions map[string]Visit
	people   []Person
	sites    []Site
	broken   error
}

func newGate() *gate {
	g := &gate{sessions: map[string]Visit{}, sites: []Site{{siteA, "North plant", "Hall 2", "Europe/Madrid"}, {siteB, "South plant", "", "UTC"}}}
	g.people = []Person{{ID: "p-sue", Name: "Sue", Duties: []string{"supervisor"}, Sites: []string{"*"}},
		{ID: "p-tom", Name: "Tom", Duties: []string{"technician"}, Sites: []string{siteA}}, {ID: "p-eva", Name: "Eva", Duties: []string{"engineer"}, Sites: []string{siteB}}}
	for _, p := range g.people {
		g.sessions[strings.ToLower(p.Name)] = Visit{p, Device{"d-" + p.ID, "phone of " + p.Name}}
	}
	return g
}

func (g *gate) Installation() string { return installation }

func (g *gate) NeedsSetup() (bool, error) { return len(g.people) == 0, g.broken }

func (g *gate) Setup(code, name, device string) (Visit, string, error) {
	if len(g.people) > 0 {
		return Visit{}, "", &Refusal{Code: "setup-done"}
	}
	if code != "right" {
		return Visit{}, "", &Refusal{Code: "setup-code"}
	}
	return g.enter(Person{ID: "p-1", Name: name, Duties: []string{"supervisor"}, Sites: []string{"*"}}, device)
}

func (g *gate) enter(p Person, device string) (Visit, string, error) {
	g.people = append(g.people, p)
	v := Visit{p, Device{"d-" + p.ID, device}}
	g.sessions["t-"+p.ID] = v
	return v, "t-" + p.ID, nil
}

func (g *gate) Pair(code, device string) (Visit, string, error) {
	switch code {
	case "good":
		return g.enter(Person{ID: "p-new", Name: "New", Duties: []string{"technician"}, Sites: []string{siteA}}, device)
	case "old":
		return Visit{}, "", &Refusal{Code: "invitation-expired"}
	case "used":
		return Visit{}, "", &Refusal{Code: "invitation-used"}
	}
	return Visit{}, "", &Refusal{Code: "invitation-unknown"}
}

func (g *gate) Session(token string) (Visit, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if v, ok := g.sessions[token]; ok {
		return v, g.broken
	}
	return Visit{}, &Refusal{Code: "no-session"}
}

func (g *gate) Leave(token string) error {
	g.mu.Lock()
	defer g.mu.Unlock()
	delete(g.sessions, token)
	return nil
}

func (g *gate) Invite(by Visit, name string, duties, sites []string) (Invitation, error) {
	return Invitation{Secret: "s3cret", Code: "ABCD-EFGH", Expires: day.Add(10 * time.Minute)}, nil
}

func (g *gate) Pending() ([]Pending, error) { return nil, nil }

func (g *gate) People() ([]Person, error) { return g.people, nil }

func (g *gate) Sites() ([]Site, error) { return g.sites, nil }

func (g *gate) AddSite(by Visit, site Site) (Site, error) {
	if site.Zone == "Mars" {
		return Site{}, &Refusal{Code: "bad-zone"}
	}
	site.ID = "s-new"
	g.sites = append(g.sites, site)
	return site, nil
}

func (g *gate) ChangeSite(by Visit, id string, change SiteChange) (Site, error) {
	i := slices.IndexFunc(g.sites, func(s Site) bool { return s.ID == id })
	if i < 0 {
		return Site{}, &Refusal{Code: "unknown-site"}
	}
	if change.Name != nil {
		g.sites[i].Name = *change.Name
	}
	return g.sites[i], nil
}

// events keeps pairs in order of arrival; good enough for one writer.
type events struct {
	pairs  []exchange.Stored
	asides []exchange.Incoming
	upto   map[string]uint64
	reads  int
	broken error
}

func (e *events) Add(items []exchange.Incoming) ([]exchange.Verdict, error) {
	if e.broken != nil {
		return nil, e.broken
	}
	if e.upto == nil {
		e.upto = map[string]uint64{}
	}
	var verdicts []exchange.Verdict
	for _, item := range items {
		v := exchange.Verdict{Log: item.Event.Log, Seq: item.Event.Seq, Is: exchange.Applied, Code: item.Aside}
		if item.Aside != "" {
			v.Is = exchange.Aside
			e.asides = append(e.asides, item)
		} else {
			n, _ := e.Last(item.Event.About.Site)
			item.Receipt.N = n + 1
			e.pairs = append(e.pairs, exchange.Stored{Line: item.Line, Receipt: item.Receipt})
		}
		e.upto[v.Log] = max(e.upto[v.Log], v.Seq)
		verdicts = append(verdicts, v)
	}
	return verdicts, nil
}

func (e *events) Upto(log string) (uint64, error) { return e.upto[log], nil }

func (e *events) Incarnation() string { return "life-1" }

func (e *events) Site(site string, after uint64, most int) ([]exchange.Stored, bool, error) {
	var found []exchange.Stored
	for _, p := range e.pairs {
		if ev, err := journal.Parse(p.Line); err == nil && ev.About.Site == site && p.Receipt.N > after {
			e.reads++
			found = append(found, p)
		}
	}
	return found[:min(len(found), most)], len(found) > most, e.broken
}

func (e *events) Last(site string) (uint64, error) {
	pairs, _, err := e.Site(site, 0, 1<<30)
	return uint64(len(pairs)), err
}

type pictures struct{ held map[string][]byte }

func (p *pictures) Put(hash string, body io.Reader) error {
	data, err := io.ReadAll(body)
	if err != nil {
		return err
	}
	if sum := sha256.Sum256(data); hex.EncodeToString(sum[:]) != hash {
		return &Refusal{Code: "wrong-hash"}
	}
	if p.held == nil {
		p.held = map[string][]byte{}
	}
	p.held[hash] = data
	return nil
}

func (p *pictures) Get(hash string) (io.ReadCloser, error) {
	if data, ok := p.held[hash]; ok {
		return io.NopCloser(bytes.NewReader(data)), nil
	}
	return nil, &Refusal{Code: "unknown-picture"}
}

func (p *pictures) Size(hash string) (int64, error) {
	if data, ok := p.held[hash]; ok {
		return int64(len(data)), nil
	}
	return 0, &Refusal{Code: "unknown-picture"}
}

type watch struct {
	made chan []string
	to   chan Changed
}

func (w *watch) Subscribe(sites ...string) (<-chan Changed, func()) {
	w.made <- sites
	return w.to, func() {}
}

type drawing struct{}

func (drawing) Label(w io.Writer, code, name, link, size string, at time.Time) error {
	if size == "1x1" {
		return &Refusal{Code: "unknown-size"}
	}
	_, err := fmt.Fprintf(w, "%%PDF %s|%s|%s|%s", code, name, link, size)
	return err
}

func (drawing) SVG(text string) (string, error) { return "<svg>" + text + "</svg>", nil }

func (drawing) Link(public, code string) string { return strings.ToUpper(public + "/t/" + code) }

var errBroken = errors.New("disk on fire, secret=hunter2")
