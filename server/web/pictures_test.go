package web

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"net/http/httptest"
	"strings"
	"testing"

	"jointwalk/sync/exchange"
	"jointwalk/sync/record"
)

const png = "\x89PNG\r\n\x1a\nrest of a picture"

func hashed(data string) string {
	sum := sha256.Sum256([]byte(data))
	return hex.EncodeToString(sum[:])
}

func TestPictures(t *testing.T) {
	b, p := newBench(t), newPhone(t)
	b.call("POST", exchange.PathPush, "tom", p.register("p-sue", siteA))
	for data, kind := range map[string]string{png: "image/png", "\xff\xd8\xff\xe0 jpeg": "image/jpeg", "RIFF1234WEBPVP8 ": "image/webp"} {
		path := "/api/pictures/" + hashed(data)
		wants(t, b.call("GET", path, "tom", ""), 404, "unknown-picture")
		if w := b.call("HEAD", path, "tom", ""); w.Code != 404 {
			t.Errorf("HEAD of nothing: %d", w.Code)
		}
		if part := into[exchange.Part](t, b.call("GET", path+"/part", "tom", ""), 200); part != (exchange.Part{}) {
			t.Errorf("nothing is here: %+v", part)
		}
		for at := 0; at < len(data); at += 13 {
			piece := data[at:min(at+13, len(data))]
			part := into[exchange.Part](t, b.call("PATCH", fmt.Sprintf("%s?offset=%d&size=%d", path, at, len(data)), "tom", piece), 200)
			if want := at + len(piece); part.Have != int64(want) || part.Whole != (want == len(data)) {
				t.Errorf("%s at %d: %+v", kind, at, part)
			}
		}
		wants(t, b.call("GET", path, "tom", ""), 404, "unknown-picture") // it is here, and taken nowhere
		b.call("POST", exchange.PathPush, "tom", p.write("p-tom", siteA, string(record.PictureAdded), record.Picture{Hash: hashed(data), Bytes: len(data), Type: kind, Width: 4, Height: 3}))
		wants(t, b.call("GET", path, "eva", ""), 404, "unknown-picture") // taken at a site that is not hers
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
	patch := func(data, path string) *httptest.ResponseRecorder { return b.call("PATCH", path, "tom", data) }
	whole := func(data string) string {
		return fmt.Sprintf("/api/pictures/%s?offset=0&size=%d", hashed(data), len(data))
	}
	wants(t, patch(png+"!", fmt.Sprintf("/api/pictures/%s?offset=0&size=%d", hashed(png), len(png)+1)), 422, "wrong-hash")
	for _, page := range []string{"<svg onload=alert(1)>", "short", "RIFF1234WAVEfmt "} {
		wants(t, patch(page, whole(page)), 415, "not-a-picture")
	}
	path := "/api/pictures/" + hashed(png)
	wants(t, patch(png, fmt.Sprintf("%s?offset=0&size=%d", path, largestPicture+1)), 413, "too-large")
	wants(t, patch(png+strings.Repeat("x", largestChunk), fmt.Sprintf("%s?offset=0&size=%d", path, largestPicture)), 413, "too-large")
	for _, query := range []string{"", "?offset=0", "?offset=-1&size=5", "?offset=x&size=5", "?offset=0&size=0"} {
		wants(t, patch(png, path+query), 422, "bad-input")
	}
	for _, hash := range []string{"short", strings.Repeat("G", 64), strings.ToUpper(hashed(png)), "..%2f..%2fsecret"} {
		wants(t, patch(png, "/api/pictures/"+hash+"?offset=0&size=9"), 422, "bad-hash")
		wants(t, b.call("GET", "/api/pictures/"+hash, "tom", ""), 422, "bad-hash")
		wants(t, b.call("GET", "/api/pictures/"+hash+"/part", "tom", ""), 422, "bad-hash")
	}
}
