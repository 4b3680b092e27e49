package web

import (
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"testing/fstest"
)

func TestAppAndItsAddresses(t *testing.T) {
	b := newBench(t)
	for _, path := range []string{"/", "/index.html", "/scan", "/t/7K3MQ9XWTAC", "/T/7K3MQ9XWTAC", "/f/some-id/edit", "/apiary"} {
		w := b.call("GET", path, "", "")
		if w.Code != 200 || !strings.Contains(w.Body.String(), "app") || w.Header().Get("Cache-Control") != "no-cache" || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/html") {
			t.Errorf("%s: %d %v", path, w.Code, w.Header())
		}
	}
	for _, path := range []string{"/nothing.js", "/assets/a-2.wasm", "/.gitkeep", "/assets/a-1.wasm.br", "/../go.mod"} {
		if w := b.call("GET", path, "", ""); w.Code != 404 {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
	if w := b.call("GET", "/sw.js", "", ""); w.Header().Get("Cache-Control") != "no-cache" || !strings.HasPrefix(w.Header().Get("Content-Type"), "text/javascript") {
		t.Errorf("sw.js: %v", w.Header())
	}
}

func TestCompressedForms(t *testing.T) {
	b := newBench(t)
	etags := map[string]string{}
	for _, c := range []struct{ accept, coding, body string }{
		{"gzip, deflate, br", "br", "br"}, {"gzip", "gzip", "gz"}, {"", "", "wasm"}, {"br;q=0, gzip;q=0.5", "gzip", "gz"},
		{"BR", "br", "br"}, {"br;q=0", "", "wasm"}, {"identity", "", "wasm"}, {"brotli", "", "wasm"},
	} {
		w := b.call("GET", "/assets/a-1.wasm", "", "", "Accept-Encoding", c.accept)
		h := w.Header()
		if w.Body.String() != c.body || h.Get("Content-Encoding") != c.coding || h.Get("Content-Type") != "application/wasm" || h.Get("Vary") != "Accept-Encoding" {
			t.Errorf("%q: %q %v", c.accept, w.Body, h)
		}
		if h.Get("Cache-Control") != "public, max-age=31536000, immutable" {
			t.Errorf("%q: %v", c.accept, h)
		}
		if old, ok := etags[c.coding]; ok && old != h.Get("ETag") {
			t.Errorf("%q: two tags for one form", c.accept)
		}
		etags[c.coding] = h.Get("ETag")
	}
	if etags["br"] == etags["gzip"] || etags["br"] == etags[""] || etags["br"] == "" {
		t.Errorf("forms must have tags of their own: %v", etags)
	}
}

func TestNotModified(t *testing.T) {
	b := newBench(t)
	etag := b.call("GET", "/", "", "").Header().Get("ETag")
	for _, header := range []string{etag, `"x", ` + etag, "W/" + etag, "*"} {
		w := b.call("GET", "/", "", "", "If-None-Match", header)
		if w.Code != 304 || w.Body.Len() != 0 || w.Header().Get("ETag") != etag || w.Header().Get("Cache-Control") != "no-cache" {
			t.Errorf("%s: %d %v", header, w.Code, w.Header())
		}
	}
	if w := b.call("GET", "/", "", "", "If-None-Match", `"other"`); w.Code != 200 {
		t.Errorf("%d", w.Code)
	}
	if w := b.call("HEAD", "/", "", ""); w.Code != 200 || w.Body.Len() != 0 || w.Header().Get("Content-Length") == "" {
		t.Errorf("HEAD: %d %v", w.Code, w.Header())
	}
}

func TestUnbuiltApp(t *testing.T) {
	b := newBench(t, func(p *Parts) { p.App = fstest.MapFS{".gitkeep": {}} })
	if w := b.call("GET", "/", "", ""); w.Code != 503 || !strings.Contains(w.Body.String(), "make run") {
		t.Errorf("%d %s", w.Code, w.Body)
	}
}

func TestFileOfUnknownKind(t *testing.T) {
	if _, err := readAssets(fstest.MapFS{"page.exe": {}}); err == nil {
		t.Error("served as something")
	}
}

// Over a real connection a client that asks for nothing still gets the plain form.
func TestPlainClient(t *testing.T) {
	b := newBench(t)
	server := httptest.NewServer(b)
	defer server.Close()
	client := &http.Client{Transport: &http.Transport{DisableCompression: true}}
	resp, err := client.Get(server.URL + "/assets/a-1.wasm")
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	if resp.Header.Get("Content-Encoding") != "" || resp.ContentLength != 4 {
		t.Errorf("%v", resp.Header)
	}
}
