package journal

import (
	"bytes"
	"strconv"
	"strings"
	"testing"

	"jointwalk/sync/journal/badfile"
)

// crowd writes to every stream and takes every file that can be had. It gives what was saved.
func crowd(t *testing.T, p *Pool, n int) []string {
	t.Helper()
	p.log.limit = 1
	saved := texts(must(p.Log().Append(drafts(n, n+2))))
	p.State().later, p.State().live = 0, 0
	if err := p.State().Set("n", n); err != nil {
		t.Fatal(err)
	}
	h, b := image(n)
	if err := p.Pictures().Add(h, b, taken); err != nil && CodeOf(err) != CodeNoRoomForSite {
		t.Fatal(err)
	}
	for i := range 9 {
		if f, err := p.Site("site-" + strconv.Itoa(i)); err == nil {
			must(f.Append(pairs(t, logB, 0, 2)))
		} else if CodeOf(err) != CodeNoRoomForSite {
			t.Fatal(err)
		}
	}
	return saved
}

// A file is missing at a start, missing again at the next, found at the third: only then anything is kept in it. Whatever
// the file was, the other streams lose nothing, and no number is given twice.
func TestAFileMissingAndMissingAgain(t *testing.T) {
	for i := range 7 {
		p, files := busy(t)
		stream := p.slots[i].header.Stream
		saved := lines(t, p.Log())
		numbers := map[string]bool{}
		if stream == streamOwn {
			saved = nil
		}
		for start := range 2 {
			files[i] = badfile.New(nil)
			p = must(pool(t, files, uid(2+start), i))
			if r := p.Report(); strings.Join(r.Lost, " ") != "pool-"+strconv.Itoa(i) || r.First || r.Bad != 0 {
				t.Errorf("file %d (%s), start %d: %+v", i, stream, start, r)
			}
			saved = append(saved, crowd(t, p, 10+10*start)...)
			if must(files[i].Size()) != 0 || p.slots[i].trusted {
				t.Errorf("file %d (%s), start %d: something was kept in a file made anew", i, stream, start)
			}
			if got := lines(t, p.Log()); !same(got, saved) {
				t.Errorf("file %d (%s), start %d: %d lines, %d saved", i, stream, start, len(got), len(saved))
			}
		}
		p, files = restart(t, files, 0, uid(5))
		saved = append(saved, crowd(t, p, 40)...)
		if must(files[i].Size()) == 0 || !p.slots[i].trusted || len(p.Report().Lost) != 0 {
			t.Errorf("file %d (%s): found, and not used", i, stream)
		}
		p, _ = restart(t, files, 0, uid(6))
		for _, line := range lines(t, p.Log()) {
			e := must(Parse(Line(line)))
			key := e.Log + "/" + digits(int(e.Seq))
			if numbers[key] {
				t.Errorf("file %d (%s): %s twice", i, stream, key)
			}
			numbers[key] = true
		}
		var n int
		if ok, err := p.State().Load("n", &n); !same(lines(t, p.Log()), saved) || !ok || err != nil || n != 40 || p.Report().Bad != 0 {
			t.Errorf("file %d (%s): %d lines of %d, n is %d", i, stream, len(lines(t, p.Log())), len(saved), n)
		}
		if h, b := image(1); stream != streamPictures && !bytes.Equal(must(p.Pictures().Read(h)), b) {
			t.Errorf("file %d (%s): a picture is gone", i, stream)
		}
		if stream != "site:site-1" && must(p.Site("site-1")).Len() != 3 {
			t.Errorf("file %d (%s): the feed is gone", i, stream)
		}
	}
}

// All files but one are missing: what is left is read, nothing is kept until a later start has found them again.
func TestAllButOneMissing(t *testing.T) {
	for kept := range 7 {
		p, files := busy(t)
		stream, saved := p.slots[kept].header.Stream, lines(t, p.Log())
		var fresh []int
		for i := range files {
			if i != kept {
				files[i] = badfile.New(nil)
				fresh = append(fresh, i)
			}
		}
		p, err := pool(t, files, uid(2), fresh...)
		if CodeOf(err) != CodeNoTrustedFile {
			t.Errorf("%s: opened with one file: %v %+v", stream, err, p)
		}
		for _, i := range fresh {
			if must(files[i].Size()) != 0 {
				t.Errorf("%s: file %d was written", stream, i)
			}
		}
		p, _ = restart(t, files, 0, uid(3))
		if got := lines(t, p.Log()); stream == streamOwn && !same(got, saved) {
			t.Errorf("%d lines of the file that was left", len(got))
		}
		if h, b := image(1); stream == streamPictures && !bytes.Equal(must(p.Pictures().Read(h)), b) {
			t.Error("the picture of the file that was left is gone")
		}
		if stream == "site:site-1" && must(p.Site("site-1")).Len() != 3 {
			t.Error("the feed of the file that was left is gone")
		}
		must(p.Log().Append(drafts(5, 6)))
	}
}

// Torn at every byte: a state has all keys of a put or none, and is written on.
func TestStateTornAtEveryByte(t *testing.T) {
	p, files := newPool(t, 4)
	p.State().Set("a", 1)
	files[0].Power = &badfile.Power{}
	if p.State().Set("b", strings.Repeat("x", 50)) == nil {
		t.Fatal("kept without power")
	}
	for keep := 0; keep <= files[0].Pending(); keep++ {
		p, after := restart(t, files, keep, uid(2))
		keys := strings.Join(p.State().Keys(""), " ")
		if keys != "a" && (keys != "a b" || keep < files[0].Pending()) || p.Report().Bad != 0 {
			t.Fatalf("torn after %d bytes: %q", keep, keys)
		}
		if p.State().Set("c", 3) != nil {
			t.Fatal("not written on")
		}
		p, _ = restart(t, after, 0, uid(3))
		if got := strings.Join(p.State().Keys(""), " "); got != keys+" c" {
			t.Fatalf("torn after %d bytes: %q, then %q", keep, keys, got)
		}
	}
}

// A bad line in the middle of any stream is told and kept aside, stays in its file, and takes nothing along: not in this
// start, not in the next, not when its file is written on.
func TestABadLineInEachStream(t *testing.T) {
	for i, find := range map[int]string{0: `"b"`, 1: `"seq":2`, 2: `"seq":2`, 3: `"size"`} {
		p, files := busy(t)
		for _, key := range []string{"a", "b", "c"} {
			p.State().Set(key, key)
		}
		for n := 2; n < 4; n++ {
			h, b := image(n)
			p.Pictures().Add(h, b, taken)
		}
		data := files[i].Bytes()
		at := bytes.Index(data, []byte(find))
		if i == 3 {
			at += 20 + bytes.Index(data[at+20:], []byte(find)) // the second picture's head
		}
		data[at+1] ^= 1
		begin := bytes.LastIndexByte(data[:at], '\n') + 1
		bad := data[begin : begin+bytes.IndexByte(data[begin:], '\n')]
		files[i] = badfile.New(data)
		for start := range 2 {
			p, files = restart(t, files, 0, uid(2+start))
			r := p.Report()
			if r.Bad == 0 || !bytes.Contains(files[i].Bytes(), bad) {
				t.Errorf("file %d, start %d: %+v", i, start, r)
			}
			for _, f := range r.Files {
				if f.Damage.Bad > 0 && (f.Name != "pool-"+strconv.Itoa(i) || !bytes.Contains(f.Damage.Aside[0].Bytes, bad) && i != 3) {
					t.Errorf("file %d, start %d: told of %s: %v", i, start, f.Name, f.Damage.Aside)
				}
			}
			want := map[int][4]int{0: {3, 3, 3, 3}, 1: {4, 2, 3, 3}, 2: {4, 3, 2, 3}, 3: {4, 3, 3, 2}}[i]
			got := [4]int{len(p.State().Keys("")) - start, len(lines(t, p.Log())) - start, must(p.Site("site-1")).Len(), len(p.Pictures().List()) - start}
			if got != want {
				t.Errorf("file %d, start %d: keys, lines, pairs, pictures are %v, want %v", i, start, got, want)
			}
			p.State().Set("more", 1)
			must(p.Log().Append(drafts(50, 51)))
			h, b := image(50)
			if err := p.Pictures().Add(h, b, taken); err != nil {
				t.Error(err)
			}
		}
	}
}
