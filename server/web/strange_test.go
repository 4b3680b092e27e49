package web

import (
	"bufio"
	"fmt"
	"io"
	"mime"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// Who asks for what they sent (TRACE) is not told, at no address.
func TestTraceIsRefused(t *testing.T) {
	b := newBench(t)
	for _, path := range []string{"/", "/api/hello", "/api/me", "/healthz"} {
		for _, as := range []string{"sue", "!sue"} {
			w := b.call(http.MethodTrace, path, as, "", "X-Secret", "hunter2")
			if w.Code < 400 || strings.Contains(w.Body.String(), "hunter2") {
				t.Errorf("%s as %s: %d %s", path, as, w.Code, w.Body)
			}
		}
	}
}

// What a caller says of its own address changes nothing: neither the limit on tries nor the log.
func TestForwardedHeadersCountForNothing(t *testing.T) {
	b := newBench(t)
	var w *httptest.ResponseRecorder
	for i := range 21 {
		from := fmt.Sprintf("203.0.113.%d", i)
		w = b.call("POST", "/api/pair", "", `{"code":"bad","device":"phone"}`, "X-Forwarded-For", from, "X-Real-Ip", from, "Forwarded", "for="+from)
	}
	wants(t, w, 429, "too-many-tries")
	if strings.Contains(b.log.String(), "203.0.113.") {
		t.Errorf("%s", b.log)
	}
}

// A parameter that comes twice is read once, the same one for the check and for the answer.
func TestAParameterThatComesTwice(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	b.call("POST", "/api/push", "tom", p.register("p-sue", siteA))
	wants(t, b.call("GET", "/api/pull?all=1&site="+siteB+"&site="+siteA, "tom", ""), 403, "wrong-site")
	w := b.call("GET", "/api/pull?all=1&site="+siteB+"&site="+siteA, "eva", "") // who works at B only
	if w.Code != 200 || strings.Contains(w.Body.String(), fixtureID) {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	w = b.call("POST", "/api/pair?code=good", "", `{"code":"bad","device":"phone"}`)
	wants(t, w, 404, "invitation-unknown")
}

// A folder of the app is no list of its files.
func TestFoldersAreNotListed(t *testing.T) {
	b := newBench(t)
	for _, path := range []string{"/assets/", "/assets", "/schema/", "/api/pictures/", "/.git/", "/.git/config"} {
		if body := b.call("GET", path, "sue", "").Body.String(); strings.Contains(body, "a-1") || strings.Contains(body, "event.json") {
			t.Errorf("%s: %s", path, body)
		}
	}
}

// Texts say their characters, in whatever form they are served (RFC 2046, 4.1.2; JSON has one encoding only: RFC 8259, 8.1).
func TestTextsSayTheirCharacters(t *testing.T) {
	b := newBench(t)
	types := []string{"text/event-stream; charset=utf-8"} // TestStreamTellsOfOwnSites
	for _, kind := range kinds {
		types = append(types, kind)
	}
	for _, path := range []string{"/", "/sw.js", "/nothing.js", "/healthz", "/api/hello", "/api/me", "/api/nothing", "/schema/event.json", "/api/openapi.json"} {
		w := b.call("GET", path, "", "")
		if w.Header().Get("Content-Type") == "" {
			t.Errorf("%s does not say what it is", path)
		}
		types = append(types, w.Header().Get("Content-Type"))
	}
	for _, kind := range types {
		media, more, err := mime.ParseMediaType(kind)
		text := strings.HasPrefix(media, "text/") || strings.HasSuffix(media, "xml")
		if err != nil || text && !strings.EqualFold(more["charset"], "utf-8") {
			t.Errorf("%q %v", kind, err)
		}
	}
}

// spoken sends bytes over a real connection and gives the statuses of all answers until it is closed.
func spoken(t *testing.T, address, request string) (statuses []int) {
	t.Helper()
	conn, err := net.Dial("tcp", address)
	if err != nil {
		t.Fatal(err)
	}
	defer conn.Close()
	if err := conn.SetDeadline(time.Now().Add(10 * time.Second)); err != nil {
		t.Fatal(err)
	}
	if _, err := io.WriteString(conn, request); err != nil {
		t.Fatal(err)
	}
	for r := bufio.NewReader(conn); ; {
		answer, err := http.ReadResponse(r, nil)
		if err != nil {
			return statuses
		}
		_, _ = io.Copy(io.Discard, answer.Body) // its length does not matter here
		statuses = append(statuses, answer.StatusCode)
	}
}

// Where a request's end could be read in two ways it is refused, or read in one way after which nothing follows: no second request
// is smuggled in behind it (RFC 9112, 6.1 and 6.3).
func TestARequestHasOneEnd(t *testing.T) {
	b := newBench(t)
	server := httptest.NewServer(b)
	defer server.Close()
	address := strings.TrimPrefix(server.URL, "http://")
	const smuggled = "GET /healthz HTTP/1.1\r\nHost: x\r\nConnection: close\r\n\r\n"
	head := "POST /api/pair HTTP/1.1\r\nHost: x\r\nX-Jointwalk: 1\r\nContent-Type: application/json\r\n"
	if got := spoken(t, address, head+"Content-Length: 2\r\n\r\n{}"+smuggled); len(got) != 2 || got[1] != 200 {
		t.Fatalf("two whole requests on one connection: %v", got)
	}
	for name, request := range map[string]string{
		"two lengths":            head + "Content-Length: 0\r\nContent-Length: 58\r\n\r\n" + smuggled,
		"a length with a sign":   head + "Content-Length: +0\r\n\r\n" + smuggled,
		"two codings":            head + "Transfer-Encoding: chunked\r\nTransfer-Encoding: identity\r\n\r\n0\r\n\r\n" + smuggled,
		"an unknown coding":      head + "Transfer-Encoding: xchunked\r\nContent-Length: 0\r\n\r\n" + smuggled,
		"a space before a colon": head + "Content-Length : 0\r\n\r\n" + smuggled,
		"a chunk of no length":   head + "Transfer-Encoding: chunked\r\n\r\nz\r\n" + smuggled,
	} {
		if got := spoken(t, address, request); len(got) != 1 || got[0] < 400 {
			t.Errorf("%s: %v", name, got)
		}
	}
	// Both: the chunks count (RFC 9112, 6.3), so that what follows them is a request of its own, to whoever reads by the rule.
	if got := spoken(t, address, head+"Content-Length: 100\r\nTransfer-Encoding: chunked\r\n\r\n2\r\n{}\r\n0\r\n\r\n"+smuggled); len(got) > 2 || len(got) == 0 || got[0] < 400 {
		t.Errorf("length and chunks: %v", got)
	}
}

// No page of another origin is let in, by no answer, and asking first (CORS preflight) does not help it.
func TestNoOtherOriginIsLetIn(t *testing.T) {
	b := newBench(t)
	for _, r := range b.echo.Routes() {
		path := strings.NewReplacer(":hash", strings.Repeat("a", 64), ":id", siteA, "*", "x").Replace(r.Path)
		if path == "/api/stream" {
			continue // it goes on; headers are those of all answers
		}
		for _, method := range []string{r.Method, http.MethodOptions} {
			h := b.call(method, path, "sue", "", "Origin", "https://elsewhere.example", "Access-Control-Request-Method", "POST", "Access-Control-Request-Headers", "x-jointwalk").Header()
			for name := range h {
				if strings.HasPrefix(name, "Access-Control-") {
					t.Errorf("%s %s: %s: %s", method, path, name, h.Get(name))
				}
			}
		}
	}
}

// Who only reads changes nothing: a link or a picture's address on a page elsewhere does no harm.
func TestReadingChangesNothing(t *testing.T) {
	read := 0
	for row, sample := range samples {
		method, _, _ := strings.Cut(row, " ")
		if changes(method) {
			continue
		}
		read++
		p := newPlant(t)
		state := func() string {
			return fmt.Sprintf("%+v %+v %+v %+v %d %d %d", p.gate.people, p.gate.sites, p.gate.sessions, p.gate.revoked, len(p.events.pairs), len(p.events.asides), len(p.events.settled))
		}
		before := state()
		path, _ := sample(p)
		p.call(method, path, "sue", "")
		if after := state(); after != before {
			t.Errorf("%s: %s\n%s", row, before, after)
		}
	}
	if read < 8 {
		t.Errorf("only %d rows read", read)
	}
}
