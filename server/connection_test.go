package main

import (
	"bytes"
	"context"
	"crypto/rand"
	"crypto/tls"
	"crypto/x509"
	"errors"
	"io"
	"log/slog"
	"math/big"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"jointwalk/server/cert"
	"jointwalk/server/web"
)

var now = time.Date(2026, 3, 1, 8, 0, 0, 0, time.UTC)

// standing is a source in a state of the test's choice.
type standing struct{ state cert.State }

func (s *standing) Config() *tls.Config { return nil }
func (s *standing) State() cert.State   { return s.state }

// lasting is a certificate of ninety days with so many left.
func lasting(days int) *x509.Certificate {
	return &x509.Certificate{SerialNumber: big.NewInt(int64(days)), NotBefore: now.AddDate(0, 0, days-90), NotAfter: now.AddDate(0, 0, days)}
}

func TestTheLogWarnsOnceADay(t *testing.T) {
	var log bytes.Buffer
	s := &standing{cert.State{Leaf: lasting(22)}}
	at := now
	g := &certGuard{source: s, now: func() time.Time { return at }, log: slog.New(slog.NewTextHandler(&log, nil)), told: map[string]told{}}
	days := func(n int) string {
		log.Reset()
		for range n * 24 {
			g.look()
			at = at.Add(time.Hour)
		}
		return log.String()
	}
	if text := days(1); text != "" {
		t.Errorf("at 22 days: %s", text)
	}
	if text := days(2); strings.Count(text, "level=WARN") != 2 || !strings.Contains(text, "days=21") || !strings.Contains(text, "days=20") {
		t.Errorf("at 21 and 20 days: %s", text)
	}
	s.state = cert.State{Leaf: lasting(80), Authority: lasting(7)}
	if text := days(1); strings.Count(text, "level=WARN") != 1 || !strings.Contains(text, "authority") {
		t.Errorf("renewed, with the authority at its end: %s", text)
	}
	s.state = cert.State{Leaf: lasting(80), Trouble: errors.New("half a key")}
	if text := days(1); strings.Count(text, "level=WARN") != 1 || !strings.Contains(text, "half a key") || !strings.Contains(text, "stays") {
		t.Errorf("trouble: %s", text)
	}
	s.state = cert.State{Trouble: errors.New("refused")}
	if text := days(1); strings.Count(text, "level=WARN") != 1 || !strings.Contains(text, "refused") || !strings.Contains(text, "cannot come in") {
		t.Errorf("none: %s", text)
	}
}

// What the log warns of, supervisors and whoever watches the server are told too.
func TestConnectionIsTold(t *testing.T) {
	r := begin(t, t.TempDir())
	defer r.end()
	ana := r.setUp(false)
	health := func() string { return r.call(200, "GET", "/healthz", nil, "").Body.String() }
	upkeep := func() *web.Connection {
		return into[web.Upkeep](t, r.call(200, "GET", "/api/upkeep", ana, "")).Connection
	}
	if health() != "ok\n" || upkeep() != nil {
		t.Errorf("plain http: %s", health())
	}
	s := &standing{cert.State{Leaf: lasting(21), Authority: lasting(3000)}}
	r.h.source, r.h.options.https, r.h.now = s, "local", func() time.Time { return now }
	if text := health(); text != "ok\ncertificate: 21 days left\nauthority: 3000 days left\n" {
		t.Errorf("%q", text)
	}
	if c := upkeep(); c.Way != "local" || c.Trouble || c.Certificate.Days != 21 || c.Certificate.Warning != web.Soon || c.Authority.Warning != web.Fine ||
		!c.Certificate.Ends.Equal(now.AddDate(0, 0, 21)) {
		t.Errorf("%+v", c)
	}
	s.state = cert.State{Leaf: lasting(7), Trouble: errors.New("half a key")}
	if text := health(); text != "ok\ncertificate: 7 days left\ntrouble: no newer certificate can be had; the log says why\n" {
		t.Errorf("%q", text)
	}
	if c := upkeep(); !c.Trouble || c.Certificate.Warning != web.Urgent || c.Authority != nil {
		t.Errorf("%+v", c)
	}
	s.state = cert.State{Leaf: lasting(-1)}
	if c := upkeep(); c.Certificate.Warning != web.Ended {
		t.Errorf("%+v", c)
	}
	s.state = cert.State{}
	if c := upkeep(); c.Certificate != nil || health() != "ok\ncertificate: none yet\n" {
		t.Errorf("%+v %q", c, health())
	}
}

// opened serves what options say, with an app that answers to anything, and gives the addresses.
func opened(t *testing.T, o options, source cert.Source) []string {
	t.Helper()
	app := http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) { _, _ = io.WriteString(w, "app for "+r.RemoteAddr) })
	all, err := o.open(app, source, quiet)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan error, 1)
	go func() { ended <- serve(ctx, all, func() {}) }()
	t.Cleanup(func() {
		if stop(); <-ended != nil {
			t.Error("did not end well")
		}
	})
	var addresses []string
	for _, l := range all {
		addresses = append(addresses, l.port.Addr().String())
	}
	return addresses
}

func fetch(t *testing.T, address, forwarded string) (int, string) {
	t.Helper()
	r, err := http.NewRequest("GET", address, nil)
	if err != nil {
		t.Fatal(err)
	}
	r.Header.Set("X-Forwarded-For", forwarded)
	resp, err := http.DefaultClient.Do(r)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	body, err := io.ReadAll(resp.Body)
	if err != nil {
		t.Fatal(err)
	}
	return resp.StatusCode, string(body)
}

// The plain port beside the own authority's https serves how to trust it, and nothing of the app.
func TestThePlainPortServesTrustAlone(t *testing.T) {
	o := options{https: "local", listen: "127.0.0.1:0", trust: "127.0.0.1:0", public: "https://localhost:8080"}
	local, err := cert.OpenLocal(filepath.Join(t.TempDir(), localFolder), cert.HostsOf("bench", nil, ""), time.Now, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	plain := "http://" + opened(t, o, local)[1]
	for path, want := range map[string]int{"/trust": 200, "/trust.css": 200, "/trust/jointwalk.crt": 200, "/": 404, "/healthz": 404, "/api/hello": 404,
		"/api/openapi.json": 404, "/schema/event.json": 404, "/index.html": 404, "/sw.js": 404, "/t/0000000000A": 404, "/.well-known/acme-challenge/x": 404} {
		if got, body := fetch(t, plain+path, ""); got != want || strings.Contains(body, "app for") {
			t.Errorf("%s: %d %.60s", path, got, body)
		}
	}
}

func TestANamedProxyIsBelieved(t *testing.T) {
	o, err := readOptions(strings.Fields("--listen 127.0.0.1:0 --url https://leaks.test --proxy 127.0.0.1"), "bench", io.Discard)
	if err != nil || !o.secure() {
		t.Fatal(err)
	}
	if _, body := fetch(t, "http://"+opened(t, o, nil)[0], "203.0.113.1, 198.51.100.7"); body != "app for 198.51.100.7" {
		t.Error(body)
	}
	o.proxies = nil
	if _, body := fetch(t, "http://"+opened(t, o, nil)[0], "198.51.100.7"); !strings.HasPrefix(body, "app for 127.0.0.1:") {
		t.Error(body)
	}
}

// Behind a proxy that makes https of it, sessions are the secure ones.
func TestCookiesBehindAProxy(t *testing.T) {
	data := t.TempDir()
	o, err := readOptions([]string{"--data", data, "--url", "https://leaks.test", "--proxy", "127.0.0.1"}, "bench", io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	h, err := openHouse(o, time.Now, rand.Reader, quiet)
	if err != nil {
		t.Fatal(err)
	}
	app, err := web.New(h.parts())
	if err != nil {
		t.Fatal(err)
	}
	r := &running{t, h, app}
	defer r.end()
	_, code, _ := strings.Cut(h.setupLink(), "https://leaks.test/setup#")
	w := r.call(200, "POST", "/api/setup", nil, `{"code":"`+code+`","name":"Ana","device":"desk"}`, "Origin", "https://leaks.test")
	if c := w.Result().Cookies()[0]; !strings.HasPrefix(c.Name, "__Host-") || !c.Secure || !c.HttpOnly || c.SameSite != http.SameSiteStrictMode {
		t.Errorf("%+v", c)
	}
	if got := r.call(200, "GET", "/", nil, "").Header().Get("Strict-Transport-Security"); got == "" {
		t.Error("no word that only https is meant")
	}
}

// What an authority elsewhere has issued is no part of a copy; the own authority is.
func TestACMEKeysAreNotCopied(t *testing.T) {
	data, into := t.TempDir(), t.TempDir()
	begin(t, data).end()
	for _, folder := range []string{localFolder, acmeFolder} {
		if err := errors.Join(os.Mkdir(filepath.Join(data, folder), 0o700), os.WriteFile(filepath.Join(data, folder, "key"), []byte("secret"), 0o600)); err != nil {
			t.Fatal(err)
		}
	}
	var said bytes.Buffer
	if code := start(context.Background(), []string{"backup", "--data", data, into}, greeting{out: &said}, &said); code != 0 {
		t.Fatal(&said)
	}
	for folder, want := range map[string]int{localFolder: 1, acmeFolder: 0} {
		if found, _ := filepath.Glob(filepath.Join(into, "*", folder, "key")); len(found) != want {
			t.Errorf("%s: %v", folder, found)
		}
	}
}

func TestACMEForALocalNameIsRefused(t *testing.T) {
	for _, host := range []string{"localhost", "192.168.7.20", "bench-pc.local", "bench-pc"} {
		o, err := readOptions([]string{"--data", t.TempDir(), "--https=acme", "--url", "https://" + host}, "bench", io.Discard)
		if err != nil {
			t.Fatal(err)
		}
		if s, err := o.source(); s != nil || err == nil || !strings.Contains(err.Error(), "--https=local") {
			t.Errorf("%s: %v %v", host, s, err)
		}
	}
}
