package web

import (
	"context"
	"errors"
	"net/http"
	"strings"
	"testing"
)

func TestHello(t *testing.T) {
	b := newBench(t, func(p *Parts) { p.Trust = "http://bench:8081/trust" })
	h := into[Hello](t, b.call("GET", "/api/hello", "", ""), 200)
	if h.Version != "test" || h.Installation != installation || h.NeedsSetup || h.Me != nil || !h.Now.Equal(day) || h.Secure || h.Trust != "http://bench:8081/trust" {
		t.Errorf("%+v", h)
	}
	if body := b.call("GET", "/api/hello", "", "").Body.String(); !strings.Contains(body, `"me":null`) {
		t.Error("me must be there, as null: " + body)
	}
	h = into[Hello](t, b.call("GET", "/api/hello", "tom", ""), 200)
	if h.Me == nil || h.Me.Person.ID != "p-tom" {
		t.Errorf("%+v", h.Me)
	}
}

func TestMeHoldsOwnSitesOnly(t *testing.T) {
	b := newBench(t)
	me := into[Me](t, b.call("GET", "/api/me", "tom", ""), 200)
	if len(me.Sites) != 1 || me.Sites[0].ID != siteA || len(me.People) != 3 || me.Device.Name != "phone of Tom" || me.Installation != installation {
		t.Errorf("%+v", me)
	}
	if me := into[Me](t, b.call("GET", "/api/me", "sue", ""), 200); len(me.Sites) != 2 {
		t.Errorf("%+v", me.Sites)
	}
}

func TestSetup(t *testing.T) {
	loaded := 0
	b := newBench(t, func(p *Parts) {
		p.Example = func(_ context.Context, v Visit) error {
			loaded++
			return errors.New("no room")
		}
	})
	good := `{"code":"right","name":"Ana","device":"desk","example":true}`
	wants(t, b.call("POST", "/api/setup", "", good), 409, "setup-done")
	b.gate.people = nil
	wants(t, b.call("POST", "/api/setup", "", `{"code":"wrong","name":"Ana","device":"desk"}`), 403, "setup-code")
	w := b.call("POST", "/api/setup", "", good)
	me := into[Me](t, w, 200)
	if me.Person.Name != "Ana" || loaded != 1 {
		t.Errorf("%+v, example %d", me, loaded)
	}
	cookie := w.Result().Cookies()[0]
	if cookie.Name != "jointwalk" || cookie.Value != "t-p-1" || !cookie.HttpOnly || cookie.SameSite != http.SameSiteStrictMode || cookie.Path != "/" || cookie.Secure {
		t.Errorf("%+v", cookie)
	}
	if into[Me](t, b.call("GET", "/api/me", cookie.Value, ""), 200).Person.ID != "p-1" {
		t.Error("the session does not hold")
	}
}

func TestPair(t *testing.T) {
	b := newBench(t, func(p *Parts) { p.HTTPS = true })
	w := b.call("POST", "/api/pair", "", `{"code":"good","device":"phone"}`)
	if me := into[Me](t, w, 200); me.Device.Name != "phone" {
		t.Errorf("%+v", me)
	}
	if c := w.Result().Cookies()[0]; c.Name != "__Host-jointwalk" || !c.Secure || c.Domain != "" || c.Path != "/" {
		t.Errorf("%+v", c)
	}
	wants(t, b.call("POST", "/api/pair", "", `{"code":"old","device":"phone"}`), 410, "invitation-expired")
	wants(t, b.call("POST", "/api/pair", "", `{"code":"used","device":"phone"}`), 410, "invitation-used")
	wants(t, b.call("POST", "/api/pair", "", `{"code":"bad","device":"phone"}`), 404, "invitation-unknown")
}

func TestLeave(t *testing.T) {
	b := newBench(t)
	w := b.call("POST", "/api/leave", "tom", "")
	if w.Code != 204 || w.Result().Cookies()[0].MaxAge >= 0 {
		t.Errorf("%d %v", w.Code, w.Header())
	}
	wants(t, b.call("GET", "/api/me", "tom", ""), 401, "no-session")
	if into[Hello](t, b.call("GET", "/api/hello", "tom", ""), 200).Me != nil {
		t.Error("an ended session must not hinder hello")
	}
}

func TestGarbageBodies(t *testing.T) {
	b := newBench(t)
	wants(t, b.call("POST", "/api/pair", "", `{"code":`), 400, "bad-request")
	wants(t, b.call("POST", "/api/pair", "", ``), 400, "bad-request")
	p := wants(t, b.call("POST", "/api/pair", "", `{"code":"hunter2","device":5}`), 422, "bad-input")
	if len(p.Fields) != 1 || p.Fields[0].Where != "body.device" || p.Field != "device" {
		t.Errorf("%+v", p.Fields)
	}
	w := b.call("POST", "/api/pair", "", `{"code":"`+strings.Repeat("hunter2", 20)+`","device":"x"}`)
	wants(t, w, 422, "bad-input")
	if strings.Contains(w.Body.String(), "hunter2") {
		t.Error("a refusal must not repeat what may be a secret")
	}
	wants(t, b.call("POST", "/api/pair", "", `{"code":"a","device":"x","admin":true}`), 422, "bad-input")
	wants(t, b.call("POST", "/api/pair", "", `{"code":"`+strings.Repeat("x", 20<<10)+`"}`), 413, "too-large")
	wants(t, b.call("POST", "/api/pair", "", `<a/>`, "Content-Type", "text/xml"), 415, "bad-type")
}

func TestGuessingIsSlowedDown(t *testing.T) {
	b := newBench(t)
	for range 20 {
		wants(t, b.call("POST", "/api/pair", "", `{"code":"bad","device":"phone"}`), 404, "invitation-unknown")
	}
	for _, path := range []string{"/api/pair", "/api/setup"} {
		w := b.call("POST", path, "", `{"code":"good","device":"phone","name":"x"}`)
		wants(t, w, 429, "too-many-tries")
		if w.Header().Get("Retry-After") != "3" {
			t.Errorf("%v", w.Header())
		}
	}
	if w := b.call("GET", "/api/me", "tom", ""); w.Code != 200 {
		t.Error("those inside must not be slowed down")
	}
}

// Whoever has an IPv6 network has as many addresses as tries: they count as one.
func TestTriesAreCountedByNetwork(t *testing.T) {
	for remote, want := range map[string]string{
		"192.0.2.7:999": "192.0.2.7", "192.0.2.7:1000": "192.0.2.7", "[::ffff:192.0.2.7]:1": "192.0.2.7", "[2001:db8:1:2:3:4:5:6]:9": "2001:db8:1:2::/64",
		"[2001:db8:1:2:ffff::1]:9": "2001:db8:1:2::/64", "[2001:db8:1:3::1]:9": "2001:db8:1:3::/64", "[fe80::1%eth0]:9": "fe80::/64", "@": "@",
	} {
		if got := networkOf(remote); got != want {
			t.Errorf("%s: %s, want %s", remote, got, want)
		}
	}
}
