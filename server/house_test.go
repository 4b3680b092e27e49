package main

import (
	"bytes"
	"crypto/rand"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"image"
	"image/png"
	"io"
	"log/slog"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"jointwalk/server/web"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

// running is a whole server over a data folder, without its ports.
type running struct {
	t   *testing.T
	h   *house
	app *web.Server
}

func begin(t *testing.T, data string) *running { return beginLogged(t, data, quiet) }

// beginLogged is begin with a log to look into.
func beginLogged(t *testing.T, data string, log *slog.Logger) *running {
	t.Helper()
	o, err := readOptions([]string{"--data", data}, "bench", io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	h, err := openHouse(o, time.Now, rand.Reader, log)
	if err != nil {
		t.Fatal(err)
	}
	app, err := web.New(h.parts())
	if err != nil {
		t.Fatal(err)
	}
	return &running{t, h, app}
}

func (r *running) end() {
	r.t.Helper()
	if err := r.h.close(); err != nil {
		r.t.Error(err)
	}
}

// call sends a request with a session's cookie (nil for nobody) and wants a status.
func (r *running) call(status int, method, path string, cookie *http.Cookie, body string, headers ...string) *httptest.ResponseRecorder {
	r.t.Helper()
	w := r.try(method, path, cookie, body, headers...)
	if w.Code != status {
		r.t.Fatalf("%s %s: %d %s, want %d", method, path, w.Code, w.Body, status)
	}
	return w
}

// try sends a request with a session's cookie (nil for nobody), as a page of ours would but for these headers.
func (r *running) try(method, path string, cookie *http.Cookie, body string, headers ...string) *httptest.ResponseRecorder {
	req := httptest.NewRequest(method, path, strings.NewReader(body))
	req.Host = "localhost:8080"
	req.Header.Set("Origin", "http://localhost:8080")
	req.Header.Set("X-Jointwalk", "1")
	req.Header.Set("Content-Type", kindOf(path))
	if cookie != nil {
		req.AddCookie(cookie)
	}
	for i := 0; i+1 < len(headers); i += 2 {
		req.Header.Set(headers[i], headers[i+1])
	}
	if from := req.Header.Get("From-Address"); from != "" {
		req.RemoteAddr = from
	}
	w := httptest.NewRecorder()
	r.app.ServeHTTP(w, req)
	return w
}

// kindOf is the content type of a route's body.
func kindOf(path string) string {
	switch {
	case slices.Contains([]string{"/api/push", "/api/fill", "/api/import"}, path):
		return "application/x-ndjson"
	case strings.HasPrefix(path, "/api/pictures/"):
		return "application/octet-stream"
	}
	return "application/json"
}

func into[T any](t *testing.T, w *httptest.ResponseRecorder) (v T) {
	t.Helper()
	if err := json.Unmarshal(w.Body.Bytes(), &v); err != nil {
		t.Fatalf("%v in %s", err, w.Body)
	}
	return v
}

// setUp makes the first person by the setup link.
func (r *running) setUp(example bool) *http.Cookie {
	r.t.Helper()
	_, code, found := strings.Cut(r.h.setupLink(), "http://localhost:8080/setup#")
	if !found {
		r.t.Fatalf("setup link %q", r.h.setupLink())
	}
	body, err := json.Marshal(map[string]any{"code": code, "name": "Ana", "device": "desk", "example": example})
	if err != nil {
		r.t.Fatal(err)
	}
	return r.call(200, "POST", "/api/setup", nil, string(body)).Result().Cookies()[0]
}

func (r *running) home(cookie *http.Cookie) summary.Home {
	r.t.Helper()
	return into[summary.Home](r.t, r.call(200, "POST", "/api/ask/home", cookie, "{}"))
}

// The first person loads the example, prints a tag, and finds it all again after a restart.
func TestSetupExampleLabelRestart(t *testing.T) {
	data := t.TempDir()
	r := begin(t, data)
	ana := r.setUp(true)
	before := r.home(ana)
	if len(before.Sites) != 1 || len(before.Sites[0].Fixtures) != 3 {
		t.Fatalf("%+v", before)
	}
	fixture := before.Sites[0].Fixtures[0]
	pdf := r.call(200, "GET", "/api/fixtures/"+fixture.ID+"/label.pdf", ana, "")
	if !strings.HasPrefix(pdf.Body.String(), "%PDF-") {
		t.Errorf("%.20q", pdf.Body)
	}
	r.call(422, "GET", "/api/fixtures/"+fixture.ID+"/label.pdf?size=9x9", ana, "")
	r.end()

	r = begin(t, data)
	defer r.end()
	if link := r.h.setupLink(); link != "" {
		t.Errorf("a setup link for a second first person: %q", link)
	}
	after := r.home(ana)
	if a, b := mustJSON(t, before), mustJSON(t, after); a != b {
		t.Errorf("after the restart:\n%s\n%s", a, b)
	}
}

func mustJSON(t *testing.T, v any) string {
	t.Helper()
	text, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// A technician is invited, pairs, hands in a fixture, and it is told, pulled and asked for.
func TestInvitedPhonePushes(t *testing.T) {
	r := begin(t, t.TempDir())
	defer r.end()
	ana := r.setUp(false)
	site := into[web.Site](t, r.call(201, "POST", "/api/sites", ana, `{"name":"North plant","zone":"Europe/Madrid"}`))
	other := into[web.Site](t, r.call(201, "POST", "/api/sites", ana, `{"name":"South plant","zone":"UTC"}`))
	invited := into[web.Invited](t, r.call(201, "POST", "/api/invitations", ana, `{"name":"Tom","grants":{"`+site.ID+`":["technician","supervisor"]}}`))
	_, secret, _ := strings.Cut(invited.Link, "/join#")
	w := r.call(200, "POST", "/api/pair", nil, `{"code":"`+secret+`","device":"phone"}`)
	tom, me := w.Result().Cookies()[0], into[web.Me](t, w)
	r.call(410, "POST", "/api/pair", nil, `{"code":"`+secret+`","device":"phone"}`)
	r.call(403, "GET", "/api/pull?site="+other.ID, tom, "")

	changes, cancel := r.h.parts().Watch.Subscribe(site.ID)
	defer cancel()
	line, fixture := registered(t, me, site.ID)
	r.call(200, "POST", "/api/meet", tom, `{"speaks":2,"log":"018f0000-0000-7000-8000-0000000000c1","clock":"2026-03-01T08:00:00.000Z"}`)
	answer := into[exchange.Answer](t, r.call(200, "POST", "/api/push", tom, line+"\n"))
	if len(answer.Answers) != 1 || answer.Answers[0].Is != exchange.Applied {
		t.Fatalf("%+v", answer)
	}
	again := into[exchange.Answer](t, r.call(200, "POST", "/api/push", tom, line+"\n"))
	if again.Answers[0].Is != exchange.Duplicate {
		t.Errorf("%+v", again)
	}
	select {
	case c := <-changes:
		if c != (web.Changed{Site: site.ID, N: 1}) {
			t.Errorf("%+v", c)
		}
	case <-time.After(5 * time.Second):
		t.Error("nobody was told")
	}
	if pulled := r.call(200, "GET", "/api/pull?site="+site.ID, ana, ""); !strings.HasPrefix(pulled.Body.String(), line+"\n") {
		t.Errorf("%s", pulled.Body)
	}
	if f := into[summary.Fixture](t, r.call(200, "POST", "/api/ask/fixture", ana, `{"id":"`+fixture+`"}`)); f.Made.Name != "Tom" || f.SiteName != "North plant" {
		t.Errorf("%+v", f)
	}
}

// registered is the line of a fixture that a paired phone registers.
func registered(t *testing.T, me web.Me, site string) (line, fixture string) {
	t.Helper()
	return registeredIn(t, me, site, "018f0000-0000-7000-8000-0000000000c1")
}

// registeredIn is that of a log of its own.
func registeredIn(t *testing.T, me web.Me, site, name string) (line, fixture string) {
	t.Helper()
	tag, err := record.MintTag(rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	log, err := journal.OpenLog(&journal.Memory{}, name)
	if err != nil {
		t.Fatal(err)
	}
	fixture = record.FixtureID(me.Installation, tag)
	lines, err := log.Append([]journal.Draft{{ID: "018f0000-0000-7000-8000-0000000000e1", Time: "2026-03-01T08:00:00.000Z", Zone: "UTC", By: me.Person.ID,
		About: journal.About{Site: site, Fixture: fixture}, Kind: string(record.FixtureRegistered), Body: record.RegisteredBody{Name: "Valve 3", Tag: tag}}})
	if err != nil {
		t.Fatal(err)
	}
	return string(lines[0]), fixture
}

// taken registers a fixture at a site of the caller, made where there is none, with a picture taken there.
func (r *running) taken(t *testing.T, cookie *http.Cookie, hash string) {
	t.Helper()
	r.call(201, "POST", "/api/sites", cookie, `{"name":"Hall of pictures","zone":"UTC"}`)
	me := into[web.Me](t, r.call(200, "GET", "/api/me", cookie, ""))
	site := me.Sites[len(me.Sites)-1].ID
	log, err := journal.OpenLog(&journal.Memory{}, "018f0000-0000-7000-8000-0000000000c7")
	if err != nil {
		t.Fatal(err)
	}
	draft := func(id string, kind record.Kind, body any) journal.Draft {
		return journal.Draft{ID: id, Time: "2026-03-01T08:00:00.000Z", Zone: "UTC", By: me.Person.ID,
			About: journal.About{Site: site, Fixture: "018f0000-0000-7000-8000-0000000000f7"}, Kind: string(kind), Body: body}
	}
	lines, err := log.Append([]journal.Draft{
		draft("018f0000-0000-7000-8000-0000000000e7", record.FixtureRegistered, record.RegisteredBody{Name: "Valve 7", Tag: "0123456789R"}),
		draft("018f0000-0000-7000-8000-0000000000e8", record.PictureAdded, record.Picture{Hash: hash, Bytes: 12, Type: "image/png", Width: 4, Height: 3}),
	})
	if err != nil {
		t.Fatal(err)
	}
	r.call(200, "POST", "/api/meet", cookie, `{"speaks":2,"log":"018f0000-0000-7000-8000-0000000000c7","clock":"2026-03-01T08:00:00.000Z"}`)
	answer := into[exchange.Answer](t, r.call(200, "POST", "/api/push", cookie, string(lines[0])+"\n"+string(lines[1])+"\n"))
	for _, a := range answer.Answers {
		if a.Is != exchange.Applied {
			t.Fatalf("%+v", a)
		}
	}
}

// smallPNG is a picture of one white pixel.
var smallPNG = func() string {
	var out bytes.Buffer
	if err := png.Encode(&out, image.NewGray(image.Rect(0, 0, 1, 1))); err != nil {
		panic(err)
	}
	return out.String()
}()

// What is no picture from its first byte to its last is refused by either way in, and nothing of it stays: other files under
// the first bytes of one, with something behind their end, or broken off.
func TestOnlyWholePicturesAreKept(t *testing.T) {
	r := begin(t, t.TempDir())
	defer r.end()
	ana := r.setUp(false)
	for name, file := range map[string]string{
		"html": "\x89PNG\r\n\x1a\n<script>alert(1)</script>", "jpeg html": "\xff\xd8\xff\xe0<script>alert(1)</script>\xff\xd9", "svg": `<svg xmlns="http://www.w3.org/2000/svg" onload="alert(1)"/>`,
		"pdf": "%PDF-1.7 and so on", "zip behind": smallPNG + "PK\x05\x06", "broken off": smallPNG[:len(smallPNG)-1], "webp html": "RIFF\x10\x00\x00\x00WEBP<script>1",
	} {
		path := "/api/pictures/" + sha(file)
		row := fmt.Sprintf("{\"jointwalk\":\"unsent\",\"v\":1}\n{\"picture\":%q,\"data\":%q}\n", sha(file), base64.StdEncoding.EncodeToString([]byte(file)))
		w := r.call(415, "PATCH", fmt.Sprintf("%s?offset=0&size=%d", path, len(file)), ana, file)
		if !strings.Contains(w.Body.String(), exchange.CodeNotAPicture) {
			t.Errorf("%s: %s", name, w.Body)
		}
		if w := r.try("POST", "/api/import", ana, row); w.Code != 415 && w.Code != 422 {
			t.Errorf("%s in a file: %d %s", name, w.Code, w.Body)
		}
		if part := into[exchange.Part](t, r.call(200, "GET", path+"/part", ana, "")); part != (exchange.Part{}) {
			t.Errorf("%s: %+v", name, part)
		}
	}
}

func TestPicturesOnDisk(t *testing.T) {
	data := t.TempDir()
	r := begin(t, data)
	ana := r.setUp(false)
	png := smallPNG
	const hash = "0cbbf5ce5d1b6f2b0a51a27cb8b8e5d60b8c1b8e5d60b8c1b8e5d60b8c1b8e5d"
	put := func(status, from, to int, hash string) {
		r.call(status, "PATCH", fmt.Sprintf("/api/pictures/%s?offset=%d&size=%d", hash, from, len(png)), ana, png[from:to])
	}
	put(422, 0, len(png), hash)
	r.call(404, "GET", "/api/pictures/"+hash, ana, "")
	right := sha(png)
	put(200, 0, 9, right)
	r.end()
	r = begin(t, data)
	if part := into[exchange.Part](t, r.call(200, "GET", "/api/pictures/"+right+"/part", ana, "")); part != (exchange.Part{Have: 9}) {
		t.Errorf("after a restart %+v", part)
	}
	put(200, 9, len(png), right)
	put(200, 0, len(png), right)
	r.taken(t, ana, right)
	r.end()
	r = begin(t, data)
	defer r.end()
	if got := r.call(200, "GET", "/api/pictures/"+right, ana, ""); got.Body.String() != png || got.Header().Get("Content-Type") != "image/png" {
		t.Errorf("%q %v", got.Body, got.Header())
	}
}

// A picture that says where it was taken is refused whole, by either way in, and nothing of it stays.
func TestPicturesSayNoPlace(t *testing.T) {
	r := begin(t, t.TempDir())
	defer r.end()
	ana := r.setUp(false)
	// A PNG of nothing with an Exif chunk: a directory of one entry, the pointer to the place (CIPA DC-008, 4.6.3).
	placed := "\x89PNG\r\n\x1a\n\x00\x00\x00\x1aeXIfII*\x00\x08\x00\x00\x00\x01\x00\x25\x88\x04\x00\x01\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00\x00CRC."
	path := "/api/pictures/" + sha(placed)
	row := fmt.Sprintf("{\"jointwalk\":\"unsent\",\"v\":1}\n{\"picture\":%q,\"data\":%q}\n", sha(placed), base64.StdEncoding.EncodeToString([]byte(placed)))
	for range 2 {
		w := r.call(422, "PATCH", fmt.Sprintf("%s?offset=0&size=%d", path, len(placed)), ana, placed)
		file := r.call(422, "POST", "/api/import", ana, row)
		for _, body := range []string{w.Body.String(), file.Body.String()} {
			if !strings.Contains(body, exchange.CodeLocated) {
				t.Error(body)
			}
		}
		if part := into[exchange.Part](t, r.call(200, "GET", path+"/part", ana, "")); part != (exchange.Part{}) {
			t.Errorf("%+v", part)
		}
	}
}

// What can be wrong with the data folder is said in words that help.
func TestDataFolderTroubles(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if err := prepare(file); err == nil || !strings.Contains(err.Error(), "--data") {
		t.Errorf("a file: %v", err)
	}
	data := t.TempDir()
	r := begin(t, data)
	o, err := readOptions([]string{"--data", data}, "bench", io.Discard)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := openHouse(o, time.Now, rand.Reader, quiet); err == nil || !strings.Contains(err.Error(), "another") {
		t.Errorf("locked: %v", err)
	}
	r.end()
	for _, name := range storeFiles(t, data) {
		if err := os.WriteFile(name, []byte(strings.Repeat("no store at all ", 1000)), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := openHouse(o, time.Now, rand.Reader, quiet); err == nil || !strings.Contains(err.Error(), "damaged") {
		t.Errorf("damaged: %v", err)
	}
}

func storeFiles(t *testing.T, data string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(data, "*.db"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no store in %s: %v", data, err)
	}
	return files
}

func sha(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}
