package storetest

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"strings"
	"sync"
	"testing"
	"testing/iotest"

	"jointwalk/server/store"
)

// OpenBlobs gives blobs without content, and what opens them again as after a restart; nil for blobs that do
// not outlive the process.
type OpenBlobs func(testing.TB) (blobs store.Blobs, again func() store.Blobs)

// Blobs holds the laws of store.Blobs.
func Blobs(t *testing.T, open OpenBlobs) {
	for name, law := range partLaws {
		t.Run(name, func(t *testing.T) { law(t, open) })
	}
	for name, law := range map[string]func(*testing.T, OpenBlobs){
		"bytes are read back":           blobsReadBack,
		"absent blobs":                  blobsAbsent,
		"another hash keeps nothing":    blobsWrongHash,
		"what is no hash":               blobsNoHash,
		"a body that breaks off":        blobsBrokenBody,
		"the same again":                blobsTwice,
		"what is held cannot be spoilt": blobsHeld,
		"many at once":                  blobsCrowd,
		"what is dropped is gone":       blobsDrop,
		"parts are dropped too":         blobsDropParts,
		"all is there afterwards":       blobsAgain,
	} {
		t.Run(name, func(t *testing.T) { law(t, open) })
	}
}

// Sum is the hash under which a blob is kept.
func Sum(body []byte) string {
	sum := sha256.Sum256(body)
	return hex.EncodeToString(sum[:])
}

func keep(t testing.TB, blobs store.Blobs, body []byte) string {
	t.Helper()
	if err := blobs.Put(Sum(body), bytes.NewReader(body)); err != nil {
		t.Fatal(err)
	}
	return Sum(body)
}

// holds checks that exactly this body is held.
func holds(t testing.TB, blobs store.Blobs, body []byte) {
	t.Helper()
	size, err := blobs.Size(Sum(body))
	if err != nil || size != int64(len(body)) {
		t.Errorf("size %d %v, want %d", size, err, len(body))
	}
	open, err := blobs.Get(Sum(body))
	if err != nil {
		t.Errorf("%v", err)
		return
	}
	got, err := io.ReadAll(open)
	if err := errors.Join(err, open.Close()); err != nil || !bytes.Equal(got, body) {
		t.Errorf("%d bytes of %d, %v", len(got), len(body), err)
	}
}

// lacks checks that nothing is held under a hash.
func lacks(t testing.TB, blobs store.Blobs, hash string) {
	t.Helper()
	if _, err := blobs.Size(hash); !errors.Is(err, store.ErrNoBlob) {
		t.Errorf("size of %.70q: %v", hash, err)
	}
	if open, err := blobs.Get(hash); !errors.Is(err, store.ErrNoBlob) {
		t.Errorf("get of %.70q: %v", hash, err)
		if err == nil {
			_ = open.Close() // it should not be there at all
		}
	}
}

func blobsReadBack(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	for _, body := range [][]byte{{}, []byte("a"), []byte("\x00\n\xff"), bytes.Repeat([]byte("picture "), 100_000)} {
		keep(t, blobs, body)
		holds(t, blobs, body)
	}
	slow := []byte("byte by byte")
	if err := blobs.Put(Sum(slow), iotest.OneByteReader(bytes.NewReader(slow))); err != nil {
		t.Error(err)
	}
	holds(t, blobs, slow)
}

func blobsAbsent(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	lacks(t, blobs, Sum([]byte("a")))
	keep(t, blobs, []byte("b"))
	lacks(t, blobs, Sum([]byte("a")))
}

func blobsWrongHash(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	body := []byte("picture")
	for _, wrong := range [][]byte{[]byte("pictur"), []byte("pictures"), {}} {
		if err := blobs.Put(Sum(body), bytes.NewReader(wrong)); store.CodeOf(err) != store.CodeWrongHash {
			t.Errorf("%q: %v", wrong, err)
		}
		lacks(t, blobs, Sum(body))
		lacks(t, blobs, Sum(wrong))
	}
	keep(t, blobs, body)
	holds(t, blobs, body)
}

// A name that is no hash leads nowhere, least of all out of the folder.
func blobsNoHash(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	body := []byte("picture")
	good := keep(t, blobs, body)
	for _, name := range []string{"", "a", good[:63], good + "0", strings.ToUpper(good), "../" + good[3:], good[:2] + "/" + good[2:],
		strings.Repeat(".", 64), strings.Repeat("/", 64), strings.Repeat("g", 64), "\x00" + good[1:], strings.Repeat("../", 21) + "x"} {
		if err := blobs.Put(name, bytes.NewReader(body)); store.CodeOf(err) != store.CodeWrongHash {
			t.Errorf("put under %q: %v", name, err)
		}
		if have, whole, err := blobs.Extend(name, 0, int64(len(body)), bytes.NewReader(body)); have != 0 || whole || store.CodeOf(err) != store.CodeWrongHash {
			t.Errorf("extend %q: %d %v %v", name, have, whole, err)
		}
		lacks(t, blobs, name)
		parted(t, blobs, name, 0, false)
	}
	holds(t, blobs, body)
}

func blobsBrokenBody(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	body := []byte("picture")
	for _, cut := range []int{0, 3, len(body)} {
		broken := io.MultiReader(bytes.NewReader(body[:cut]), iotest.ErrReader(errStop))
		if err := blobs.Put(Sum(body), broken); !errors.Is(err, errStop) {
			t.Errorf("%v", err)
		}
		lacks(t, blobs, Sum(body))
		lacks(t, blobs, Sum(body[:cut]))
	}
	keep(t, blobs, body)
	holds(t, blobs, body)
}

func blobsTwice(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	body := []byte("picture")
	keep(t, blobs, body)
	reading, err := blobs.Get(Sum(body))
	if err != nil {
		t.Fatal(err)
	}
	keep(t, blobs, body)
	got, err := io.ReadAll(reading)
	if err := errors.Join(err, reading.Close()); err != nil || !bytes.Equal(got, body) {
		t.Errorf("a reader was disturbed: %q %v", got, err)
	}
	holds(t, blobs, body)
}

// Whatever comes under the hash of what is held, and whatever is done with what was handed out, it stays.
func blobsHeld(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	body := []byte("picture")
	mine := bytes.Clone(body)
	keep(t, blobs, mine)
	mine[0] = 'X'
	_ = blobs.Put(Sum(body), strings.NewReader("other")) // may be refused or not read at all
	_ = blobs.Put(Sum(body), iotest.ErrReader(errStop))
	holds(t, blobs, body)
	lacks(t, blobs, Sum([]byte("other")))
}

// blobsDrop: one goes, the others stay, and it can come again, whole or in parts.
func blobsDrop(t *testing.T, open OpenBlobs) {
	blobs, again := open(t)
	gone, stays := []byte("withdrawn"), []byte("kept")
	hash := keep(t, blobs, gone)
	keep(t, blobs, stays)
	if err := blobs.Drop(hash); err != nil {
		t.Fatal(err)
	}
	for _, none := range []string{hash, Sum([]byte("never here")), "no hash", ""} {
		if err := blobs.Drop(none); !errors.Is(err, store.ErrNoBlob) {
			t.Errorf("dropping %q: %v", none, err)
		}
	}
	if again != nil {
		blobs = again()
	}
	lacks(t, blobs, hash)
	holds(t, blobs, stays)
	if have, whole, err := blobs.Extend(hash, 0, int64(len(gone)), bytes.NewReader(gone)); err != nil || !whole || have != int64(len(gone)) {
		t.Errorf("%d %v %v", have, whole, err)
	}
	holds(t, blobs, gone)
}

// blobsDropParts: of a blob on its way nothing stays either, and it can begin anew.
func blobsDropParts(t *testing.T, open OpenBlobs) {
	blobs, again := open(t)
	body := []byte("a picture in parts")
	extend(t, blobs, body, 0, 5, 5, false)
	if err := blobs.Drop(Sum(body)); err != nil {
		t.Fatal(err)
	}
	if err := blobs.Drop(Sum(body)); !errors.Is(err, store.ErrNoBlob) {
		t.Errorf("twice: %v", err)
	}
	if again != nil {
		blobs = again()
	}
	parted(t, blobs, Sum(body), 0, false)
	extend(t, blobs, body, 0, len(body), int64(len(body)), true)
	holds(t, blobs, body)
}

func blobsCrowd(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	bodies := [][]byte{bytes.Repeat([]byte("a"), 70_000), bytes.Repeat([]byte("b"), 70_000)}
	var all sync.WaitGroup
	for i := range 12 {
		all.Go(func() {
			body := bodies[i%2]
			if i%3 == 0 { // a false one among them
				if err := blobs.Put(Sum(body), strings.NewReader("false")); err != nil && store.CodeOf(err) != store.CodeWrongHash {
					t.Error(err)
				}
				return
			}
			if err := blobs.Put(Sum(body), iotest.HalfReader(bytes.NewReader(body))); err != nil {
				t.Error(err)
			}
			holds(t, blobs, body)
		})
	}
	all.Wait()
	holds(t, blobs, bodies[0])
	holds(t, blobs, bodies[1])
	lacks(t, blobs, Sum([]byte("false")))
}

func blobsAgain(t *testing.T, open OpenBlobs) {
	blobs, again := open(t)
	if again == nil {
		return // nothing outlives the process
	}
	body := []byte("picture")
	keep(t, blobs, body)
	blobs = again()
	holds(t, blobs, body)
	keep(t, blobs, body)
	keep(t, blobs, []byte("later"))
	holds(t, blobs, []byte("later"))
}
