package album

import (
	"bytes"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"jointwalk/server/store"
	"jointwalk/server/store/bolt"
	"jointwalk/server/store/files"
	"jointwalk/server/store/memory"
	"jointwalk/server/store/storetest"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

const (
	siteA   = "018f0000-0000-7000-8000-0000000000a1"
	siteB   = "018f0000-0000-7000-8000-0000000000a2"
	fixture = "018f0000-0000-7000-8000-0000000000f1"
)

// gallery is an album over a store, with a phone that writes.
type gallery struct {
	t      *testing.T
	kept   store.Events
	shelf  store.Blobs
	album  *Album
	events store.Events
	blobs  store.Blobs
	log    *journal.Log
	ids    int
	failed []error
}

var bothStores = map[string]func(t *testing.T) (store.Events, store.Blobs){
	"memory": func(*testing.T) (store.Events, store.Blobs) { return memory.NewEvents("life-1"), memory.NewBlobs() },
	"disk": func(t *testing.T) (store.Events, store.Blobs) {
		folder := t.TempDir()
		events, err := bolt.Open(filepath.Join(folder, "store.db"), rand.Reader)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = events.Close() }) // the test is over
		blobs, err := files.Open(filepath.Join(folder, "blobs"), time.Now())
		if err != nil {
			t.Fatal(err)
		}
		return events, blobs
	},
}

func onBoth(t *testing.T, test func(*testing.T, *gallery)) {
	for name, open := range bothStores {
		t.Run(name, func(t *testing.T) {
			g := &gallery{t: t}
			g.kept, g.shelf = open(t)
			g.begin()
			log, err := journal.OpenLog(&journal.Memory{}, "018f0000-0000-7000-8000-0000000000c7")
			if err != nil {
				t.Fatal(err)
			}
			g.log = log
			test(t, g)
		})
	}
}

// begin makes another album over the store, as a start does.
func (g *gallery) begin() {
	g.album = New(g.kept, g.shelf, func() ([]string, error) { return []string{siteA, siteB}, nil }, func(err error) { g.failed = append(g.failed, err) })
	g.events, g.blobs = g.album.Events(), g.album.Blobs()
}

// write makes a line as a phone does.
func (g *gallery) write(site string, kind record.Kind, base string, body any) (id string, item exchange.Incoming) {
	g.t.Helper()
	g.ids++
	id = fmt.Sprintf("018f0000-0000-7000-8000-%012x", g.ids)
	lines, err := g.log.Append([]journal.Draft{{ID: id, Time: "2026-03-01T08:00:00.000Z", Zone: "UTC", By: "person-a",
		About: journal.About{Site: site, Fixture: fixture, Of: "l1"}, Kind: string(kind), Base: base, Body: body}})
	if err != nil {
		g.t.Fatal(err)
	}
	e, err := journal.Parse(lines[0])
	if err != nil {
		g.t.Fatal(err)
	}
	return id, exchange.Incoming{Line: lines[0], Event: e, Hash: journal.Hash(lines[0]), Receipt: exchange.Receipt{At: "2026-03-01T08:00:00.000Z", From: "device"}}
}

func (g *gallery) add(to store.Events, items ...exchange.Incoming) {
	g.t.Helper()
	verdicts, err := to.Add(items)
	if err != nil {
		g.t.Fatal(err)
	}
	for i, v := range verdicts {
		if want := items[i].Aside; v.Code != want {
			g.t.Fatalf("%+v, want %q", v, want)
		}
	}
}

// added adds a picture by an event, and its bytes.
func (g *gallery) added(content []byte) (event string) {
	g.t.Helper()
	event, item := g.write(siteA, record.PictureAdded, "", record.Picture{Hash: storetest.Sum(content), Bytes: len(content), Type: "image/png"})
	g.add(g.events, item)
	if err := g.blobs.Put(storetest.Sum(content), bytes.NewReader(content)); err != nil {
		g.t.Fatal(err)
	}
	return event
}

func (g *gallery) withdraw(to store.Events, event string) {
	g.t.Helper()
	_, item := g.write(siteB, record.Withdrawn, event, record.Reason{Why: "a face"})
	g.add(to, item)
}

// holds wants the bytes to be held and given, or dropped and refused in every way.
func (g *gallery) holds(content []byte, want bool) {
	g.t.Helper()
	hash := storetest.Sum(content)
	if _, err := g.shelf.Size(hash); (err == nil) != want || !want && !errors.Is(err, store.ErrNoBlob) {
		g.t.Errorf("%q is held: %v, want %v", content, err, want)
	}
	if have, _, err := g.shelf.Part(hash); !want && (have != 0 || err != nil) {
		g.t.Errorf("%d bytes of %q are kept: %v", have, content, err)
	}
	for name, err := range g.tries(content) {
		if (err == nil) != want || !want && store.CodeOf(err) != exchange.CodeWithdrawn {
			g.t.Errorf("%s %q: %v, want %v", name, content, err, want)
		}
	}
	if len(g.failed) > 0 {
		g.t.Error(g.failed)
	}
}

func (g *gallery) tries(content []byte) map[string]error {
	hash := storetest.Sum(content)
	_, sized := g.blobs.Size(hash)
	_, _, part := g.blobs.Part(hash)
	_, _, extended := g.blobs.Extend(hash, 0, int64(len(content)), bytes.NewReader(content))
	body, got := g.blobs.Get(hash)
	if got == nil {
		got = body.Close()
	}
	return map[string]error{"size": sized, "part": part, "get": got, "extend": extended, "put": g.blobs.Put(hash, bytes.NewReader(content))}
}

// Once a withdrawal is in a feed the bytes are gone, and come back by no way; another picture stays.
func TestAWithdrawnPictureIsDropped(t *testing.T) {
	onBoth(t, func(t *testing.T, g *gallery) {
		gone, stays := []byte("a face"), []byte("a joint")
		event := g.added(gone)
		g.added(stays)
		g.holds(gone, true)
		g.withdraw(g.events, event)
		g.holds(gone, false)
		g.holds(stays, true)
	})
}

// What came of it in parts goes too.
func TestAWithdrawnPartIsDropped(t *testing.T) {
	onBoth(t, func(t *testing.T, g *gallery) {
		content := []byte("a face in parts")
		event, item := g.write(siteA, record.PictureAdded, "", record.Picture{Hash: storetest.Sum(content), Bytes: len(content), Type: "image/png"})
		g.add(g.events, item)
		if have, _, err := g.blobs.Extend(storetest.Sum(content), 0, int64(len(content)), bytes.NewReader(content[:5])); have != 5 || err != nil {
			t.Fatal(have, err)
		}
		g.withdraw(g.events, event)
		g.holds(content, false)
	})
}

// A hash that another picture's event names stays until that is withdrawn too, and comes back with a new one.
func TestAHashThatIsNamedTwice(t *testing.T) {
	onBoth(t, func(t *testing.T, g *gallery) {
		content := []byte("the same face")
		one, two := g.added(content), g.added(content)
		g.withdraw(g.events, one)
		g.holds(content, true)
		g.withdraw(g.events, two)
		g.holds(content, false)
		g.added(content)
		g.holds(content, true)
	})
}

// A server killed between withdrawal and drop, or a store that was put back, ends it at the next start; before that the
// picture is refused.
func TestAStartDropsWhatWasWithdrawn(t *testing.T) {
	onBoth(t, func(t *testing.T, g *gallery) {
		content := []byte("a face that a crash left")
		g.withdraw(g.kept, g.added(content)) // into the store alone
		g.begin()
		if _, err := g.blobs.Get(storetest.Sum(content)); store.CodeOf(err) != exchange.CodeWithdrawn {
			t.Errorf("given before the sweep: %v", err)
		}
		if _, err := g.shelf.Size(storetest.Sum(content)); err != nil {
			t.Fatal("the test leaves nothing:", err)
		}
		if err := g.album.Sweep(); err != nil {
			t.Error(err)
		}
		g.holds(content, false)
	})
}

// A withdrawal that is set aside takes nothing; once somebody accepts it, it does.
func TestAWithdrawalThatIsSetAside(t *testing.T) {
	onBoth(t, func(t *testing.T, g *gallery) {
		content := []byte("a face, says somebody")
		_, item := g.write(siteA, record.Withdrawn, g.added(content), record.Reason{Why: "a face"})
		item.Aside = "not-allowed"
		g.add(g.events, item)
		g.holds(content, true)
		if err := g.events.Accept(item.Hash, store.Settlement{By: "person-b", At: "2026-03-01T09:00:00.000Z"}); err != nil {
			t.Fatal(err)
		}
		g.holds(content, false)
	})
}

// A picture whose event comes after what withdrew it is dropped all the same.
func TestAWithdrawalComesFirst(t *testing.T) {
	onBoth(t, func(t *testing.T, g *gallery) {
		content := []byte("a face, later")
		event, item := g.write(siteA, record.PictureAdded, "", record.Picture{Hash: storetest.Sum(content), Bytes: len(content), Type: "image/png"})
		g.withdraw(g.events, event)
		if err := g.blobs.Put(storetest.Sum(content), bytes.NewReader(content)); err != nil {
			t.Fatal(err)
		}
		g.add(g.events, item)
		g.holds(content, false)
	})
}

// during is a body that is read while something happens.
type during struct {
	io.Reader
	happens func()
}

func (d *during) Read(p []byte) (int, error) {
	if d.happens != nil {
		d.happens()
		d.happens = nil
	}
	return d.Reader.Read(p)
}

// A picture that is withdrawn while it comes in stays out.
func TestAPictureIsWithdrawnWhileItComesIn(t *testing.T) {
	onBoth(t, func(t *testing.T, g *gallery) {
		for n, send := range []func(hash string, size int64, body io.Reader) error{
			func(hash string, _ int64, body io.Reader) error { return g.blobs.Put(hash, body) },
			func(hash string, size int64, body io.Reader) error {
				_, _, err := g.blobs.Extend(hash, 0, size, body)
				return err
			},
			func(hash string, size int64, body io.Reader) error {
				_, _, err := g.blobs.Extend(hash, 0, 2*size, body)
				return err
			},
		} {
			content := []byte(fmt.Sprint("a face on its way ", n))
			event, item := g.write(siteA, record.PictureAdded, "", record.Picture{Hash: storetest.Sum(content), Bytes: len(content), Type: "image/png"})
			g.add(g.events, item)
			body := &during{bytes.NewReader(content), func() { g.withdraw(g.events, event) }}
			if err := send(storetest.Sum(content), int64(len(content)), body); store.CodeOf(err) != exchange.CodeWithdrawn {
				t.Errorf("way %d: %v", n, err)
			}
			g.holds(content, false)
		}
	})
}

func TestWhoAddedAPicture(t *testing.T) {
	onBoth(t, func(t *testing.T, g *gallery) {
		event := g.added([]byte("a joint"))
		if by, known, err := g.album.AddedBy(fixture, event); by != "person-a" || !known || err != nil {
			t.Errorf("%q %v %v", by, known, err)
		}
		if by, known, err := g.album.AddedBy(fixture, "no event"); by != "" || known || err != nil {
			t.Errorf("%q %v %v", by, known, err)
		}
	})
}

// stuck is a shelf that drops nothing.
type stuck struct {
	store.Blobs
	err error
}

func (s *stuck) Drop(hash string) error {
	if s.err != nil {
		return s.err
	}
	return s.Blobs.Drop(hash)
}

// A drop that fails holds up no push, is told, and is tried again.
func TestADropThatFails(t *testing.T) {
	onBoth(t, func(t *testing.T, g *gallery) {
		shelf := &stuck{Blobs: g.shelf}
		g.shelf = shelf
		g.begin()
		content := []byte("a face that sticks")
		event := g.added(content)
		shelf.err = &store.Fault{Code: store.CodeBroken}
		g.withdraw(g.events, event)
		if len(g.failed) != 1 || store.CodeOf(g.failed[0]) != store.CodeBroken {
			t.Errorf("told %v", g.failed)
		}
		if _, err := g.blobs.Get(storetest.Sum(content)); store.CodeOf(err) != exchange.CodeWithdrawn {
			t.Errorf("given meanwhile: %v", err)
		}
		shelf.err, g.failed = nil, nil
		g.withdraw(g.events, "something-else")
		g.holds(content, false)
	})
}

// A store that broke is no picture that was withdrawn.
func TestAStoreThatBreaks(t *testing.T) {
	onBoth(t, func(t *testing.T, g *gallery) {
		content := []byte("a joint")
		broken := New(g.kept, g.shelf, func() ([]string, error) { return nil, errors.New("no sites") }, nil)
		g.blobs = broken.Blobs()
		for name, err := range g.tries(content) {
			if err == nil || store.CodeOf(err) != "" || !strings.Contains(err.Error(), "no sites") {
				t.Errorf("%s: %v", name, err)
			}
		}
	})
}
