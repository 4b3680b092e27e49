package storetest

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"sync"
	"testing"
	"testing/iotest"

	"pgregory.net/rapid"

	"jointwalk/server/store"
)

// partLaws are the laws of blobs that come in parts.
var partLaws = map[string]func(*testing.T, OpenBlobs){
	"parts become a blob":              partsWhole,
	"another offset adds nothing":      partsOffset,
	"parts of another hash begin anew": partsWrongHash,
	"a chunk that breaks off":          partsBrokenChunk,
	"more than was announced":          partsTooLarge,
	"a size that was wrong before":     partsOtherSize,
	"a blob on two ways":               partsAndPut,
	"two phones with one blob":         partsCrowd,
	"parts are there afterwards":       partsAgain,
	"parts against a model":            partsModel,
}

// parted wants this much to be kept.
func parted(t testing.TB, blobs store.Blobs, hash string, want int64, wantWhole bool) {
	t.Helper()
	if have, whole, err := blobs.Part(hash); have != want || whole != wantWhole || err != nil {
		t.Errorf("part of %.70q: %d %v %v, want %d %v", hash, have, whole, err, want, wantWhole)
	}
}

// extend adds body[offset:end] and wants what is kept then.
func extend(t testing.TB, blobs store.Blobs, body []byte, offset, end int, want int64, wantWhole bool) {
	t.Helper()
	have, whole, err := blobs.Extend(Sum(body), int64(offset), int64(len(body)), bytes.NewReader(body[offset:end]))
	if have != want || whole != wantWhole || err != nil {
		t.Errorf("%d to %d: %d %v %v, want %d %v", offset, end, have, whole, err, want, wantWhole)
	}
	parted(t, blobs, Sum(body), want, wantWhole)
}

func partsWhole(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	body := bytes.Repeat([]byte("picture "), 50_000)
	parted(t, blobs, Sum(body), 0, false)
	for at, step := 0, 128<<10; at < len(body); at += step {
		lacks(t, blobs, Sum(body))
		end := min(at+step, len(body))
		extend(t, blobs, body, at, end, int64(end), end == len(body))
	}
	holds(t, blobs, body)
	extend(t, blobs, body, 0, 10, int64(len(body)), true) // a reply that was lost
	if have, whole, err := blobs.Extend(Sum(body), 0, 7, iotest.ErrReader(errStop)); have != int64(len(body)) || !whole || err != nil {
		t.Errorf("of what is whole nothing is read: %d %v %v", have, whole, err)
	}
	extend(t, blobs, nil, 0, 0, 0, true)
	holds(t, blobs, nil)
}

func partsOffset(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	body := []byte("a picture in parts")
	extend(t, blobs, body, 3, 9, 0, false)
	extend(t, blobs, body, 0, 9, 9, false)
	for _, offset := range []int{0, 3, 8, 10, len(body)} {
		extend(t, blobs, body, offset, len(body), 9, false)
	}
	extend(t, blobs, body, 9, 9, 9, false)
	if have, whole, err := blobs.Extend(Sum(body), 1<<40, int64(len(body)), strings.NewReader("")); have != 9 || whole || err != nil {
		t.Errorf("far behind: %d %v %v", have, whole, err)
	}
	extend(t, blobs, body, 9, len(body), int64(len(body)), true)
	holds(t, blobs, body)
}

func partsWrongHash(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	body, other := []byte("a picture in parts"), []byte("a pigture")
	if have, _, err := blobs.Extend(Sum(body), 0, int64(len(body)), bytes.NewReader(other)); have != int64(len(other)) || err != nil {
		t.Errorf("%d %v", have, err)
	}
	have, whole, err := blobs.Extend(Sum(body), int64(len(other)), int64(len(body)), bytes.NewReader(body[len(other):]))
	if have != 0 || whole || store.CodeOf(err) != store.CodeWrongHash {
		t.Errorf("%d %v %v", have, whole, err)
	}
	lacks(t, blobs, Sum(body))
	parted(t, blobs, Sum(body), 0, false)
	extend(t, blobs, body, 0, len(body), int64(len(body)), true)
	holds(t, blobs, body)
}

func partsBrokenChunk(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	body := []byte("a picture in parts")
	extend(t, blobs, body, 0, 5, 5, false)
	for _, cut := range []int{5, 6, len(body)} {
		broken := io.MultiReader(bytes.NewReader(body[5:cut]), iotest.ErrReader(errStop))
		if _, whole, err := blobs.Extend(Sum(body), 5, int64(len(body)), broken); !errors.Is(err, errStop) || whole {
			t.Errorf("%v %v", whole, err)
		}
		parted(t, blobs, Sum(body), 5, false)
	}
	extend(t, blobs, body, 5, len(body), int64(len(body)), true)
}

func partsTooLarge(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	body := []byte("a picture in parts")
	extend(t, blobs, body, 0, 5, 5, false)
	for name, c := range map[string]struct {
		offset, size int64
		body         string
	}{
		"beyond its size": {5, int64(len(body)), string(body[5:]) + "x"}, "larger than any": {5, store.LargestBlob + 1, "x"},
		"below nothing": {5, -1, ""}, "before the beginning": {-1, int64(len(body)), "x"},
	} {
		if have, whole, err := blobs.Extend(Sum(body), c.offset, c.size, strings.NewReader(c.body)); have != 0 || whole || store.CodeOf(err) != store.CodeTooLarge {
			t.Errorf("%s: %d %v %v", name, have, whole, err)
		}
		parted(t, blobs, Sum(body), 5, false)
	}
	extend(t, blobs, body, 5, len(body), int64(len(body)), true)
}

// Who began with a wrong size does not keep a blob from coming with the right one.
func partsOtherSize(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	body := []byte("a picture")
	long := append(bytes.Clone(body), " and more"...)
	if have, _, err := blobs.Extend(Sum(body), 0, 100, bytes.NewReader(long)); have != int64(len(long)) || err != nil {
		t.Errorf("%d %v", have, err)
	}
	extend(t, blobs, body, 4, len(body), 0, false)
	extend(t, blobs, body, 0, 4, 4, false)
	if have, whole, err := blobs.Extend(Sum(body), 4, 100, bytes.NewReader(body[4:])); have != int64(len(body)) || whole || err != nil {
		t.Errorf("%d %v %v", have, whole, err)
	}
	extend(t, blobs, body, 4, len(body), int64(len(body)), true) // all of it was there
	holds(t, blobs, body)
}

func partsAndPut(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	body := []byte("a picture in parts")
	extend(t, blobs, body, 0, 5, 5, false)
	keep(t, blobs, body)
	extend(t, blobs, body, 5, 6, int64(len(body)), true)
	holds(t, blobs, body)
}

// Two phones that hand in the same blob help each other on.
func partsCrowd(t *testing.T, open OpenBlobs) {
	blobs, _ := open(t)
	body := bytes.Repeat([]byte("0123456789"), 3000)
	var all sync.WaitGroup
	for range 4 {
		all.Go(func() {
			for have, whole := int64(0), false; !whole; {
				var err error
				end := min(have+1000, int64(len(body)))
				if have, whole, err = blobs.Extend(Sum(body), have, int64(len(body)), bytes.NewReader(body[have:end])); err != nil {
					t.Error(err)
					return
				}
			}
		})
	}
	all.Wait()
	holds(t, blobs, body)
}

func partsAgain(t *testing.T, open OpenBlobs) {
	blobs, again := open(t)
	if again == nil {
		return // nothing outlives the process
	}
	body := []byte("a picture in parts")
	extend(t, blobs, body, 0, 5, 5, false)
	blobs = again()
	parted(t, blobs, Sum(body), 5, false)
	extend(t, blobs, body, 5, 9, 9, false)
	blobs = again()
	extend(t, blobs, body, 9, len(body), int64(len(body)), true)
	blobs = again()
	parted(t, blobs, Sum(body), int64(len(body)), true)
	holds(t, blobs, body)
}

// partModel is a blob on its way, and what was said of it.
type partModel struct {
	body, part   []byte
	whole, wrong bool
}

// extend takes a chunk into the model.
func (m *partModel) extend(offset, size int, chunk []byte) {
	m.wrong = false
	if m.whole {
		return
	}
	if len(m.part) > size {
		m.part = nil
	}
	if len(m.part) == offset {
		m.part = append(m.part, chunk...)
	}
	if len(m.part) == size {
		m.whole = bytes.Equal(m.part, m.body)
		m.wrong = !m.whole
	}
	if m.wrong {
		m.part = nil
	}
}

// chunk draws bytes for an offset: now and then spoilt ones, and never beyond size.
func (m *partModel) chunk(rt *rapid.T, offset, size int) []byte {
	text := append(bytes.Clone(m.body), "more"...)
	if rapid.IntRange(0, 9).Draw(rt, "spoilt") == 0 {
		text = bytes.Repeat([]byte("x"), len(text))
	}
	end := min(offset+rapid.IntRange(0, 7).Draw(rt, "length"), size)
	return text[min(offset, end):end]
}

// partsModel extends a blob at random, with wrong bytes, offsets and sizes among them, beside a model of one slice.
func partsModel(t *testing.T, open OpenBlobs) {
	rapid.Check(t, func(rt *rapid.T) {
		blobs, again := open(t)
		m := &partModel{body: []byte("0123456789abcdef")}
		for range rapid.IntRange(1, 12).Draw(rt, "steps") {
			if again != nil && rapid.Bool().Draw(rt, "restart") {
				blobs = again()
			}
			size := rapid.SampledFrom([]int{len(m.body), len(m.body), len(m.body), 9, 20}).Draw(rt, "size")
			offset := rapid.SampledFrom([]int{len(m.part), len(m.part), len(m.part), 0, 5}).Draw(rt, "offset")
			chunk := m.chunk(rt, offset, size)
			m.extend(offset, size, chunk)
			have, whole, err := blobs.Extend(Sum(m.body), int64(offset), int64(size), bytes.NewReader(chunk))
			refused := store.CodeOf(err) == store.CodeWrongHash
			if have != int64(len(m.part)) || whole != m.whole || refused != m.wrong || err != nil && !refused {
				rt.Fatalf("%d %v %v, want %d %v, wrong hash %v", have, whole, err, len(m.part), m.whole, m.wrong)
			}
			parted(t, blobs, Sum(m.body), int64(len(m.part)), m.whole)
		}
	})
}
