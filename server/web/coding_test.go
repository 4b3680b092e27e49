package web

import (
	"bytes"
	"compress/flate"
	"compress/gzip"
	"io"
	"net/http/httptest"
	"strings"
	"testing"

	"jointwalk/sync/exchange"
)

// zipped is a text as gzip.
func zipped(t *testing.T, text string) string {
	t.Helper()
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	if _, err := io.WriteString(w, text); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return packed.String()
}

// unzipped is the body of an answer, which must be gzip.
func unzipped(t *testing.T, w *httptest.ResponseRecorder) string {
	t.Helper()
	if w.Header().Get("Content-Encoding") != "gzip" || w.Header().Get("Vary") != "Accept-Encoding" {
		t.Fatalf("not packed: %v", w.Header())
	}
	r, err := gzip.NewReader(w.Body)
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(r)
	if err != nil {
		t.Fatal(err)
	}
	return string(body)
}

// many are so many events of one phone, as a body.
func many(t *testing.T, n int) string {
	p, body := newPhone(t), ""
	for range n {
		body += p.register("p-sue", siteA)
	}
	return body
}

func TestAPackedPushIsTakenAsAPlainOne(t *testing.T) {
	b, body := newBench(t), many(t, 20)
	w := b.call("POST", "/api/push", "tom", zipped(t, body), "Content-Encoding", "gzip")
	a := into[exchange.Answer](t, w, 200)
	if len(a.Answers) != 20 || a.Answers[19].Is != exchange.Applied || w.Header().Get("Accept-Encoding") != "gzip" {
		t.Fatalf("%+v %v", a, w.Header())
	}
	for i, line := range strings.Split(strings.TrimSpace(body), "\n") {
		if string(b.events.pairs[i].Line) != line {
			t.Errorf("%s\n%s", b.events.pairs[i].Line, line)
		}
	}
	if plain := b.call("POST", "/api/push", "tom", many(t, 1), "Content-Encoding", "identity"); plain.Code != 200 {
		t.Errorf("%d %s", plain.Code, plain.Body)
	}
}

func TestPackedBodiesThatAreRefused(t *testing.T) {
	b, body := newBench(t), zipped(t, many(t, 3))
	bomb := zipped(t, strings.Repeat("\n", 100<<20)) // 100 kB that unpack to 100 MB
	if len(bomb) > exchange.MaxBatchBytes {
		t.Fatalf("%d bytes are refused anyhow", len(bomb))
	}
	spoilt := []byte(body)
	spoilt[len(spoilt)-6] ^= 1 // in its checksum
	for name, c := range map[string]struct {
		body, coding string
		status       int
		code         string
	}{
		"unpacks beyond the limit": {bomb, "gzip", 413, "too-large"},
		"one byte too many":        {zipped(t, strings.Repeat("\n", exchange.MaxBatchBytes+1)), "gzip", 413, "too-large"},
		"beyond it on the wire":    {strings.Repeat("x", exchange.MaxBatchBytes+1), "identity", 413, "too-large"},
		"cut off":                  {body[:len(body)/2], "gzip", 400, "bad-request"},
		"its end is missing":       {body[:len(body)-8], "gzip", 400, "bad-request"},
		"another checksum":         {string(spoilt), "gzip", 400, "bad-request"},
		"not packed at all":        {"{}\n", "gzip", 400, "bad-request"},
		"nothing":                  {"", "gzip", 400, "bad-request"},
		"another coding":           {body, "br", 415, "bad-coding"},
		"two codings":              {body, "gzip, gzip", 415, "bad-coding"},
	} {
		t.Run(name, func(t *testing.T) {
			wants(t, b.call("POST", "/api/push", "tom", c.body, "Content-Encoding", c.coding), c.status, c.code)
		})
	}
	if len(b.events.pairs)+len(b.events.asides) != 0 {
		t.Errorf("%d kept, %d aside", len(b.events.pairs), len(b.events.asides))
	}
	if w := b.call("POST", "/api/push", "tom", zipped(t, strings.Repeat("\n", exchange.MaxBatchBytes)), "Content-Encoding", "gzip"); w.Code != 200 {
		t.Errorf("exactly at the limit: %d", w.Code)
	}
}

// A reader that met something spoilt is used again for what is whole.
func TestAfterASpoiltBodyTheNextIsRead(t *testing.T) {
	b := newBench(t)
	for range 20 {
		b.call("POST", "/api/push", "tom", "\x1f\x8b garbage", "Content-Encoding", "gzip")
	}
	if a := into[exchange.Answer](t, b.call("POST", "/api/push", "tom", zipped(t, many(t, 3)), "Content-Encoding", "gzip"), 200); len(a.Answers) != 3 {
		t.Errorf("%+v", a)
	}
}

func TestLongAnswersArePacked(t *testing.T) {
	b := newBench(t)
	plain := b.call("POST", "/api/push", "tom", many(t, 50))
	if plain.Header().Get("Content-Encoding") != "" || plain.Header().Get("Vary") != "Accept-Encoding" {
		t.Errorf("packed for one who did not ask: %v", plain.Header())
	}
	into[exchange.Answer](t, plain, 200)
	pull := "/api/pull?all=1&site=" + siteA
	want := b.call("GET", pull, "tom", "").Body.String()
	w := b.call("GET", pull, "tom", "", "Accept-Encoding", "gzip, deflate, br")
	size := w.Body.Len()
	if got := unzipped(t, w); got != want || strings.Count(got, "\n") != 101 || size > len(want)/3 {
		t.Errorf("%d bytes packed to %d, %t", len(want), size, got == want)
	}
	if w := b.call("GET", pull+"&cursor=", "tom", "", "Accept-Encoding", "br, gzip;q=0"); w.Body.String() != want {
		t.Errorf("packed for one who refused: %v", w.Header())
	}
	unzipped(t, b.call("GET", "/api/older?fixture="+fixtureID, "tom", "", "Accept-Encoding", "gzip;q=0.5"))
	end := b.call("GET", "/api/pull?site="+siteB, "sue", "", "Accept-Encoding", "gzip")
	if end.Header().Get("Content-Encoding") != "" || !strings.HasPrefix(end.Body.String(), `{"cursor":`) {
		t.Errorf("a short answer was packed: %v", end.Header())
	}
}

func TestAccepts(t *testing.T) {
	for header, want := range map[string]bool{"": false, "gzip": true, "br, gzip": true, "gzip;q=0": false, "gzip; q=0.0": false, "gzip;q=0.1": true,
		"x-gzip-not": false, "*": false, "gzip;q=1.0": true, " gzip ; q=0.000": false} {
		r := httptest.NewRequest("GET", "/", nil)
		r.Header.Set("Accept-Encoding", header)
		if accepts(r) != want {
			t.Errorf("%q: %t", header, !want)
		}
	}
}

// Whatever comes as gzip is unpacked as the library does it, within the limit.
func FuzzUnpack(f *testing.F) {
	var stored bytes.Buffer
	w, err := gzip.NewWriterLevel(&stored, flate.NoCompression)
	if err != nil {
		f.Fatal(err)
	}
	_, _ = w.Write([]byte("stored")) // into memory
	_ = w.Close()
	f.Add(stored.Bytes())
	f.Add(append(stored.Bytes(), stored.Bytes()...))
	f.Add([]byte("\x1f\x8b"))
	f.Fuzz(func(t *testing.T, raw []byte) {
		const most = 1000
		got, err := unpack(bytes.NewReader(raw), most)
		if len(got) > most {
			t.Fatalf("%d bytes", len(got))
		}
		r, bad := gzip.NewReader(bytes.NewReader(raw))
		if bad != nil {
			if err == nil {
				t.Fatal("read what is no gzip")
			}
			return
		}
		want, bad := io.ReadAll(io.LimitReader(r, most+1))
		if len(want) > most {
			bad = io.ErrShortBuffer
		}
		if (err == nil) != (bad == nil) || err == nil && !bytes.Equal(got, want) {
			t.Errorf("%q %v, want %q %v", got, err, want, bad)
		}
	})
}
