package journal

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"jointwalk/sync/lightjson"
)

// Reading an envelope by bytes and by the standard library never differ.
func FuzzGlance(f *testing.F) {
	good := string(written(f, logA, 2)[1])
	f.Add([]byte(good))
	for _, change := range strange {
		f.Add([]byte(strings.Replace(good, change[0], change[1], 1)))
	}
	f.Fuzz(func(t *testing.T, line []byte) { agree(t, line) })
}

// A framed line is read as it was framed; what is read as framed is framed so.
func FuzzFrame(f *testing.F) {
	for _, seed := range []string{"", "x", "{}\te3069283", "123456789\te3069283", "123456789\tE3069283", "\t00000000", "a\nb"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		framed := frame(nil, data)
		line, sum, ok := unframe(framed[:len(framed)-1])
		if !ok || !bytes.Equal(line, data) || sum != checksum(data) || len(framed) != len(data)+frameExtra {
			t.Errorf("%q was framed as %q", data, framed)
		}
		if line, _, ok := unframe(data); ok && !bytes.Equal(frame(nil, line), append(bytes.Clone(data), '\n')) {
			t.Errorf("%q was read as %q", data, line)
		}
	})
}

// A header names a stream, or none; a claimed file that begins with what was read is read so again.
func FuzzHeader(f *testing.F) {
	for _, seed := range []string{"", `{"pool":1,"generation":2,"stream":"own","mark":"m"}`, `{"pool":2,"generation":2,"stream":"own"}`,
		`{"pool":1,"generation":-2}`, `{"pool":"1"}`, `{"put":{}}`, stateWhole, `{"picture":"`, goldenEvent, `{"n":1}`} {
		f.Add([]byte(seed))
		f.Add(frame(nil, []byte(seed)))
		f.Add(frame(frame(nil, []byte("torn")), []byte(seed)))
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		for _, file := range [][]byte{data, frame(nil, data), frame(frame(nil, data), []byte(goldenEvent))} {
			h := readHeader(file)
			if h.Generation > 0 && h.Pool != poolVersion {
				t.Errorf("%q: %+v", file, h)
			}
			if site := siteOf(h.Stream); site != "" && h.Stream != sitePrefix+site {
				t.Errorf("%q: site %q of %q", file, site, h.Stream)
			}
			if again := readHeader(append(frame(nil, must(lightjson.Marshal(header{Pool: poolVersion, Generation: 3, Stream: h.Stream, Mark: h.Mark}))), file...)); again.Generation != 3 {
				t.Errorf("%q: %+v", file, again)
			}
		}
	})
}

// The two readers of a receipt never differ, and what is read is written so that it is read again.
func FuzzReceipt(f *testing.F) {
	bare := `{"n":1,"at":"2026-03-04T05:06:07.089Z","offset":-3,"from":"d"`
	for _, seed := range []string{bare + "}", bare + `,"seal":"0f"}`, bare + `,"seal":""}`, bare + `,"seal":"0F"}`, bare + `,"later":1}`, "{}", "", bare,
		strings.Replace(bare, "-3", "-0", 1) + "}", strings.Replace(bare, "-3", "01", 1) + "}", strings.Replace(bare, `"d"`, `"\u0064"`, 1) + "}", strings.Replace(bare, "-3", "18446744073709551615", 1) + "}"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, line []byte) {
		got, err := ParseReceipt(line)
		var slow Receipt
		slowErr := json.Unmarshal(line, &slow)
		if (err == nil) != (slowErr == nil && slow.whole()) || err == nil && got != slow {
			t.Errorf("%q: %+v %v, by the library %+v %v", line, got, err, slow, slowErr)
		}
		if err != nil {
			return
		}
		form := AppendReceipt(nil, got)
		again, err := ParseReceipt(form)
		if fast, ok := glanceReceipt(form); err != nil || again != got || !ok || fast != got || !isReceipt(form) {
			t.Errorf("%+v became %q, %+v %v", got, form, again, err)
		}
	})
}

// Whatever a state file holds, it opens, what it gives is JSON, and a snapshot of it means the same.
func FuzzState(f *testing.F) {
	for _, seed := range []string{`{"put":{"a":1,"b":null}}`, `{"put":{"a":{"put":[]}}}`, stateWhole, `{"put":null}`, `{"put":{"":""}}`, `{"put":[1]}`, `{"put":{"a":1},"put":{"b":2}}`, ""} {
		f.Add([]byte(seed), []byte(`{"put":{"a":2}}`))
	}
	f.Fuzz(func(t *testing.T, one, two []byte) {
		data := append(frame(frame(nil, one), two), one...)
		s, _ := openState(&tape{file: &Memory{data: bytes.Clone(data)}, end: int64(len(data))}, data)
		live := int64(0)
		for key, value := range s.values {
			if live += int64(len(key) + len(value)); !json.Valid(value) || isNull(value) {
				t.Errorf("%q = %q", key, value)
			}
		}
		if live != s.live {
			t.Errorf("%d bytes are held, %d counted", live, s.live)
		}
		snapshot := must(s.snapshot())
		again, whole := openState(&tape{file: &Memory{}}, snapshot)
		if !whole || again.damage.Bad != 0 || len(again.values) != len(s.values) {
			t.Errorf("%q became %q", data, snapshot)
		}
		for key, value := range s.values {
			if compact := must(lightjson.Marshal(value)); !bytes.Equal(again.values[key], compact) {
				t.Errorf("%q = %q became %q", key, value, again.values[key])
			}
		}
	})
}

// A head that is taken names a hash and a size within bounds; a file of whatever follows it opens, and reads nothing
// that does not have the hash.
func FuzzPictures(f *testing.F) {
	hash := Hash([]byte("abc"))
	for _, seed := range []string{`{"picture":"` + hash + `","size":3}`, `{"picture":"` + hash + `","size":3,"at":"` + taken + `"}`, `{"picture":"` + hash + `","size":3,"at":"now"}`,
		`{"picture":"` + hash + `","size":-1}`, `{"picture":"` + hash + `","size":9000000}`, `{"picture":"","size":3}`, `{"picture":"` + hash + `","size":4}`, `{}`} {
		f.Add([]byte(seed), []byte("abc\n"))
	}
	f.Fuzz(func(t *testing.T, line, rest []byte) {
		head, ok := readPictureHead(line)
		if ok && (!isHex(head.Picture, 64) || head.Size < 1 || head.Size > MaxPicture || head.At != "" && !isTime(head.At)) {
			t.Errorf("%q: %+v", line, head)
		}
		data := append(frame(nil, line), rest...)
		file := &slot{tape: &tape{file: &Memory{data: bytes.Clone(data)}, end: int64(len(data))}, data: data}
		state, _ := openState(&tape{file: &Memory{}}, nil)
		p := &Pictures{state: state, limit: pictureFile}
		p.open(file)
		for _, picture := range p.List() {
			if content, err := p.Read(picture.Hash); err == nil && Hash(content) != picture.Hash {
				t.Errorf("%q is not %s", content, picture.Hash)
			}
		}
		content := []byte("another")
		if err := p.Add(Hash(content), content, taken); err != nil || !bytes.Equal(must(p.Read(Hash(content))), content) {
			t.Error("nothing can be added:", err)
		}
	})
}
