package web

import (
	"bufio"
	"context"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"
)

// listen opens a stream as a token's person over a real connection.
func listen(t *testing.T, b *bench, token string) *bufio.Reader {
	t.Helper()
	server := httptest.NewServer(b)
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
	t.Cleanup(func() { cancel(); server.Close() })
	r, err := http.NewRequestWithContext(ctx, "GET", server.URL+"/api/stream", nil)
	if err != nil {
		t.Fatal(err)
	}
	r.AddCookie(&http.Cookie{Name: cookiePlain, Value: token})
	resp, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { resp.Body.Close() })
	if resp.StatusCode != 200 || resp.Header.Get("Content-Type") != "text/event-stream; charset=utf-8" {
		t.Fatalf("%d %v", resp.StatusCode, resp.Header)
	}
	return bufio.NewReader(resp.Body)
}

// line reads the next line that says something.
func line(t *testing.T, r *bufio.Reader) string {
	t.Helper()
	for {
		text, err := r.ReadString('\n')
		if err != nil {
			t.Fatalf("%q %v", text, err)
		}
		if text != "\n" {
			return strings.TrimSpace(text)
		}
	}
}

func TestStreamTellsOfOwnSites(t *testing.T) {
	b := newBench(t, func(p *Parts) { p.Beat = time.Hour })
	r := listen(t, b, "tom")
	if got := line(t, r); got != ": here" {
		t.Errorf("%q", got)
	}
	if sites := <-b.watch.made; len(sites) != 1 || sites[0] != siteA {
		t.Errorf("%v", sites)
	}
	b.watch.to <- Changed{siteA, 12}
	if got := line(t, r); got != `data: {"site":"`+siteA+`","n":12}` {
		t.Errorf("%q", got)
	}
	b.Close()
	if text, err := r.ReadString('x'); err == nil {
		t.Errorf("goes on after the server closed: %q", text)
	}
}

func TestStreamEndsWithItsSession(t *testing.T) {
	b := newBench(t, func(p *Parts) { p.Beat = 5 * time.Millisecond })
	r := listen(t, b, "tom")
	for range 3 {
		if got := line(t, r); got != ": here" {
			t.Fatalf("%q", got)
		}
	}
	if err := b.gate.Leave("tom"); err != nil {
		t.Fatal(err)
	}
	for got := ""; got != "event: ended"; {
		if got = line(t, r); got != ": here" && got != "event: ended" {
			t.Fatalf("%q", got)
		}
	}
}

// A desk connects anew when the stream ends, and then hears of the new site too.
func TestStreamEndsWhenTheSitesChange(t *testing.T) {
	b := newBench(t, func(p *Parts) { p.Beat = 5 * time.Millisecond })
	r := listen(t, b, "sue")
	<-b.watch.made
	into[Site](t, b.call("POST", "/api/sites", "sue", `{"name":"East plant","zone":"UTC"}`), 201)
	for {
		text, err := r.ReadString('\n')
		if err != nil {
			break
		}
		if strings.Contains(text, "ended") {
			t.Fatal("the session goes on")
		}
	}
}

// A device that was shut out is told nothing more, however long the next sign of life is away.
func TestAStreamTellsARevokedDeviceNothing(t *testing.T) {
	b := newBench(t, func(p *Parts) { p.Beat = time.Hour })
	r := listen(t, b, "tom")
	line(t, r)
	if w := b.call("POST", "/api/devices/d-p-tom/revoke", "sue", ""); w.Code != 204 {
		t.Fatal(w.Body)
	}
	b.watch.to <- Changed{siteA, 12}
	if got := line(t, r); got != "event: ended" {
		t.Errorf("%q", got)
	}
	if b := newBench(t); b.parts.Beat > 5*time.Second {
		t.Errorf("a device that is shut out hears for %v", b.parts.Beat)
	}
}
