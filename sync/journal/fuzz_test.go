package journal

import (
	"bytes"
	"encoding/json"
	"testing"
	"unicode/utf8"
)

// What Parse takes is one line of JSON, and the fast reader agrees with the slow one about it.
func FuzzParse(f *testing.F) {
	good := string(written(f, logA, 2)[1])
	for _, seed := range []string{good, good + " ", good[1:], "", "{}", "null", `{"v":1,"v":2}`, `{"V":1}`} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, line []byte) {
		e, err := Parse(line)
		if err != nil {
			if code := CodeOf(err); code != CodeBadLine && code != CodeLineTooLong {
				t.Errorf("code %q", code)
			}
			return
		}
		if len(line) > MaxLine || !utf8.Valid(line) || bytes.ContainsAny(line, "\n\r") || !json.Valid(line) {
			t.Errorf("taken: %q", line)
		}
		g, ok := glanceOrParse(line)
		if !ok || !g.agrees(&e) {
			t.Errorf("read in two ways: %q", line)
		}
		good, bad, tail := scan(frame(nil, line))
		if len(good) != 1 || good[0] != string(line) || bad != 0 || len(tail) != 0 {
			t.Errorf("does not survive its frame: %q", line)
		}
	})
}

// Whatever a file holds, the pieces and the tail make up the file, in order, and what is called good has its checksum.
func FuzzScan(f *testing.F) {
	data, _ := three()
	for _, seed := range [][]byte{data, data[:20], data[5:], []byte("\n\n\t\n"), bytes.Replace(data, []byte("\n"), []byte("x"), 1), nil} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		s := scanner{data: data}
		at := int64(0)
		for p, ok := s.next(); ok; p, ok = s.next() {
			if p.offset < at || p.offset > at+1 {
				t.Fatalf("a piece at %d, expected at %d", p.offset, at)
			}
			raw := p.bad
			at = p.offset + int64(len(p.bad))
			if p.line != nil {
				raw = p.line
				at = p.offset + int64(len(p.line)) + frameExtra
				if checksum(p.line) != p.sum {
					t.Fatal("a good line without its checksum")
				}
			}
			if !bytes.Equal(data[p.offset:int(p.offset)+len(raw)], raw) {
				t.Fatal("a piece that does not stand where it says")
			}
		}
		if int(at)+len(s.tail()) != len(data) && int(at)+1+len(s.tail()) != len(data) {
			t.Errorf("%d bytes in pieces, %d in the tail, of %d", at, len(s.tail()), len(data))
		}
	})
}

// Whatever a file holds, a log, a feed and a pool open over it and can be written.
func FuzzOpen(f *testing.F) {
	own, feed := &Memory{}, &Memory{}
	must(must(OpenLog(own, logA)).Append(drafts(0, 3)))
	must(openFeed(&tape{file: feed}, nil, "m", nil).Append(pairs(f, logB, 0, 3)))
	p, files := newPool(f, 4)
	h, b := image(1)
	p.Pictures().Add(h, b, taken)
	p.State().Set("me", 1)
	for _, seed := range [][]byte{own.data, feed.data, feed.data[300:], files[0].Bytes(), files[1].Bytes(), files[2].Bytes(), []byte("\n"), []byte("x")} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, data []byte) {
		l := must(OpenLog(&Memory{data: bytes.Clone(data)}, logA))
		if _, err := l.Append(drafts(0, 1)); err != nil && l.Seq() < MaxNumber {
			t.Error(err)
		}
		slots := []Slot{{Name: "a", File: &Memory{data: bytes.Clone(data)}}, {Name: "b", File: &Memory{}}, {Name: "c", File: &Memory{}}}
		p, err := OpenPool(slots, logB)
		if err != nil {
			t.Fatal(err)
		}
		if err := p.State().Set("k", 1); err != nil {
			t.Error(err)
		}
		for _, site := range p.Sites() {
			if err := must(p.Site(site)).Each(func(Pair) bool { return true }); err != nil {
				t.Error(err)
			}
		}
	})
}
