package web

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
	"testing"
)

const png = "\x89PNG\r\n\x1a\nrest of a picture"

func hashed(data string) string {
	sum := sha256.Sum256([]byte(data))
	return hex.EncodeToString(sum[:])
}

func TestPictures(t *testing.T) {
	b := newBench(t)
	for data, kind := range map[string]string{png: "image/png", "\xff\xd8\xff\xe0 jpeg": "image/jpeg", "RIFF1234WEBPVP8 ": "image/webp"} {
		path := "/api/pictures/" + hashed(data)
		wants(t, b.call("GET", path, "tom", ""), 404, "unknown-picture")
		if w := b.call("HEAD", path, "tom", ""); w.Code != 404 {
			t.Errorf("HEAD of nothing: %d", w.Code)
		}
		for range 2 {
			if w := b.call("PUT", path, "tom", data, "Content-Type", kind); w.Code != 204 {
				t.Fatalf("%s: %d %s", kind, w.Code, w.Body)
			}
		}
		w := b.call("GET", path, "tom", "")
		h := w.Header()
		if w.Body.String() != data || h.Get("Content-Type") != kind || h.Get("X-Content-Type-Options") != "nosniff" || !strings.HasPrefix(h.Get("Content-Disposition"), "attachment") {
			t.Errorf("%s: %q %v", kind, w.Body, h)
		}
		if w := b.call("HEAD", path, "tom", ""); w.Code != 200 || w.Body.Len() != 0 || w.Header().Get("Content-Length") != h.Get("Content-Length") {
			t.Errorf("HEAD: %d %v", w.Code, w.Header())
		}
	}
}

func TestPictureRefusals(t *testing.T) {
	b := newBench(t)
	path := "/api/pictures/" + hashed(png)
	wants(t, b.call("PUT", path, "tom", png+"!", "Content-Type", "image/png"), 422, "wrong-hash")
	wants(t, b.call("PUT", path, "tom", png, "Content-Type", "image/jpeg"), 415, "not-a-picture")
	wants(t, b.call("PUT", path, "tom", png), 415, "not-a-picture")
	for _, page := range []string{"<svg onload=alert(1)>", "", "short", "RIFF1234WAVEfmt "} {
		for _, kind := range []string{"image/png", "image/svg+xml", "text/html", "image/webp"} {
			wants(t, b.call("PUT", "/api/pictures/"+hashed(page), "tom", page, "Content-Type", kind), 415, "not-a-picture")
		}
	}
	large := png + strings.Repeat("x", largestPicture)
	wants(t, b.call("PUT", "/api/pictures/"+hashed(large), "tom", large, "Content-Type", "image/png"), 413, "too-large")
	for _, hash := range []string{"short", strings.Repeat("G", 64), strings.ToUpper(hashed(png)), "..%2f..%2fsecret"} {
		wants(t, b.call("PUT", "/api/pictures/"+hash, "tom", png, "Content-Type", "image/png"), 422, "bad-hash")
		wants(t, b.call("GET", "/api/pictures/"+hash, "tom", ""), 422, "bad-hash")
	}
}
