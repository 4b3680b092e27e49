package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"jointwalk/server/web"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// Attacks on a whole server. What a part of it can show by itself stands with that part: each route and each kind of event by
// each duty at each site in web/rights_test.go, origins and types in web/origin_test.go, races for a code in people/hard_test.go.

// invited is a way in for somebody with these duties at a site.
func (r *running) invited(by *http.Cookie, name, duty, site string) web.Invited {
	r.t.Helper()
	return into[web.Invited](r.t, r.call(201, "POST", "/api/invitations", by, fmt.Sprintf(`{"name":%q,"grants":{%q:[%q]}}`, name, site, duty)))
}

// enter pairs a device.
func (r *running) enter(in web.Invited) (*http.Cookie, web.Me) {
	r.t.Helper()
	_, secret, _ := strings.Cut(in.Link, "#")
	w := r.call(200, "POST", "/api/pair", nil, `{"code":"`+secret+`","device":"phone"}`)
	return w.Result().Cookies()[0], into[web.Me](r.t, w)
}

// site adds one.
func (r *running) site(by *http.Cookie, name string) string {
	r.t.Helper()
	return into[web.Site](r.t, r.call(201, "POST", "/api/sites", by, `{"name":"`+name+`","zone":"UTC"}`)).ID
}

func code(t *testing.T, w *httptest.ResponseRecorder) string {
	t.Helper()
	return into[web.Problem](t, w).Code
}

// An invitation opens once, by whichever of its forms came first.
func TestAReplayedInvitationOpensNothing(t *testing.T) {
	r := begin(t, t.TempDir())
	defer r.end()
	ana := r.setUp(false)
	in := r.invited(ana, "Tom", "technician", "*")
	r.enter(in)
	_, secret, _ := strings.Cut(in.Link, "#")
	for _, again := range []string{secret, in.Code, strings.ToLower(in.Code)} {
		w := r.call(410, "POST", "/api/pair", nil, `{"code":"`+again+`","device":"thief"}`)
		if code(t, w) != "invitation-used" || len(w.Result().Cookies()) > 0 {
			t.Errorf("%s %v", w.Body, w.Header())
		}
	}
}

// Codes are guessed at once from many addresses: five tries and the invitation is shut, for the right code too. From one
// address, by one handle after the other, the address is slowed down.
func TestGuessedCodes(t *testing.T) {
	r := begin(t, t.TempDir())
	defer r.end()
	ana := r.setUp(false)
	in := r.invited(ana, "Tom", "technician", "*")
	_, secret, _ := strings.Cut(in.Link, "#")
	counts, all := map[string]int{}, sync.WaitGroup{}
	var mu sync.Mutex
	for i := range 100 {
		all.Go(func() {
			w := r.try("POST", "/api/pair", nil, fmt.Sprintf(`{"code":"%sUU%05d","device":"x"}`, secret[:3], i), "From-Address", fmt.Sprintf("10.1.%d.%d:999", i/10, i))
			mu.Lock()
			defer mu.Unlock()
			counts[code(t, w)]++
		})
	}
	all.Wait()
	if counts["invitation-unknown"] != 5 || counts["invitation-blocked"] != 95 {
		t.Errorf("%v", counts)
	}
	if w := r.call(429, "POST", "/api/pair", nil, `{"code":"`+secret+`","device":"phone"}`); code(t, w) != "invitation-blocked" {
		t.Error(w.Body)
	}
	counts = map[string]int{}
	for i := range 60 {
		w := r.try("POST", "/api/pair", nil, fmt.Sprintf(`{"code":"%03dUUUUUUU","device":"x"}`, i), "From-Address", fmt.Sprintf("10.2.0.1:%d", 1000+i))
		counts[code(t, w)]++
	}
	if counts["too-many-tries"] < 35 {
		t.Errorf("%v", counts)
	}
}

// What a page of somebody else's can send with a supervisor's cookie changes nothing.
func TestForgedRequestsChangeNothing(t *testing.T) {
	r := begin(t, t.TempDir())
	defer r.end()
	ana := r.setUp(false)
	tom, me := r.enter(r.invited(ana, "Tom", "technician", "*"))
	state := func() string {
		return r.call(200, "GET", "/api/people", ana, "").Body.String() + r.call(200, "GET", "/api/sites", ana, "").Body.String() + r.call(200, "GET", "/api/invitations", ana, "").Body.String()
	}
	before := state()
	for name, headers := range map[string][]string{
		"a form":                      {"X-Jointwalk", "", "Content-Type", "application/x-www-form-urlencoded", "Origin", "https://evil.example"},
		"a form that looks like JSON": {"X-Jointwalk", "", "Content-Type", "text/plain", "Origin", "null"},
		"a program's page":            {"Origin", "https://evil.example"},
		"another port":                {"Origin", "http://localhost:8081", "Sec-Fetch-Site", "same-site"},
		"no origin":                   {"Origin", ""},
		"ours in name only":           {"Sec-Fetch-Site", "cross-site"},
		"our page, as a form":         {"Content-Type", "application/x-www-form-urlencoded"},
		"our page, as text":           {"Content-Type", "text/plain"},
	} {
		for _, c := range [][3]string{
			{"POST", "/api/sites", `{"name":"Mine","zone":"UTC"}`}, {"POST", "/api/invitations", `{"name":"Eve","grants":{"*":["supervisor"]}}`},
			{"PATCH", "/api/people/" + me.Person.ID, `{"grants":{"*":["supervisor"]}}`}, {"POST", "/api/devices/" + me.Device.ID + "/revoke", `{}`}, {"POST", "/api/leave", `{}`},
		} {
			if w := r.try(c[0], c[1], ana, c[2], headers...); w.Code != 403 && w.Code != 415 {
				t.Errorf("%s: %v: %d %s", name, c, w.Code, w.Body)
			}
		}
	}
	if after := state(); after != before {
		t.Errorf("%s\n%s", before, after)
	}
	r.call(200, "GET", "/api/me", tom, "")
}

// draftOf is an event of somebody's, at a site.
func draftOf(n int, by, site string) journal.Draft {
	return journal.Draft{ID: fmt.Sprintf("018f0000-0000-7000-8000-0000000001%02x", n), Time: "2026-03-01T08:00:00.000Z", Zone: "UTC", By: by,
		About: journal.About{Site: site, Fixture: "018f0000-0000-7000-8000-0000000000f7"}, Kind: string(record.FixtureRegistered), Body: record.RegisteredBody{Name: "Valve 7", Tag: "0123456789R"}}
}

// logOf is a log of that name with events.
func logOf(t *testing.T, name string, drafts ...journal.Draft) string {
	t.Helper()
	log, err := journal.OpenLog(&journal.Memory{}, name)
	if err != nil {
		t.Fatal(err)
	}
	lines, err := log.Append(drafts)
	if err != nil {
		t.Fatal(err)
	}
	body := ""
	for _, line := range lines {
		body += string(line) + "\n"
	}
	return body
}

// A technician writes in the name of a supervisor, in the log of the supervisor's device, at another site, and for a site
// that is none: all is set aside, nothing is shown to anybody.
func TestForgedEventsAreSetAside(t *testing.T) {
	r := begin(t, t.TempDir())
	defer r.end()
	ana := r.setUp(false)
	north, south := r.site(ana, "North plant"), r.site(ana, "South plant")
	chief := into[web.Me](t, r.call(200, "GET", "/api/me", ana, ""))
	tom, me := r.enter(r.invited(ana, "Tom", "technician", north))
	const hers, his = "018f0000-0000-7000-8000-0000000000a1", "018f0000-0000-7000-8000-0000000000a2"
	greet := `{"speaks":2,"log":"%s","clock":"2026-03-01T08:00:00.000Z"}`
	r.call(200, "POST", "/api/meet", ana, fmt.Sprintf(greet, hers))
	r.call(200, "POST", "/api/meet", tom, fmt.Sprintf(greet, his))
	forged := logOf(t, his, draftOf(1, chief.Person.ID, north), draftOf(2, me.Person.ID, south), draftOf(3, me.Person.ID, north), draftOf(4, chief.Person.ID, "none")) + logOf(t, hers, draftOf(5, me.Person.ID, north))
	answer := into[exchange.Answer](t, r.call(200, "POST", "/api/push", tom, forged))
	want := []string{exchange.CodeNotYours, exchange.CodeWrongSite, "not-allowed", exchange.CodeNotYours, exchange.CodeNotYours}
	for i, v := range answer.Answers {
		if v.Is != exchange.Aside || v.Code != want[i] {
			t.Errorf("%d: %+v, want %s", i, v, want[i])
		}
	}
	if home := mustJSON(t, r.home(ana)); len(answer.Answers) != len(want) || strings.Contains(home, "Valve 7") {
		t.Errorf("%s", home)
	}
	other := `{"speaks":2,"log":"` + hers + `","clock":"2026-03-01T08:00:00.000Z"}` // he tells that her log is his device's
	r.call(200, "POST", "/api/meet", tom, other)
	again := into[exchange.Answer](t, r.call(200, "POST", "/api/push", ana, logOf(t, hers, draftOf(6, chief.Person.ID, north))))
	if again.Answers[0].Code == exchange.CodeNotYours {
		t.Error("somebody took her log from her by telling of it")
	}
}

// A device that was shut out gets nothing on any route of the description from the next request on, but to hand in what it
// holds; that is set aside.
func TestARevokedDeviceGetsNothing(t *testing.T) {
	r := begin(t, t.TempDir())
	defer r.end()
	ana := r.setUp(true)
	tom, me := r.enter(r.invited(ana, "Tom", "supervisor", "*"))
	r.call(200, "GET", "/api/me", tom, "")
	r.call(204, "POST", "/api/devices/"+me.Device.ID+"/revoke", ana, "")
	var api struct {
		Paths map[string]map[string]json.RawMessage
	}
	if err := json.Unmarshal(r.call(200, "GET", "/api/openapi.json", nil, "").Body.Bytes(), &api); err != nil {
		t.Fatal(err)
	}
	tried := 0
	for path, methods := range api.Paths {
		for method := range methods {
			switch path {
			case "/api/hello", "/api/setup", "/api/pair", exchange.PathPush:
				continue
			}
			tried++
			filled := strings.NewReplacer("{hash}", strings.Repeat("a", 64), "{id}", me.Device.ID).Replace(path)
			w := r.try(strings.ToUpper(method), filled, tom, "")
			if w.Code != 403 || method != "head" && code(t, w) != exchange.CodeRevoked {
				t.Errorf("%s %s: %d %s", method, path, w.Code, w.Body)
			}
		}
	}
	if tried < 60 {
		t.Errorf("only %d routes", tried)
	}
	if hello := r.call(200, "GET", "/api/hello", tom, "").Body.String(); !strings.Contains(hello, `"me":null`) {
		t.Error(hello)
	}
	answer := into[exchange.Answer](t, r.call(200, "POST", "/api/push", tom, logOf(t, "018f0000-0000-7000-8000-0000000000a9", draftOf(1, me.Person.ID, "x"))))
	if answer.Answers[0].Is != exchange.Aside {
		t.Errorf("%+v", answer)
	}
}

// Script in names is kept as the text that it is, and goes out as data that no browser takes for a page.
func TestScriptInNamesStaysText(t *testing.T) {
	r := begin(t, t.TempDir())
	defer r.end()
	ana := r.setUp(false)
	const evil = `"><img src=x onerror=alert(1)>`
	told := mustJSON(t, evil)
	site := into[web.Site](t, r.call(201, "POST", "/api/sites", ana, `{"name":`+told+`,"place":`+told+`,"zone":"UTC"}`))
	in := into[web.Invited](t, r.call(201, "POST", "/api/invitations", ana, `{"name":`+told+`,"grants":{"`+site.ID+`":["technician"]}}`))
	_, secret, _ := strings.Cut(in.Link, "#")
	r.call(200, "POST", "/api/pair", nil, `{"code":"`+secret+`","device":`+told+`}`)
	if site.Name != evil || strings.Contains(in.QR, "onerror") {
		t.Errorf("%+v %s", site, in.QR)
	}
	for _, path := range []string{"/api/people", "/api/sites", "/api/upkeep", "/api/me"} {
		w := r.call(200, "GET", path, ana, "")
		h := w.Header()
		if !strings.HasPrefix(h.Get("Content-Type"), "application/json") || h.Get("X-Content-Type-Options") != "nosniff" || !strings.HasPrefix(h.Get("Content-Security-Policy"), "default-src 'none'") {
			t.Errorf("%s: %v", path, h)
		}
		var all any
		if err := json.Unmarshal(w.Body.Bytes(), &all); err != nil || !strings.Contains(fmt.Sprint(all), evil) {
			t.Errorf("%s: %s", path, w.Body)
		}
	}
}

// A copy put back elsewhere lets the same sessions in: phones must be able to hand in what it lacks. So a device that was shut
// out after it was made is let in again, and who restores is told. Nothing in the copy is a token or a code.
func TestARestoredCopyHasTheSessionsOfItsTime(t *testing.T) {
	data, into, other := t.TempDir(), filepath.Join(t.TempDir(), "copies"), filepath.Join(t.TempDir(), "other")
	r, ana := lit(t, data)
	in := r.invited(ana, "Tom", "technician", "*")
	tom, me := r.enter(in)
	waiting := r.invited(ana, "Eve", "supervisor", "*")
	path := copyIn(t, says(t, 0, "backup", "--data", data, into))
	r.call(204, "POST", "/api/devices/"+me.Device.ID+"/revoke", ana, "")
	r.end()
	for _, secret := range []string{tom.Value, ana.Value, waiting.Code, strings.ReplaceAll(waiting.Code, "-", ""), waiting.Link[strings.Index(waiting.Link, "#")+1:]} {
		if found := holding(t, path, secret); found != "" {
			t.Errorf("a secret stands in %s", found)
		}
	}
	if said := says(t, 0, "restore", path, "--data", other); !strings.Contains(said, "Sessions are those of the copy") {
		t.Error(said)
	}
	r = begin(t, other)
	defer r.end()
	r.call(200, "GET", "/api/me", tom, "")
	r.call(204, "POST", "/api/devices/"+me.Device.ID+"/revoke", ana, "")
	r.call(403, "GET", "/api/me", tom, "")
}

// What happened is in the log with its request's id and the ids of people and devices, and no secret, name or body, at any level.
func TestTheLogHoldsNoSecrets(t *testing.T) {
	var log bytes.Buffer
	r := beginLogged(t, t.TempDir(), slog.New(slog.NewTextHandler(&log, &slog.HandlerOptions{Level: slog.LevelDebug})))
	defer r.end()
	setup := r.h.setupLink()[strings.Index(r.h.setupLink(), "#")+1:]
	ana := r.setUp(true)
	site := r.site(ana, "Secret plant")
	in := r.invited(ana, "Tom Secretname", "technician", site)
	tom, me := r.enter(in)
	line, _ := registered(t, me, site)
	r.call(200, "POST", "/api/push", tom, line+"\n")
	r.call(403, "GET", "/api/pull?site=secretsite&cursor=secretcursor", tom, "")
	r.call(200, "POST", "/api/ask/tag", tom, `{"text":"secrettext"}`)
	r.call(422, "POST", "/api/sites", ana, `{"name":"secretbody","zone":"secretzone"}`)
	r.call(400, "POST", "/api/pair", nil, `{"code":"secretcode`)
	r.try("POST", "/api/pair", nil, `{"code":"SECRETCODE","device":"secretdevice"}`)
	r.call(403, "POST", "/api/leave", tom, "", "Origin", "https://secretorigin.example")
	r.call(415, "PATCH", "/api/pictures/"+strings.Repeat("a", 64)+"?offset=0&size=20", tom, "secretpicturebytes..")
	r.call(204, "POST", "/api/leave", tom, "")
	told := log.String()
	if strings.Count(told, "request=") < 12 || !strings.Contains(told, "route=/api/push") {
		t.Fatalf("little is logged:\n%s", told)
	}
	secrets := []string{setup, ana.Value, tom.Value, in.Code, in.Link, in.Link[strings.Index(in.Link, "#")+1:], "Valve 3", "secret", "Ana", "Tom", "jointwalk="}
	for _, secret := range secrets {
		if i := strings.Index(strings.ToLower(told), strings.ToLower(secret)); i >= 0 {
			t.Errorf("%q stands in the log: …%s", secret, told[max(0, i-100):min(len(told), i+60)])
		}
	}
}

// holding is a file in a folder that holds a text; "" for none.
func holding(t *testing.T, folder, text string) (found string) {
	t.Helper()
	err := filepath.WalkDir(folder, func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		content, err := os.ReadFile(path)
		if bytes.Contains(content, []byte(text)) {
			found = path
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}
