package web

import (
	"crypto/tls"
	"net/http/httptest"
	"strings"
	"testing"
)

// changing are all routes that change something, with an address of each.
func changing(t *testing.T, b *bench) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, r := range b.echo.Routes() {
		if changes(r.Method) {
			all[r.Method+" "+r.Path] = strings.NewReplacer(":hash", strings.Repeat("a", 64), ":id", siteA).Replace(r.Path)
		}
	}
	if len(all) < 30 {
		t.Fatalf("only %d routes change something", len(all))
	}
	return all
}

// A change needs an Origin that is ours, on every route: one of another, one that hides itself and none are refused.
func TestChangesNeedOurOrigin(t *testing.T) {
	b := newBench(t)
	for route, path := range changing(t, b) {
		method, _, _ := strings.Cut(route, " ")
		for _, h := range [][]string{{"Origin", ""}, {"Origin", "null"}, {"Origin", "https://evil.example"}, {"Origin", "https://localhost:8080"}, {"Origin", "http://localhost:8081"},
			{"Origin", "http://localhost:8080.evil.example"}, {"Sec-Fetch-Site", "cross-site"}, {"Sec-Fetch-Site", "same-site"}, {"Sec-Fetch-Site", "none"}} {
			wants(t, b.call(method, path, "sue", "{}", h...), 403, "wrong-origin")
		}
		if w := b.call(method, path, "", "{}", "Sec-Fetch-Site", "same-origin"); w.Code == 403 && strings.Contains(w.Body.String(), "origin") {
			t.Errorf("%s refuses a page of ours: %s", route, w.Body)
		}
	}
}

// Our origins are --url, and whatever address in figures a browser has really gone to.
func TestOwnOrigins(t *testing.T) {
	leave := func(b *bench, host, origin string, secure bool) int {
		r := httptest.NewRequest("POST", "/api/leave", nil)
		r.Host = host
		if secure {
			r.TLS = &tls.ConnectionState{}
		}
		r.Header.Set("X-Jointwalk", "1")
		r.Header.Set("Origin", origin)
		w := httptest.NewRecorder()
		b.ServeHTTP(w, r)
		return w.Code
	}
	for _, c := range []struct {
		public, host, origin string
		secure               bool
		want                 int // 401 is let by: nobody is asking
	}{
		{"http://localhost:8080", "127.0.0.1:8080", "http://127.0.0.1:8080", false, 401},
		{"http://localhost:8080", "[::1]:8080", "http://[::1]:8080", false, 401},
		{"http://localhost:8080", "127.0.0.1:8080", "http://127.0.0.1:8081", false, 403},
		{"https://leaks.example:443", "leaks.example", "https://leaks.example", true, 401},
		{"https://leaks.example", "127.0.0.1:8080", "https://leaks.example", false, 401}, // a proxy in front
		{"https://leaks.example", "leaks.example", "http://leaks.example", false, 403},
		{"https://leaks.example", "10.0.0.5:8080", "https://10.0.0.5:8080", true, 401},
		{"https://leaks.example", "10.0.0.5:8080", "https://evil.example", true, 403},
	} {
		b := newBench(t, func(p *Parts) { p.Public, p.HTTPS = c.public, strings.HasPrefix(c.public, "https") })
		if got := leave(b, c.host, c.origin, c.secure); got != c.want {
			t.Errorf("%+v: %d", c, got)
		}
	}
}

// A stranger's name that points here gets nothing, and is told the right one; so the page under it learns nothing.
func TestOtherNamesAreRefused(t *testing.T) {
	b := newBench(t, func(p *Parts) { p.Names = []string{"bench", "bench.local"} })
	get := func(path, host string, secure bool) *httptest.ResponseRecorder {
		r := httptest.NewRequest("GET", path, nil)
		r.Host = host
		if secure {
			r.TLS = &tls.ConnectionState{}
		}
		w := httptest.NewRecorder()
		b.ServeHTTP(w, r)
		return w
	}
	for _, host := range []string{"evil.example", "evil.example:8080", "localhost.evil.example", "127.0.0.1.evil.example", "", "bench.evil.example"} {
		wants(t, get("/api/hello", host, false), 421, "wrong-host")
		w := get("/", host, false)
		if w.Code != 421 || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/plain") || !strings.Contains(w.Body.String(), "answers at http://localhost:8080 ") || !strings.Contains(w.Body.String(), "--url") {
			t.Errorf("%q: %d %s", host, w.Code, w.Body)
		}
		if w := get("/healthz", host, false); w.Code != 200 {
			t.Errorf("who watches the server may call it what they like: %d", w.Code)
		}
	}
	for _, host := range []string{"localhost", "LOCALHOST:8080", "localhost.", "127.0.0.1:8080", "[::1]:8080", "[fe80::1]", "192.168.7.9", "bench:8080", "Bench.local"} {
		if w := get("/api/hello", host, false); w.Code != 200 {
			t.Errorf("%q: %d %s", host, w.Code, w.Body)
		}
	}
	if w := get("/api/hello", "other.example", true); w.Code != 200 {
		t.Errorf("a name that a certificate stands for: %d", w.Code)
	}
}

// Data goes to our pages only, where a browser says who asks; pages and labels may be opened from anywhere.
func TestDataIsNotForOtherPages(t *testing.T) {
	b := newBench(t)
	for _, site := range []string{"cross-site", "same-site"} {
		wants(t, b.call("GET", "/api/me", "tom", "", "Sec-Fetch-Site", site), 403, "wrong-origin")
		for _, path := range []string{"/", "/api/fixtures/none/label.pdf"} {
			if w := b.call("GET", path, "tom", "", "Sec-Fetch-Site", site); w.Code == 403 {
				t.Errorf("%s: %s", path, w.Body)
			}
		}
	}
	for _, site := range []string{"same-origin", "none"} {
		if w := b.call("GET", "/api/me", "tom", "", "Sec-Fetch-Site", site); w.Code != 200 {
			t.Errorf("%s: %s", site, w.Body)
		}
	}
}

// Each route takes bodies of its own type only, by the description: a new one takes JSON, or says otherwise there.
func TestForeignTypesAreRefused(t *testing.T) {
	b := newBench(t)
	foreign := []string{"", "text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", "text/html", "application/json, text/plain", "nonsense/"}
	ours := []string{"application/json", "application/x-ndjson", "application/octet-stream"}
	for route, path := range changing(t, b) {
		method, _, _ := strings.Cut(route, " ")
		for _, kind := range foreign {
			if p := wants(t, b.call(method, path, "sue", "{}", "Content-Type", kind), 415, "bad-type"); !strings.Contains(p.Detail, "application/") {
				t.Errorf("%s: %s", route, p.Detail)
			}
		}
		taken := 0
		for _, kind := range ours {
			if !strings.Contains(newBench(t).call(method, path, "sue", "{}", "Content-Type", kind+"; charset=utf-8").Body.String(), "bad-type") {
				taken++
			}
		}
		if taken != 1 {
			t.Errorf("%s takes %d of %v", route, taken, ours)
		}
	}
}
