package web

import (
	"net/http"
	"strings"
	"testing"
)

// plainRoutes stand in no description, for they are no API.
var plainRoutes = map[string]bool{"GET /healthz": true, "GET /schema/:name": true, "GET /*": true, "HEAD /*": true, "GET /api/openapi.json": true}

func TestStrangersAreRefusedEverywhere(t *testing.T) {
	b := newBench(t)
	for _, r := range b.echo.Routes() {
		name := r.Method + " " + r.Path
		path := strings.NewReplacer(":hash", strings.Repeat("a", 64), ":id", siteA, "*", "x").Replace(r.Path)
		for _, token := range []string{"", "nobody"} {
			w := b.call(r.Method, path, token, "")
			if (rightOf(name).need == anyone) == (w.Code == 401) {
				t.Errorf("%s as %q: %d", name, token, w.Code)
			}
			if w.Code == 401 && r.Method != http.MethodHead {
				wants(t, w, 401, "no-session")
			}
		}
	}
}

func TestEveryRouteIsDescribedOrPlain(t *testing.T) {
	b := newBench(t)
	paths := b.api.OpenAPI().Paths
	routes := map[string]bool{}
	for _, r := range b.echo.Routes() {
		name := r.Method + " " + r.Path
		routes[name] = true
		described := false
		for path, item := range paths {
			if echoPath(path) == r.Path {
				op := map[string]bool{"GET": item.Get != nil, "POST": item.Post != nil, "PUT": item.Put != nil, "PATCH": item.Patch != nil, "HEAD": item.Head != nil}
				described = op[r.Method]
			}
		}
		if described == plainRoutes[name] {
			t.Errorf("%s: described %v, plain %v", name, described, plainRoutes[name])
		}
	}
	for name := range plainRoutes {
		if !routes[name] {
			t.Errorf("%s is no route any more", name)
		}
	}
}

func TestChangesNeedTheHeader(t *testing.T) {
	b := newBench(t)
	n := 0
	for _, r := range b.echo.Routes() {
		if !changes(r.Method) {
			continue
		}
		n++
		path := strings.NewReplacer(":hash", strings.Repeat("a", 64), ":id", siteA).Replace(r.Path)
		wants(t, b.call(r.Method, path, "!sue", "{}"), 403, "no-header")
	}
	if n < 10 {
		t.Errorf("only %d routes change something", n)
	}
}

func TestUnknownAddressesOfTheAPI(t *testing.T) {
	b := newBench(t)
	for _, path := range []string{"/api", "/api/", "/api/nothing", "/api/ask/nothing"} {
		wants(t, b.call("GET", path, "sue", ""), 404, "not-found")
	}
	if w := b.call("POST", "/api/ask/nothing", "sue", "{}"); w.Code != 405 && w.Code != 404 {
		t.Errorf("%d", w.Code)
	}
	wants(t, b.call("DELETE", "/api/sites", "sue", ""), 405, "no-such-method")
}

func TestHeadersOnEveryAnswer(t *testing.T) {
	b := newBench(t)
	for _, c := range [][2]string{{"GET", "/"}, {"GET", "/api/hello"}, {"GET", "/api/me"}, {"POST", "/api/pair"}, {"GET", "/nothing.js"}, {"GET", "/healthz"}, {"GET", "/assets/a-1.wasm"},
		{"GET", "/api/fixtures/none/label.pdf"}, {"GET", "/api/pull?site=x"}} {
		h := b.call(c[0], c[1], "!", "").Header()
		want := map[string]string{"Content-Security-Policy": csp, "X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer"}
		if strings.HasPrefix(c[1], "/api/") && !strings.HasSuffix(c[1], ".pdf") {
			want = map[string]string{"Content-Security-Policy": "default-src 'none'; frame-ancestors 'none'", "X-Content-Type-Options": "nosniff",
				"Cache-Control": "no-store", "Referrer-Policy": "", "Permissions-Policy": ""}
		} else if !strings.HasPrefix(h.Get("Permissions-Policy"), "camera=(self)") || h.Get("Cross-Origin-Opener-Policy") != "same-origin" || h.Get("Cross-Origin-Resource-Policy") != "same-origin" {
			t.Errorf("%v: %v", c, h)
		}
		for name, value := range want {
			if h.Get(name) != value {
				t.Errorf("%v: %s %q, want %q", c, name, h.Get(name), value)
			}
		}
		if h.Get(requestHeader) == "" {
			t.Errorf("%v: %v", c, h)
		}
	}
}

// What broke is told as "internal", found again in the log by its id, and not told to the caller.
func TestBrokenPartsStayInside(t *testing.T) {
	b := newBench(t)
	b.gate.broken = errBroken
	for _, c := range [][2]string{{"GET", "/api/hello"}, {"GET", "/api/me"}, {"POST", "/api/push"}} {
		w := b.call(c[0], c[1], "tom", "")
		p := wants(t, w, 500, "internal")
		if strings.Contains(w.Body.String(), "hunter2") || !loggedAs(b.log.String(), p.Request) {
			t.Errorf("%v: %s\n%s", c, w.Body, b.log)
		}
	}
	if w := b.call("GET", "/healthz", "", ""); w.Code != 503 {
		t.Errorf("healthz %d", w.Code)
	}
}

// loggedAs tells whether a failure with its cause stands in the log under a request's id.
func loggedAs(log, request string) bool {
	for line := range strings.SplitSeq(log, "\n") {
		if strings.Contains(line, "request failed") && strings.Contains(line, "disk on fire") && strings.HasSuffix(line, "request="+request) {
			return true
		}
	}
	return false
}

func TestPanicsAreRescued(t *testing.T) {
	b := newBench(t, func(p *Parts) { p.Paper = nil })
	w := b.call("POST", "/api/invitations", "sue", `{"name":"Ana","grants":{"*":["technician"]}}`)
	wants(t, w, 500, "internal")
}

func TestNoSecretsInTheLog(t *testing.T) {
	b := newBench(t)
	b.gate.people = nil
	b.call("POST", "/api/setup", "", `{"code":"right","name":"Ana","device":"desk"}`)
	b.call("GET", "/api/pull?site="+siteA+"&cursor=curs0r", "t-p-1", "")
	b.call("POST", "/api/pair", "", `{"code":"s3cret","device":"phone"}`)
	log := b.log.String()
	if !strings.Contains(log, "/api/setup") {
		t.Fatal("nothing logged")
	}
	for _, secret := range []string{"right", "t-p-1", "s3cret", "curs0r"} {
		if strings.Contains(log, secret) {
			t.Errorf("%q stands in the log: %s", secret, log)
		}
	}
}

// HSTS goes out where the app is served by https, unless a page over plain http must stay open on the same host.
func TestOnlyHTTPS(t *testing.T) {
	for _, c := range []struct {
		https bool
		trust string
		want  string
	}{{true, "", "max-age=31536000"}, {true, "http://plant.example:8081/trust", ""}, {false, "", ""}} {
		b := newBench(t, func(p *Parts) { p.HTTPS, p.Trust = c.https, c.trust })
		for _, path := range []string{"/", "/nothing.js", "/api/fixtures/none/label.pdf"} {
			if got := b.call("GET", path, "", "").Header().Get("Strict-Transport-Security"); got != c.want {
				t.Errorf("https %v, trust %q, %s: %q", c.https, c.trust, path, got)
			}
		}
	}
}
