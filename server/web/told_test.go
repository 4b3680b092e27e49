package web

import (
	"net/http"
	"strings"
	"testing"
)

// lines are those of the log that say a thing.
func (b *bench) lines(what string) (found []string) {
	for line := range strings.SplitSeq(b.log.String(), "\n") {
		if strings.Contains(line, "level=INFO msg="+what+" ") {
			found = append(found, line)
		}
	}
	return found
}

// Whatever is refused, by the router, the guard, the checks of what comes in or a part, stands in the log once: why, to whom,
// from where, under the request's id.
func TestRefusalsAreLogged(t *testing.T) {
	for _, c := range []struct{ method, path, as, body, code, person string }{
		{"GET", "/api/me", "", "", "no-session", ""},
		{"GET", "/api/me", "guessed", "", "no-session", ""},
		{"POST", "/api/sites", "tom", "{}", "not-allowed", "p-tom"},
		{"PATCH", "/api/sites/" + siteA, "!tom", "{}", "no-header", ""},
		{"GET", "/api/pull?site=" + siteB, "tom", "", "wrong-site", "p-tom"},
		{"POST", "/api/pair", "", `{"code":"bad","device":"phone"}`, "invitation-unknown", ""},
		{"POST", "/api/setup", "", `{"code":"bad","name":"x","device":"desk"}`, "setup-done", ""},
		{"POST", "/api/invitations", "sue", `{"name":"","duties":[],"sites":[]}`, "bad-input", "p-sue"},
		{"POST", "/api/invitations", "sue", strings.Repeat("x", 20<<10), "too-large", "p-sue"},
		{"GET", "/api/pictures/" + strings.Repeat("a", 64), "tom", "", "unknown-picture", "p-tom"},
		{"DELETE", "/api/sites", "sue", "", "no-such-method", "p-sue"},
	} {
		b := newBench(t)
		w := b.call(c.method, c.path, c.as, c.body)
		found := b.lines("refused")
		if len(found) != 1 {
			t.Errorf("%v: %d lines: %s", c, len(found), b.log)
			continue
		}
		for _, part := range []string{"route=", " code=" + c.code + " ", " from=192.0.2.1 ", "request=" + w.Header().Get(requestHeader)} {
			if !strings.Contains(found[0], part) {
				t.Errorf("%v: no %q in %s", c, part, found[0])
			}
		}
		if c.person != "" && !strings.Contains(found[0], " person="+c.person+" device=d-"+c.person+" ") {
			t.Errorf("%v: %s", c, found[0])
		}
	}
}

func TestTriesThatAreSlowedDownAreLogged(t *testing.T) {
	b := newBench(t)
	for range 22 {
		b.call("POST", "/api/pair", "", `{"code":"bad","device":"phone"}`)
	}
	if found := b.lines("refused"); len(found) != 22 || !strings.Contains(found[21], "code=too-many-tries") {
		t.Errorf("%s", b.log)
	}
}

func TestComingAndGoingIsLogged(t *testing.T) {
	b := newBench(t)
	b.call("POST", "/api/pair", "", `{"code":"good","device":"phone"}`)
	b.call("POST", "/api/leave", "tom", "")
	in, out := b.lines(`"came in"`), b.lines("left")
	if len(in) != 1 || !strings.Contains(in[0], "person=p-new device=d-p-new from=192.0.2.1") || len(out) != 1 || !strings.Contains(out[0], "person=p-tom device=d-p-tom") {
		t.Errorf("%s", b.log)
	}
	if len(b.lines("refused")) != 0 {
		t.Errorf("nothing was refused: %s", b.log)
	}
}

// A browser that takes an invitation while it has a session is given another one, and the old one ends with it.
func TestAnInvitationEndsTheSessionThatTakesIt(t *testing.T) {
	b := newBench(t)
	wants(t, b.call("POST", "/api/pair", "tom", `{"code":"bad","device":"phone"}`), 404, "invitation-unknown")
	if w := b.call("GET", "/api/me", "tom", ""); w.Code != http.StatusOK {
		t.Fatalf("a wrong code cost the session: %d", w.Code)
	}
	w := b.call("POST", "/api/pair", "tom", `{"code":"good","device":"phone"}`)
	fresh := w.Result().Cookies()[0].Value
	wants(t, b.call("GET", "/api/me", "tom", ""), 401, "no-session")
	if me := into[Me](t, b.call("GET", "/api/me", fresh, ""), 200); fresh == "tom" || me.Person.ID != "p-new" {
		t.Errorf("%q %+v", fresh, me)
	}
}

// Who begins or ends to use somebody's phone is logged with whose it is.
func TestSharingIsLogged(t *testing.T) {
	b := newBench(t)
	b.call("POST", "/api/mates", "tom", `{"code":"bad"}`)
	b.call("POST", "/api/mates", "tom", `{"code":"good"}`)
	b.call("POST", "/api/mates/p-new/leave", "tom", "")
	no, in, out := b.lines("refused"), b.lines("joined"), b.lines("parted")
	if len(no) != 1 || len(in) != 1 || len(out) != 1 || !strings.Contains(in[0]+out[0], " who=p-new person=p-tom device=d-p-tom ") {
		t.Errorf("%s", b.log)
	}
}
