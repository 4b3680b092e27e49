package web

import (
	"net/http"
	"net/http/httptest"
	"net/netip"
	"strings"
	"testing"
)

func prefixes(texts ...string) []netip.Prefix {
	var all []netip.Prefix
	for _, text := range texts {
		all = append(all, netip.MustParsePrefix(text))
	}
	return all
}

func TestWhoIsBelievedBehindAProxy(t *testing.T) {
	proxies := prefixes("10.0.0.5/32", "fd00::5/128", "172.18.0.0/16")
	cases := []struct {
		from string
		for_ []string
		want string // the address that counts, "" for refused
	}{
		{"10.0.0.5:4000", []string{"198.51.100.7"}, "198.51.100.7"},
		{"10.0.0.5:4000", []string{"203.0.113.66, 198.51.100.7"}, "198.51.100.7"}, // the first was invented by the visitor
		{"10.0.0.5:4000", []string{"203.0.113.66", "198.51.100.7"}, "198.51.100.7"},
		{"10.0.0.5:4000", []string{"198.51.100.7, 172.18.3.9"}, "198.51.100.7"}, // two proxies
		{"10.0.0.5:4000", []string{"198.51.100.7:5123"}, "198.51.100.7"},
		{"10.0.0.5:4000", []string{"[2001:db8::9]:5123"}, "2001:db8::9"},
		{"10.0.0.5:4000", []string{"198.51.100.7, unknown"}, "10.0.0.5"},
		{"10.0.0.5:4000", nil, "10.0.0.5"},
		{"[::ffff:10.0.0.5]:4000", []string{"::ffff:198.51.100.7"}, "198.51.100.7"},
		{"[fd00::5]:4000", []string{"2001:db8::9"}, "2001:db8::9"},
		{"127.0.0.1:4000", []string{"198.51.100.7"}, "127.0.0.1:4000"}, // this machine, not named: comes in, is not believed
		{"[::1]:4000", []string{"198.51.100.7"}, "[::1]:4000"},
		{"10.0.0.6:4000", []string{"10.0.0.5"}, ""},
		{"198.51.100.7:4000", nil, ""},
		{"@", nil, ""},
	}
	for _, c := range cases {
		got := ""
		h := Behind(proxies, "https://leaks.example", http.HandlerFunc(func(_ http.ResponseWriter, r *http.Request) { got = r.RemoteAddr }))
		r := httptest.NewRequest("GET", "/", nil)
		r.RemoteAddr, r.Header = c.from, http.Header{"X-Forwarded-For": c.for_}
		w := httptest.NewRecorder()
		h.ServeHTTP(w, r)
		refused := w.Code == 403 && strings.Contains(w.Body.String(), "https://leaks.example")
		if got != c.want || refused != (c.want == "") {
			t.Errorf("%s for %v: %q, %d", c.from, c.for_, got, w.Code)
		}
	}
}

// guess tries a code, from an address, with what it says of whom it comes for.
func guess(h http.Handler, from, for_ string) int {
	r := httptest.NewRequest("POST", "/api/pair", strings.NewReader(`{"code":"WRONG","device":"phone"}`))
	r.RemoteAddr, r.Host = from, "localhost:8080"
	r.Header = http.Header{"X-Jointwalk": {"1"}, "Origin": {"http://localhost:8080"}, "Content-Type": {"application/json"}, "X-Forwarded-For": {for_}}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Code
}

// Guessing is slowed down for the visitor, not for all behind the proxy; and nobody gets out of it by a header.
func TestGuessingBehindAProxy(t *testing.T) {
	b := newBench(t)
	h := Behind(prefixes("10.0.0.5/32"), "https://leaks.example", b)
	for range 20 {
		guess(h, "10.0.0.5:1", "203.0.113.1, 198.51.100.7")
	}
	if got := guess(h, "10.0.0.5:2", "203.0.113.2, 198.51.100.7"); got != 429 {
		t.Errorf("the same visitor under another invented address: %d", got)
	}
	if got := guess(h, "10.0.0.5:3", "198.51.100.8"); got == 429 {
		t.Errorf("another visitor: %d", got)
	}
	for range 20 {
		guess(b, "198.51.100.9:1", "203.0.113.1")
	}
	if got := guess(b, "198.51.100.9:1", "203.0.113.2"); got != 429 {
		t.Errorf("without a proxy a header counted: %d", got)
	}
}
