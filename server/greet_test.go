package main

import (
	"bytes"
	"crypto/rand"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"jointwalk/server/cert"
)

func TestGreetingShowsLinksAsTextAndCode(t *testing.T) {
	var out bytes.Buffer
	g := greeting{out: &out}
	g.setup("http://localhost:8080/setup#CODE")
	if text := out.String(); !strings.Contains(text, "  http://localhost:8080/setup#CODE\n") || strings.Count(text, "█") < 50 {
		t.Errorf("%s", text)
	}
	out.Reset()
	g.setup("")
	if out.Len() > 0 {
		t.Errorf("somebody is here, yet: %s", &out)
	}
}

func TestGreetingForLocalHTTPS(t *testing.T) {
	var out bytes.Buffer
	g := greeting{out: &out}
	dir := t.TempDir()
	o, err := readOptions([]string{"--https=local", "--data", dir}, "bench", &out)
	if err != nil {
		t.Fatal(err)
	}
	open := func(public string) *cert.Local {
		l, err := cert.OpenLocal(filepath.Join(dir, "https"), cert.HostsOf("bench", nil, public), time.Now, rand.Reader)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	l := open(o.public)
	g.trust(o, l)
	text := out.String()
	for _, want := range []string{"http://bench:8081/trust", cert.Fingerprint(l.Authority()), "bench.local", "█"} {
		if !strings.Contains(text, want) {
			t.Errorf("%s is missing in %s", want, text)
		}
	}
	if strings.Contains(text, "NOT good") {
		t.Error(text)
	}
	g.trust(o, open("https://new.test"))
	if !strings.Contains(out.String(), "NOT good for: [new.test]") {
		t.Errorf("%s", &out)
	}
	out.Reset()
	g.start(o)
	plain := o
	plain.https, plain.public = "off", "http://localhost:8080"
	if strings.Contains(out.String(), "Plain http") {
		t.Errorf("%s", &out)
	}
	if g.start(plain); !strings.Contains(out.String(), "Plain http") {
		t.Errorf("%s", &out)
	}
}
