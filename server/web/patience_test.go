package web

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"jointwalk/sync/exchange"
)

// short are times that a test can wait for.
var short = times{batch: 200 * time.Millisecond, file: 200 * time.Millisecond, event: 50 * time.Millisecond, turn: 10 * time.Millisecond}

func hasty(p *Parts) { p.times = short }

// pipe is a listener of one connection that holds nothing between its ends: what is not read is not written.
type pipe chan net.Conn

func (p pipe) Accept() (net.Conn, error) {
	if conn, open := <-p; open {
		return conn, nil
	}
	return nil, net.ErrClosed
}

func (p pipe) Close() error {
	close(p)
	return nil
}

func (p pipe) Addr() net.Addr { return &net.TCPAddr{} }

// served is the caller's end of a connection to a server with short times, and how many requests are under way there.
func served(t *testing.T, b *bench) (net.Conn, *atomic.Int32) {
	t.Helper()
	theirs, ours := net.Pipe()
	under := &atomic.Int32{}
	server := &http.Server{ReadTimeout: short.batch, WriteTimeout: 4 * short.batch, Handler: http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		under.Add(1)
		defer under.Add(-1)
		b.ServeHTTP(w, r)
	})}
	port := make(pipe, 1)
	port <- theirs
	go func() { _ = server.Serve(port) }()
	t.Cleanup(func() { ours.Close(); server.Close() })
	return ours, under
}

// head is that of a request of Tom's whose body has so many bytes.
func head(method, path string, length int) string {
	return fmt.Sprintf("%s %s HTTP/1.1\r\nHost: localhost:8080\r\nOrigin: http://localhost:8080\r\nX-Jointwalk: 1\r\nCookie: jointwalk=tom\r\nContent-Type: %s\r\nContent-Length: %d\r\n\r\n",
		method, path, kindOf(path), length)
}

// soon waits for something, a while.
func soon(t *testing.T, what string, holds func() bool) {
	t.Helper()
	for range 500 {
		if holds() {
			return
		}
		time.Sleep(10 * time.Millisecond)
	}
	t.Fatal(what)
}

// A body that stops coming ends its request on each kind of route, and says so.
func TestASlowBodyIsCutOff(t *testing.T) {
	for _, c := range [][2]string{{"POST", exchange.PathPush}, {"POST", exchange.PathMeet}, {"POST", exchange.PathFill}, {"POST", "/api/import"}, {"POST", "/api/ask/home"},
		{"POST", "/api/calc/seal-force"}, {"PATCH", "/api/pictures/" + hashed(png) + "?offset=0&size=99"}} {
		begun := "{\"jointwalk\":\"unsent\",\"v\":1}\n"
		if c[0] == "PATCH" {
			begun = png
		}
		conn, _ := served(t, newBench(t, hasty))
		if _, err := io.WriteString(conn, head(c[0], c[1], 99)+begun); err != nil {
			t.Fatal(err)
		}
		answer, err := http.ReadResponse(bufio.NewReader(conn), nil)
		if err != nil {
			t.Errorf("%v: %v", c, err)
			continue
		}
		body, _ := io.ReadAll(answer.Body)
		if answer.StatusCode != 408 || !strings.Contains(string(body), "too-slow") || !answer.Close {
			t.Errorf("%v: %d %s, closed %v", c, answer.StatusCode, body, answer.Close)
		}
	}
}

// An answer that nobody takes ends: of data, of the app's files, of pictures.
func TestAnAnswerThatIsNotReadIsCutOff(t *testing.T) {
	for _, path := range []string{"/api/me", "/", "/assets/a-1.wasm", "/api/openapi.json"} {
		conn, under := served(t, newBench(t, hasty))
		if _, err := io.WriteString(conn, head("GET", path, 0)); err != nil {
			t.Fatal(err)
		}
		time.Sleep(2 * time.Millisecond)
		soon(t, path+" is still being written", func() bool { return under.Load() == 0 })
		soon(t, path+" keeps its connection", func() bool { return gone(conn) })
	}
}

// gone says whether the other end has closed.
func gone(conn net.Conn) bool {
	_ = conn.SetWriteDeadline(time.Now().Add(time.Millisecond))
	_, err := conn.Write([]byte(" "))
	return errors.Is(err, io.ErrClosedPipe)
}

// A stream to somebody who takes nothing ends at the next thing to tell, and listens no longer.
func TestAHalfOpenStreamIsCutOff(t *testing.T) {
	b := newBench(t, hasty, func(p *Parts) { p.Beat = time.Millisecond })
	conn, under := served(t, b)
	if _, err := io.WriteString(conn, head("GET", "/api/stream", 0)); err != nil {
		t.Fatal(err)
	}
	if _, err := bufio.NewReader(conn).ReadString('\n'); err != nil { // it has begun; nothing more is read
		t.Fatal(err)
	}
	soon(t, "still listening", func() bool { return under.Load() == 0 })
	if len(b.streams.by) != 0 {
		t.Errorf("%v", b.streams.by)
	}
}

// A stream that is read lasts, whatever time requests and answers have.
func TestAStreamOutlastsTheTimes(t *testing.T) {
	b := newBench(t, hasty, func(p *Parts) { p.Beat = 20 * time.Millisecond })
	conn, _ := served(t, b)
	if _, err := io.WriteString(conn, head("GET", "/api/stream", 0)); err != nil {
		t.Fatal(err)
	}
	lines, beats := bufio.NewReader(conn), 0
	for until := time.Now().Add(6 * short.batch); time.Now().Before(until); beats++ {
		if _, err := lines.ReadString('\n'); err != nil {
			t.Fatalf("after %d lines: %v", beats, err)
		}
	}
}

// A device listens eight times at once; another is not held up by it.
func TestStreamsOfADeviceAreCounted(t *testing.T) {
	b := newBench(t)
	b.streams.most = 2
	listen(t, b, "tom")
	listen(t, b, "tom")
	w := b.call("GET", "/api/stream", "tom", "")
	if p := wants(t, w, 429, "too-many-streams"); !strings.Contains(p.Detail, fmt.Sprint(mostStreams)) {
		t.Error(p.Detail)
	}
	listen(t, b, "sue")
}

// What is heavy waits for its turn, and is sent away when there is none.
func TestHeavyWorkHasTurns(t *testing.T) {
	b := newBench(t, hasty)
	row := "{\"jointwalk\":\"unsent\",\"v\":1}\n"
	for name, c := range map[string]struct {
		turns turns
		ask   func() *httptest.ResponseRecorder
	}{
		"calculation": {b.heavy, func() *httptest.ResponseRecorder {
			return b.call("POST", "/api/calc/seal-force", "tom", `{"pressure":200000,"diameter":0.04}`)
		}},
		"import": {b.imports, func() *httptest.ResponseRecorder { return b.call("POST", "/api/import", "tom", row) }},
	} {
		for range cap(c.turns) {
			if _, err := c.turns.take(context.Background(), time.Second); err != nil {
				t.Fatal(name, err)
			}
		}
		w := c.ask()
		if p := wants(t, w, 503, "too-busy"); !strings.HasPrefix(p.Detail, fmt.Sprint(cap(c.turns), " ")) || w.Header().Get("Retry-After") == "" {
			t.Errorf("%s: %s %v", name, p.Detail, w.Header())
		}
		<-c.turns
		for range 3 {
			if w := c.ask(); w.Code != 200 {
				t.Errorf("%s, with a turn free: %d %s", name, w.Code, w.Body)
			}
		}
	}
}

// What is too large is told how much may be.
func TestLimitsStandInTheError(t *testing.T) {
	b := newBench(t)
	for path, c := range map[string]struct {
		body string
		code string
		says string
	}{
		"/api/pair":            {`{"code":"` + strings.Repeat("x", 20<<10) + `"}`, "too-large", "16384"},
		exchange.PathPush:      {strings.Repeat("x", exchange.MaxBatchBytes+1), "too-large", fmt.Sprint(exchange.MaxBatchBytes)},
		exchange.PathMeet:      {strings.Repeat(" ", largestGreeting+1), "too-large", fmt.Sprint(largestGreeting)},
		exchange.PathFrontiers: {`{"a":` + nested(deepest), "bad-request", fmt.Sprint(deepest)},
		"/api/ask/home":        {`{"a":` + nested(deepest) + "}", "bad-request", fmt.Sprint(deepest)},
		"/api/setup":           {`{"code":"x","device":"y","name":"` + strings.Repeat("z", 101) + `"}`, "bad-input", "100"},
	} {
		w := b.call("POST", path, "tom", c.body)
		var p Problem
		status := map[string]int{"too-large": 413, "bad-request": 400, "bad-input": 422}[c.code]
		if p = wants(t, w, status, c.code); !strings.Contains(p.Detail+fmt.Sprint(p.Fields), c.says) {
			t.Errorf("%s: %+v", path, p)
		}
	}
}

// nested is a list in a list and so on.
func nested(deep int) string { return strings.Repeat("[", deep) + strings.Repeat("]", deep) }

func TestDepth(t *testing.T) {
	for text, want := range map[string]int{`1`: 0, `{}`: 1, `{"a":[1,{}]}`: 3, `"[[[["`: 0, `{"a\"[":"\\","b":[]}`: 2, nested(40): 40, `[[[`: 3, `]]][`: 0} {
		if got := depth([]byte(text)); got != want && !(text == `]]][` && got <= 1) {
			t.Errorf("%s: %d, want %d", text, got, want)
		}
	}
}
