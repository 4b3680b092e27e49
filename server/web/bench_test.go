package web

import (
	"bytes"
	"encoding/json"
	"errors"
	"io/fs"
	"log/slog"
	"maps"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"
	"time"

	"jointwalk/sync/exchange"
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
	parts := Parts{Version: "test", Public: "http://localhost:8080", App: app(), Gate: b.gate, Events: b.events, Pictures: &pictures{gone: b.events.album}, Album: b.events, Watch: b.watch,
		Paper: drawing{}, Seal: func(hash string, _ exchange.Receipt) string { return hash[:32] }, Now: func() time.Time { return day }, Log: slog.New(slog.NewTextHandler(b.log, &slog.HandlerOptions{Level: slog.LevelDebug}))}
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

// call sends a request as a token's person ("" for nobody), as a page of ours would; unless the token starts with "!", with
// the header that what changes something needs.
func (b *bench) call(method, path, token, body string, headers ...string) *httptest.ResponseRecorder {
	r := httptest.NewRequest(method, path, strings.NewReader(body))
	r.Host = "localhost:8080"
	r.Header.Set("Origin", "http://localhost:8080")
	if body != "" {
		r.Header.Set("Content-Type", kindOf(path))
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

// kindOf is the content type of a route's body.
func kindOf(path string) string {
	switch {
	case slices.Contains([]string{exchange.PathPush, exchange.PathFill, "/api/import"}, path):
		return ndjson
	case strings.HasPrefix(path, "/api/pictures/"):
		return "application/octet-stream"
	}
	return "application/json"
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
	writers  map[string]string // log → device; a log that is not there was written on Tom's, unless strict
	strict   bool
	met      []exchange.Greeting
	lost     *exchange.Lost
	revoked  []string
	crew     map[string][]string // device → people, where several use it
}

func (g *gate) Join(token, code string) (string, error) {
	if code != "good" {
		return "", &Refusal{Code: "invitation-unknown"}
	}
	v := g.sessions[token]
	v.Crew = []Person{v.Person, {ID: "p-new", Name: "New", Grants: Grants{siteA: {"technician"}}}}
	g.sessions[token] = v
	return "p-new", nil
}

func (g *gate) Part(token, person string) error {
	v := g.sessions[token]
	v.Crew = nil
	g.sessions[token] = v
	return nil
}

func (g *gate) Shared(device string) (bool, error) { return len(g.crew[device]) > 1, nil }

// Meet notes what a device tells of its log.
func (g *gate) Meet(device, log string, seq uint64, earlier []string) (exchange.Met, error) {
	g.met = append(g.met, exchange.Greeting{Log: log, Seq: seq, Earlier: earlier})
	met := exchange.Met{Lost: g.lost}
	if _, known := g.writers[log]; !known {
		g.writers[log] = device
		met.Fresh = []string{log}
	}
	return met, g.broken
}

func (g *gate) Writer(log string) (string, bool, error) {
	if device, known := g.writers[log]; known || g.strict {
		return device, known, g.broken
	}
	return "d-p-tom", true, g.broken
}

// Enrolled: Sue sets up fixtures on anybody's phone.
func (g *gate) Enrolled(device string) ([]string, error) {
	return append([]string{strings.TrimPrefix(device, "d-"), "p-sue"}, g.crew[device]...), nil
}

func (g *gate) At(person, site string) (bool, error) {
	i := slices.IndexFunc(g.people, func(p Person) bool { return p.ID == person })
	return i >= 0 && g.people[i].at(site), nil
}

func (g *gate) Devices() ([]KnownDevice, error) {
	people := []string{"p-tom"}
	if crew := g.crew["d-p-tom"]; crew != nil {
		people = crew
	}
	return []KnownDevice{{ID: "d-p-tom", Name: "phone of Tom", Person: "p-tom", People: people, Seen: "2026-02-28"}}, g.broken
}

func (g *gate) LostLogs() ([]LostLog, error) {
	return []LostLog{{Device: "d-p-tom", Log: "l", Told: 9, Upto: 7, Person: "p-tom"}}, nil
}

func (g *gate) RevokeAll(by Visit, person string) error {
	if person == "nobody" {
		return &Refusal{Code: "unknown-person"}
	}
	g.revoked = append(g.revoked, by.Person.ID+" all of "+person)
	return nil
}

func (g *gate) Revoke(by Visit, device string) error {
	if device == "none" {
		return &Refusal{Code: "unknown-device"}
	}
	g.mu.Lock()
	defer g.mu.Unlock()
	g.revoked = append(g.revoked, by.Person.ID+" "+device)
	for token, v := range g.sessions {
		if v.Device.ID == device {
			v.Revoked = true
			g.sessions[token] = v
		}
	}
	return nil
}

func newGate() *gate {
	g := &gate{sessions: map[string]Visit{}, writers: map[string]string{}, sites: []Site{{siteA, "North plant", "Hall 2", "Europe/Madrid"}, {siteB, "South plant", "", "UTC"}}}
	g.people = []Person{{ID: "p-sue", Name: "Sue", Grants: Grants{"*": {"supervisor"}}},
		{ID: "p-tom", Name: "Tom", Grants: Grants{siteA: {"technician"}}}, {ID: "p-eva", Name: "Eva", Grants: Grants{siteB: {"engineer"}}}}
	for _, p := range g.people {
		g.sessions[strings.ToLower(p.Name)] = Visit{Person: p, Device: Device{"d-" + p.ID, "phone of " + p.Name}}
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
	return g.enter(Person{ID: "p-1", Name: name, Grants: Grants{"*": {"supervisor"}}}, device)
}

func (g *gate) enter(p Person, device string) (Visit, string, error) {
	g.people = append(g.people, p)
	v := Visit{Person: p, Device: Device{"d-" + p.ID, device}}
	g.sessions["t-"+p.ID] = v
	return v, "t-" + p.ID, nil
}

func (g *gate) Pair(code, device string) (Visit, string, error) {
	switch code {
	case "good":
		return g.enter(Person{ID: "p-new", Name: "New", Grants: Grants{siteA: {"technician"}}}, device)
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

func (g *gate) Invite(by Visit, name string, grants Grants) (Invitation, error) {
	return Invitation{Secret: "s3cret", Code: "ABCD-EFGH", Expires: day.Add(10 * time.Minute)}, nil
}

func (g *gate) ChangePerson(by Visit, id string, change Grants) (Person, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	i := slices.IndexFunc(g.people, func(p Person) bool { return p.ID == id })
	if i < 0 {
		return Person{}, &Refusal{Code: "unknown-person"}
	}
	g.people[i].Grants = maps.Clone(g.people[i].Grants)
	maps.Copy(g.people[i].Grants, change)
	return g.people[i], nil
}

func (g *gate) Erase(by Visit, id string) error {
	g.mu.Lock()
	defer g.mu.Unlock()
	i := slices.IndexFunc(g.people, func(p Person) bool { return p.ID == id })
	if i < 0 {
		return &Refusal{Code: "unknown-person"}
	}
	g.people[i].Name = ""
	return nil
}

func (g *gate) InviteDevice(by Visit, person string) (Invitation, error) {
	if person == "nobody" {
		return Invitation{}, &Refusal{Code: "unknown-person"}
	}
	return Invitation{Secret: "s3cret of " + person, Code: "ABCD-EFGH", Expires: day.Add(10 * time.Minute)}, nil
}

func (g *gate) Invited(handle string) (Answered, error) {
	if handle != "ABC" {
		return Answered{}, &Refusal{Code: "invitation-unknown"}
	}
	return Answered{By: "p-tom", Grants: Grants{siteA: {"technician"}}, State: "used", Device: "a phone"}, nil
}

func (g *gate) Pending() ([]Pending, error) { return nil, nil }

func (g *gate) Person(id string) (Person, bool, error) {
	i := slices.IndexFunc(g.people, func(p Person) bool { return p.ID == id })
	if i < 0 {
		return Person{}, false, nil
	}
	return g.people[i], true, nil
}

func (g *gate) People() ([]Person, error) { return g.people, nil }

func (g *gate) Sites() ([]Site, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	return slices.Clone(g.sites), nil
}

func (g *gate) AddSite(by Visit, site Site) (Site, error) {
	if site.Zone == "Mars" {
		return Site{}, &Refusal{Code: "bad-zone"}
	}
	g.mu.Lock()
	defer g.mu.Unlock()
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

var errBroken = errors.New("disk on fire, secret=hunter2")
