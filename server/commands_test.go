package main

import (
	"bytes"
	"context"
	"errors"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"jointwalk/server/copies"
	"jointwalk/server/web"
)

// says runs the program with these words and wants an exit code; it gives all that was said.
func says(t *testing.T, code int, args ...string) string {
	t.Helper()
	var out bytes.Buffer
	if got := start(context.Background(), args, greeting{out: &out}, &out); got != code {
		t.Errorf("%v: exit %d, want %d: %s", args, got, code, &out)
	}
	return out.String()
}

// copyIn gives the path of the copy that backup told of.
func copyIn(t *testing.T, said string) string {
	t.Helper()
	path := regexp.MustCompile(`(?m)^/.*copy-[0-9TZ.]+$`).FindString(said)
	if path == "" {
		t.Fatalf("no copy in %q", said)
	}
	return path
}

// lit is a running house with its control socket and the example's year.
func lit(t *testing.T, data string) (*running, *http.Cookie) {
	t.Helper()
	r := begin(t, data)
	ctx, stop := context.WithCancel(context.Background())
	control, err := r.h.control(ctx)
	if err != nil {
		t.Fatal(err)
	}
	ended := make(chan error, 1)
	go func() { ended <- control.run() }()
	t.Cleanup(func() {
		stop()
		if err := errors.Join(control.server.Close(), <-ended); err != nil {
			t.Error(err)
		}
	})
	return r, r.setUp(true)
}

// The whole way: a copy of a running server, checked, restored elsewhere, served there. People and sessions are the
// same; what the server gives out as cursors is not.
// With every device lost, who stands at the server's machine comes in again: as the same person, or as somebody new.
func TestInviteAtTheMachine(t *testing.T) {
	data := t.TempDir()
	if said := says(t, 1, "invite", "--data", data, "Ana"); !strings.Contains(said, "start it, then invite") {
		t.Error(said)
	}
	r, _ := lit(t, data)
	defer r.end()
	secret := regexp.MustCompile(`/join#(\S+)`)
	enter := func(name string) web.Me {
		t.Helper()
		found := secret.FindStringSubmatch(says(t, 0, "invite", "--data", data, name))
		if found == nil {
			t.Fatal("no link")
		}
		return into[web.Me](t, r.call(200, "POST", "/api/pair", nil, `{"code":"`+found[1]+`","device":"desk"}`))
	}
	if first, again := enter("Ana"), enter("Ana"); first.Person.ID != again.Person.ID || first.Device.ID == again.Device.ID {
		t.Errorf("%+v\n%+v", first, again)
	}
	if ben := enter("Ben"); ben.Person.Name != "Ben" || len(ben.Person.Duties) != 3 {
		t.Errorf("%+v", ben)
	}
	if said := says(t, 1, "invite", "--data", data, " "); !strings.Contains(said, "1 to 80 characters") {
		t.Error(said)
	}
	people, err := r.h.people.People()
	if err != nil || r.h.people.Erase("", people[len(people)-1].ID) != nil {
		t.Fatal(err)
	}
	if said := says(t, 1, "invite", "--data", data, ""); !strings.Contains(said, "1 to 80 characters") { // the name of nobody
		t.Error(said)
	}
	if said := says(t, 2, "invite", "--data", data); !strings.Contains(said, "jointwalk invite") {
		t.Error(said)
	}
}

func TestBackupOfARunningServerAndRestore(t *testing.T) {
	data, into, other := t.TempDir(), filepath.Join(t.TempDir(), "copies"), filepath.Join(t.TempDir(), "other")
	r, ana := lit(t, data)
	picture := "\x89PNG\r\n\x1a\nrest"
	if err := r.h.blobs.Put(sha(picture), strings.NewReader(picture)); err != nil {
		t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Join(data, "https"), 0o700); err != nil {
		t.Fatal(err)
	}
	write(t, filepath.Join(data, "https", "authority.pem"), "key")
	r.taken(t, ana, sha(picture))
	before, incarnation := r.home(ana), r.h.store.Incarnation()
	path := copyIn(t, says(t, 0, "backup", "--data", data, into))
	if said := says(t, 0, "check", path); !strings.Contains(said, "is whole") || !strings.Contains(said, "events at 2 sites") {
		t.Error(said)
	}
	if said := says(t, 1, "check", "--data", data); !strings.Contains(said, "stop it, or check a copy") {
		t.Error(said)
	}
	r.end()
	if said := says(t, 0, "restore", path, "--data", other); !strings.Contains(said, "restored into "+other) {
		t.Error(said)
	}
	if said := says(t, 0, "check", "--data", other); !strings.Contains(said, "pictures: 1") || !strings.Contains(said, other+" is whole") {
		t.Error(said)
	}
	if said := says(t, 1, "restore", path, "--data", other); !strings.Contains(said, "is not empty: move it away") {
		t.Error(said)
	}
	r = begin(t, other)
	defer r.end()
	if a, b := mustJSON(t, before), mustJSON(t, r.home(ana)); a != b {
		t.Errorf("after the restore:\n%s\n%s", a, b)
	}
	if r.h.store.Incarnation() == incarnation {
		t.Error("the restored store has the incarnation of the one before")
	}
	if got := r.call(200, "GET", "/api/pictures/"+sha(picture), ana, ""); got.Body.String() != picture {
		t.Errorf("%q", got.Body)
	}
	if key, err := os.ReadFile(filepath.Join(other, "https", "authority.pem")); err != nil || string(key) != "key" {
		t.Errorf("%q %v", key, err)
	}
}

func write(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// Without a server the command opens the store itself; a socket that a killed one left does not mislead it.
func TestBackupWithoutAServer(t *testing.T) {
	data := t.TempDir()
	r := begin(t, data)
	r.setUp(true)
	r.end()
	write(t, filepath.Join(data, copies.Control), "")
	path := copyIn(t, says(t, 0, "backup", t.TempDir(), "--data", data))
	says(t, 0, "check", path)
	if said := says(t, 1, "check", filepath.Dir(path)); !strings.Contains(said, "the newest is "+path) {
		t.Error(said)
	}
	r = begin(t, data) // holds the store, and answers nobody
	if said := says(t, 1, "backup", "--data", data, t.TempDir()); !strings.Contains(said, "does not answer") {
		t.Error(said)
	}
	r.end()
}

// Damage is told in words, with exit code 1, in a copy and in a data folder; such a copy is not restored.
func TestCheckTellsOfDamage(t *testing.T) {
	data := t.TempDir()
	r := begin(t, data)
	r.setUp(true)
	if err := r.h.blobs.Put(sha("picture"), strings.NewReader("picture")); err != nil {
		t.Fatal(err)
	}
	r.end()
	path := copyIn(t, says(t, 0, "backup", "--data", data, t.TempDir()))
	blob := filepath.Join(data, copies.BlobsFolder, sha("picture")[:2], sha("picture"))
	if err := os.Chmod(blob, 0o600); err != nil {
		t.Fatal(err)
	}
	write(t, blob, "spoilt!") // in the copy too: they share their bytes
	for _, args := range [][]string{{"--data", data}, {path}} {
		if said := says(t, 1, append([]string{"check"}, args...)...); !strings.Contains(said, "DAMAGED") || !strings.Contains(said, sha("picture")) {
			t.Error(said)
		}
	}
	write(t, blob, "picture")
	says(t, 0, "check", path)
	db := filepath.Join(path, copies.StoreFile)
	whole, err := os.ReadFile(db)
	if err != nil {
		t.Fatal(err)
	}
	write(t, db, strings.Replace(string(whole), "site", "sitf", 1))
	if said := says(t, 1, "check", path); !strings.Contains(said, copies.StoreFile+" holds other bytes") {
		t.Error(said)
	}
	other := filepath.Join(t.TempDir(), "other")
	if said := says(t, 1, "restore", path, "--data", other); !strings.Contains(said, "nothing was restored") {
		t.Error(said)
	}
	if entries, err := os.ReadDir(other); len(entries) > 0 {
		t.Errorf("%v %v", entries, err)
	}
}

func TestWordsOfCommands(t *testing.T) {
	none := filepath.Join(t.TempDir(), "none")
	for _, c := range []struct {
		code int
		want string
		args []string
	}{
		{0, "jointwalk restore [--data D] COPY", []string{"--help"}},
		{0, "-copies", []string{"--help"}},
		{0, "jointwalk backup", []string{"backup", "--help"}},
		{2, "Usage", []string{"backup"}},
		{2, "Usage", []string{"restore"}},
		{2, "Usage", []string{"restore", "a", "b"}},
		{2, "flag", []string{"check", "--nothing"}},
		{1, "name it with --data", []string{"backup", "--data", none, t.TempDir()}},
		{1, "name the data folder with --data", []string{"check", "--data", none}},
		{1, "there is no copy", []string{"check", none}},
		{1, "is no copy", []string{"restore", t.TempDir()}},
	} {
		if said := says(t, c.code, c.args...); !strings.Contains(said, c.want) {
			t.Errorf("%v: %q", c.args, said)
		}
	}
}

// A folder in which a restore was broken off is not served.
func TestAnUnfinishedRestoreIsNotServed(t *testing.T) {
	data := t.TempDir()
	write(t, filepath.Join(data, copies.Restoring), "")
	if err := prepare(data); err == nil || !strings.Contains(err.Error(), "restore again") {
		t.Errorf("%v", err)
	}
}

// The program serves, hands out a copy on request while it does, and leaves no socket behind.
func TestServingWithControl(t *testing.T) {
	data := t.TempDir()
	ctx, stop := context.WithCancel(context.Background())
	ended := make(chan int, 1)
	var out bytes.Buffer
	go func() {
		ended <- start(ctx, []string{"--data", data, "--listen", "127.0.0.1:0"}, greeting{out: &out}, &out)
	}()
	socket := filepath.Join(data, copies.Control)
	for began := time.Now(); ; time.Sleep(10 * time.Millisecond) {
		if info, err := os.Stat(socket); err == nil && info.Mode().Perm() == 0o600 {
			break
		}
		if time.Since(began) > 10*time.Second {
			t.Fatal("no socket that only its owner may use")
		}
	}
	says(t, 0, "check", copyIn(t, says(t, 0, "backup", "--data", data, filepath.Join(data, "mine"))))
	stop()
	if code := <-ended; code != 0 {
		t.Errorf("exit %d: %s", code, &out)
	}
	if _, err := os.Stat(socket); err == nil {
		t.Error("the socket stays")
	}
}

// The age of the newest copy is there for the web.
func TestCopiedIsOffered(t *testing.T) {
	r, _ := lit(t, t.TempDir())
	defer r.end()
	if at := r.h.parts().Copied(); !at.IsZero() {
		t.Errorf("%v", at)
	}
	made, err := r.h.copies.Make(context.Background(), r.h.copies.Folder)
	if err != nil {
		t.Fatal(err)
	}
	if at := r.h.parts().Copied(); made.Made.Sub(at).Abs() > time.Second {
		t.Errorf("%v, made %v", at, made.Made)
	}
}
