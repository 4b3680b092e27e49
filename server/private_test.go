package main

import (
	"crypto/rand"
	"io"
	"io/fs"
	"net/http"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"jointwalk/server/cert"
)

// Nobody else on the machine reads the data folder: not the store, the pictures, the keys, a copy.
func TestDataIsForItsOwnerAlone(t *testing.T) {
	data := filepath.Join(t.TempDir(), "data")
	if err := prepare(data); err != nil {
		t.Fatal(err)
	}
	r, ana := lit(t, data)
	defer r.end()
	picture := "\x89PNG\r\n\x1a\nrest"
	if err := r.h.blobs.Put(sha(picture), strings.NewReader(picture)); err != nil {
		t.Fatal(err)
	}
	r.taken(t, ana, sha(picture))
	if _, err := cert.OpenLocal(filepath.Join(data, "https"), cert.HostsOf("bench", nil, ""), time.Now, rand.Reader); err != nil {
		t.Fatal(err)
	}
	says(t, 0, "backup", "--data", data, filepath.Join(data, "mine"))
	seen := 0
	err := filepath.WalkDir(data, func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		info, err := entry.Info()
		if seen++; err == nil && info.Mode().Perm()&0o077 != 0 {
			t.Errorf("%s: %v", name, info.Mode())
		}
		return err
	})
	if err != nil || seen < 12 {
		t.Errorf("%d looked at, %v", seen, err)
	}
}

// Who speaks plain http to the port of https is told so and sent nowhere; nothing of the request is answered.
func TestPlainHTTPOnTheSecurePort(t *testing.T) {
	l, err := cert.OpenLocal(t.TempDir(), cert.HostsOf("bench", nil, ""), time.Now, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	port, err := listen("127.0.0.1:0", http.HandlerFunc(func(http.ResponseWriter, *http.Request) { t.Error("answered over plain http") }), l.Config(), quiet)
	if err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- port.run() }()
	client := http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	answer, err := client.Get("http://" + port.port.Addr().String() + "/api/hello")
	if err != nil {
		t.Fatal(err)
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err != nil || answer.StatusCode != http.StatusBadRequest || answer.Header.Get("Location") != "" || strings.Contains(string(body), "installation") {
		t.Errorf("%d %v %q %v", answer.StatusCode, answer.Header, body, err)
	}
	if err := port.server.Close(); err != nil || <-ended != nil {
		t.Error(err)
	}
}
