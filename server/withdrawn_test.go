package main

import (
	"context"
	"crypto/rand"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"jointwalk/server/copies"
	"jointwalk/server/web"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

const faceLog = "018f0000-0000-7000-8000-0000000000c8"

// face is a picture that its person takes and withdraws, as lines of one phone.
type face struct{ site, added, withdrawn string }

// faceOf writes both lines. Nothing of them is sent.
func (r *running) faceOf(t *testing.T, cookie *http.Cookie, content string) face {
	t.Helper()
	r.call(201, "POST", "/api/sites", cookie, `{"name":"Hall of faces","zone":"UTC"}`)
	me := into[web.Me](t, r.call(200, "GET", "/api/me", cookie, ""))
	f := face{site: me.Sites[len(me.Sites)-1].ID}
	log, err := journal.OpenLog(&journal.Memory{}, faceLog)
	if err != nil {
		t.Fatal(err)
	}
	draft := func(n int, kind record.Kind, base string, body any) journal.Draft {
		return journal.Draft{ID: faceEvent(n), Time: "2026-03-01T08:00:00.000Z", Zone: "UTC", By: me.Person.ID, Base: base,
			About: journal.About{Site: f.site, Fixture: "018f0000-0000-7000-8000-0000000000f8"}, Kind: string(kind), Body: body}
	}
	lines, err := log.Append([]journal.Draft{
		draft(1, record.FixtureRegistered, "", record.RegisteredBody{Name: "Valve 8", Tag: "0123456789R"}),
		draft(2, record.PictureAdded, "", record.Picture{Hash: sha(content), Bytes: len(content), Type: "image/png", Width: 4, Height: 3}),
		draft(3, record.Withdrawn, faceEvent(2), record.Reason{Why: "a face"}),
	})
	if err != nil {
		t.Fatal(err)
	}
	f.added, f.withdrawn = string(lines[0])+"\n"+string(lines[1])+"\n", string(lines[2])+"\n"
	r.call(200, "POST", exchange.PathMeet, cookie, `{"speaks":2,"log":"`+faceLog+`","clock":"2026-03-01T08:00:00.000Z"}`)
	return f
}

func faceEvent(n int) string { return fmt.Sprintf("018f0000-0000-7000-8000-0000000008%02d", n) }

func (r *running) pushes(t *testing.T, cookie *http.Cookie, lines string) {
	t.Helper()
	for _, a := range into[exchange.Answer](t, r.call(200, "POST", exchange.PathPush, cookie, lines)).Answers {
		if a.Is != exchange.Applied {
			t.Fatalf("%+v", a)
		}
	}
}

// onDisk says whether a picture's file is in a folder of pictures.
func onDisk(t *testing.T, folder, hash string) bool {
	t.Helper()
	_, err := os.Stat(filepath.Join(folder, copies.BlobsFolder, hash[:2], hash))
	if err != nil && !os.IsNotExist(err) {
		t.Fatal(err)
	}
	return err == nil
}

// A withdrawn picture leaves the disk and is refused with words. A copy from before brings its bytes back; they go once the
// withdrawal comes from a phone, and at a start where it stands in the store.
func TestAWithdrawnPictureLeavesTheDisk(t *testing.T) {
	data, put := t.TempDir(), filepath.Join(t.TempDir(), "put-back")
	content := smallPNG
	hash := sha(content)
	path := "/api/pictures/" + hash
	r := begin(t, data)
	ana := r.setUp(false)
	f := r.faceOf(t, ana, content)
	r.pushes(t, ana, f.added)
	r.call(200, "PATCH", fmt.Sprintf("%s?offset=0&size=%d", path, len(content)), ana, content)
	copied, err := copies.Make(context.Background(), r.h.copies.Source, filepath.Join(t.TempDir(), "copies"), time.Now())
	if err != nil {
		t.Fatal(err)
	}
	r.pushes(t, ana, f.withdrawn)
	if w := r.call(410, "GET", path, ana, ""); !strings.Contains(w.Body.String(), `"withdrawn"`) || onDisk(t, data, hash) {
		t.Errorf("%s, on disk: %v", w.Body, onDisk(t, data, hash))
	}
	r.call(410, "PATCH", fmt.Sprintf("%s?offset=0&size=%d", path, len(content)), ana, content)
	r.end()
	if !onDisk(t, copied.Path, hash) {
		t.Fatal("the copy lacks it")
	}
	if _, err := copies.Restore(context.Background(), copied.Path, put, source(put, nil, rand.Reader).Store); err != nil {
		t.Fatal(err)
	}
	r = begin(t, put)
	r.call(200, "GET", path, ana, "")
	r.pushes(t, ana, f.withdrawn)
	if r.call(410, "GET", path, ana, ""); onDisk(t, put, hash) {
		t.Error("it stays after the withdrawal came again")
	}
	r.end()
	copyBack(t, copied.Path, put, hash)
	r = begin(t, put)
	defer r.end()
	r.call(410, "GET", path, ana, "")
	ctx, leave := context.WithCancel(context.Background())
	leave()
	if <-r.h.tending(ctx); onDisk(t, put, hash) {
		t.Error("a start leaves it")
	}
}

// copyBack puts a picture's file into a data folder, as a crash leaves it.
func copyBack(t *testing.T, from, to, hash string) {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(from, copies.BlobsFolder, hash[:2], hash))
	if err == nil {
		err = os.WriteFile(filepath.Join(to, copies.BlobsFolder, hash[:2], hash), raw, 0o600)
	}
	if err != nil {
		t.Fatal(err)
	}
}
