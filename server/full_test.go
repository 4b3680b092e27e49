//go:build unix

package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"syscall"
	"testing"

	"jointwalk/server/copies"
	"jointwalk/server/store"
	"jointwalk/server/web"
	"jointwalk/sync/exchange"
)

// filesUpTo lets no file of this process grow beyond a size until the test ends or room is made: what a full disk is
// to one file, by the system itself.
func filesUpTo(t *testing.T, size uint64) (makeRoom func()) {
	t.Helper()
	var before syscall.Rlimit
	if err := syscall.Getrlimit(syscall.RLIMIT_FSIZE, &before); err != nil {
		t.Fatal(err)
	}
	set := func(limit syscall.Rlimit) {
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &limit); err != nil {
			t.Fatal(err)
		}
	}
	makeRoom = func() { set(before) }
	t.Cleanup(makeRoom)
	set(syscall.Rlimit{Cur: size, Max: before.Max})
	return makeRoom
}

func sizeOf(t *testing.T, path string) uint64 {
	t.Helper()
	info, err := os.Stat(path)
	if err != nil {
		t.Fatal(err)
	}
	return uint64(info.Size())
}

// paths is all that a folder holds.
func paths(t *testing.T, folder string) (all []string) {
	t.Helper()
	err := filepath.WalkDir(folder, func(path string, _ os.DirEntry, err error) error {
		all = append(all, path)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// Pushes find the disk full, by 507 and "server-full"; nothing of what was refused is kept; what was taken before is
// there; and when room is made the server takes the same again.
func TestPushesOnAFullDisk(t *testing.T) {
	data := t.TempDir()
	r := begin(t, data)
	defer r.end()
	ana := r.setUp(false)
	me := into[web.Me](t, r.call(200, "GET", "/api/me", ana, ""))
	site := into[web.Site](t, r.call(201, "POST", "/api/sites", ana, `{"name":"North plant","zone":"UTC"}`))
	const logs = 400
	log := func(n int) string { return fmt.Sprintf("018f0000-0000-7000-8000-%012x", n) }
	told := exchange.Greeting{Speaks: exchange.Speaks, Log: log(0)}
	for n := 1; n < logs; n++ {
		told.Earlier = append(told.Earlier, log(n))
	}
	greeting, err := json.Marshal(told)
	if err != nil {
		t.Fatal(err)
	}
	r.call(200, "POST", exchange.PathMeet, ana, string(greeting))
	makeRoom := filesUpTo(t, sizeOf(t, filepath.Join(data, copies.StoreFile)))
	taken, refused := 0, ""
	for refused == "" && taken < logs {
		line, _ := registeredIn(t, me, site.ID, log(taken))
		switch w := r.try("POST", "/api/push", ana, line+"\n"); w.Code {
		case http.StatusOK:
			taken++
		case http.StatusInsufficientStorage:
			refused = line
			if !strings.Contains(w.Body.String(), `"code":"server-full"`) {
				t.Errorf("%s", w.Body)
			}
		default:
			t.Fatalf("%d %s", w.Code, w.Body)
		}
	}
	if last, err := r.h.store.Last(site.ID); err != nil || last != uint64(taken) || refused == "" {
		t.Fatalf("%d of %d, %v, refused %q", last, taken, err, refused)
	}
	if got := r.home(ana); len(got.Sites) != 1 || len(got.Sites[0].Fixtures) != taken {
		t.Errorf("reading goes on: %+v", got)
	}
	makeRoom()
	if a := into[exchange.Answer](t, r.call(200, "POST", "/api/push", ana, refused+"\n")); a.Answers[0].Is != exchange.Applied {
		t.Errorf("%+v", a)
	}
}

// Pictures and their parts find the disk full: nothing of a refused chunk stays, and the part goes on when there is room.
func TestPicturesOnAFullDisk(t *testing.T) {
	data := t.TempDir()
	r := begin(t, data)
	defer r.end()
	body := bytes.Repeat([]byte("picture "), 40_000)
	hash, half := sha(string(body)), int64(len(body)/2)
	if have, whole, err := r.h.blobs.Extend(hash, 0, int64(len(body)), bytes.NewReader(body[:half])); have != half || whole || err != nil {
		t.Fatalf("%d %v %v", have, whole, err)
	}
	before := paths(t, data)
	makeRoom := filesUpTo(t, uint64(half)+1000)
	if _, _, err := r.h.blobs.Extend(hash, half, int64(len(body)), bytes.NewReader(body[half:])); store.CodeOf(err) != store.CodeFull {
		t.Errorf("%v", err)
	}
	if err := r.h.blobs.Put(hash, bytes.NewReader(body)); store.CodeOf(err) != store.CodeFull {
		t.Errorf("%v", err)
	}
	if have, whole, err := r.h.blobs.Part(hash); have != half || whole || err != nil {
		t.Errorf("%d %v %v", have, whole, err)
	}
	if after := paths(t, data); !slices.Equal(before, after) {
		t.Errorf("left: %v", after)
	}
	makeRoom()
	if have, whole, err := r.h.blobs.Extend(hash, half, int64(len(body)), bytes.NewReader(body[half:])); have != int64(len(body)) || !whole || err != nil {
		t.Errorf("%d %v %v", have, whole, err)
	}
}

// A copy finds the disk full: it says so and leaves nothing, and the server goes on.
func TestCopyOnAFullDisk(t *testing.T) {
	data := t.TempDir()
	r := begin(t, data)
	defer r.end()
	ana := r.setUp(true)
	used := sizeOf(t, filepath.Join(data, copies.StoreFile))
	makeRoom := filesUpTo(t, used/2)
	if _, err := r.h.copies.Make(context.Background(), r.h.copies.Folder); !errors.Is(err, syscall.EFBIG) {
		t.Errorf("%v", err)
	}
	if left := paths(t, r.h.copies.Folder); len(left) != 1 {
		t.Errorf("left: %v", left)
	}
	r.home(ana)
	makeRoom()
	if _, err := r.h.copies.Make(context.Background(), r.h.copies.Folder); err != nil {
		t.Error(err)
	}
}
