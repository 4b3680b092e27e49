package journal

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"

	"jointwalk/sync/journal/badfile"
	"jointwalk/sync/lightjson"
	"pgregory.net/rapid"
)

// The forms below are on phones already: a change here is a change of format, which is not allowed.
// Files made by an earlier build must open for ever.

const (
	goldenOwn = `{"pool":1,"generation":2,"stream":"own","mark":"01890000-0000-7000-8000-000000000001.2"}` + "\tCRC\n" +
		goldenEvent + "\tCRC\n" + goldenSecond + "\tCRC\n"
	goldenEvent = `{"v":1,"id":"01890000-0000-7000-8000-0000000003e8","log":"01890000-0000-7000-8000-000000000001","seq":1,"prev":"","tick":1,` +
		`"time":"2026-03-04T05:06:07.089Z","zone":"Europe/Paris","by":"person-1","about":{"site":"site-1","fixture":"fixture-1","of":"joint-1"},` +
		`"kind":"look","body":{"n":0,"note":"a <b> & µ \t tab"}}`
	goldenSecond = `{"v":1,"id":"01890000-0000-7000-8000-0000000003e9","log":"01890000-0000-7000-8000-000000000001","seq":2,"prev":"PREV","tick":2,` +
		`"time":"2026-03-04T05:06:07.089Z","zone":"Europe/Paris","by":"person-1","about":{"site":"site-1","fixture":"fixture-1","of":"joint-1"},` +
		`"kind":"look","body":{"n":1,"note":"a <b> & µ \t tab"}}`
	goldenState = `{"pool":1,"generation":1,"stream":"state","mark":"01890000-0000-7000-8000-000000000001.1"}` + "\tCRC\n" +
		`{"whole":true}` + "\tCRC\n" + `{"put":{"a":1,"me":"x<y"}}` + "\tCRC\n" + `{"put":{"a":null}}` + "\tCRC\n"
	goldenSite = `{"pool":1,"generation":3,"stream":"site:site-1","mark":"01890000-0000-7000-8000-000000000001.3"}` + "\tCRC\n" +
		goldenEvent + "\tCRC\n" + `{"n":1,"at":"2026-03-04T05:06:08.000Z","offset":-5,"from":"device-1"}` + "\tCRC\n"
	goldenPictures = `{"pool":1,"generation":4,"stream":"pictures","mark":"01890000-0000-7000-8000-000000000001.4"}` + "\tCRC\n" +
		`{"picture":"ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad","size":3}` + "\tCRC\nabc\n"
	goldenDatedPictures = `{"pool":1,"generation":4,"stream":"pictures","mark":"01890000-0000-7000-8000-000000000001.4"}` + "\tCRC\n" +
		`{"picture":"ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad","size":3,"at":"2026-03-04T05:06:07.089Z"}` + "\tCRC\nabc\n"
)

// golden gives the bytes of a golden file: the checksum of each line and the hash of the line before are filled in.
func golden(text string) []byte {
	text = strings.ReplaceAll(text, "PREV", Hash(Line(goldenEvent)))
	var out []byte
	for _, line := range strings.SplitAfter(text, "\n") {
		if bare, framed := strings.CutSuffix(line, "\tCRC\n"); framed {
			out = frame(out, []byte(bare))
		} else {
			out = append(out, line...)
		}
	}
	return out
}

func goldenFiles() []*badfile.File {
	var files []*badfile.File
	for _, text := range []string{goldenState, goldenOwn, goldenSite, goldenPictures, "", ""} {
		files = append(files, badfile.New(golden(text)))
	}
	return files
}

func TestWhatIsWrittenIsAlwaysTheSame(t *testing.T) {
	p, files := newPool(t, 6)
	must(p.Log().Append(drafts(0, 2)))
	p.State().Put(map[string]json.RawMessage{"me": json.RawMessage(`"x<y"`), "a": json.RawMessage("1")})
	p.State().Drop("a")
	site := must(p.Site("site-1"))
	must(site.Append([]Pair{{Line: Line(goldenEvent), Receipt: Receipt{N: 1, At: "2026-03-04T05:06:08.000Z", Offset: -5, From: "device-1"}}}))
	p.Pictures().Add(Hash([]byte("abc")), []byte("abc"), taken)
	now := goldenFiles()
	now[3] = badfile.New(golden(goldenDatedPictures)) // earlier builds kept no time
	for i, want := range now {
		if got := files[i].Bytes(); !bytes.Equal(got, want.Bytes()) {
			t.Errorf("file %d\ngot  %q\nwant %q", i, got, want.Bytes())
		}
	}
}

func TestWhatWasWrittenIsRead(t *testing.T) {
	p := must(pool(t, goldenFiles(), uid(7)))
	if got := lines(t, p.Log()); len(got) != 2 || got[0] != goldenEvent || p.Log().ID() != uid(1) || p.Log().Seq() != 2 || p.Log().Tick() != 2 {
		t.Errorf("%d lines of %s", len(got), p.Log().ID())
	}
	if n, err := p.Log().Verify(); n != 0 || err != nil {
		t.Errorf("%d broken links, %v", n, err)
	}
	var me string
	if ok, err := p.State().Load("me", &me); !ok || err != nil || me != "x<y" || len(p.State().Keys("")) != 1 {
		t.Errorf("me %q, keys %v", me, p.State().Keys(""))
	}
	site := must(p.Site("site-1"))
	if got := held(t, site); len(got) != 1 || !strings.HasPrefix(got[0], goldenEvent+`{"n":1,`) || site.Mark() != uid(1)+".3" {
		t.Errorf("%v, mark %s", got, site.Mark())
	}
	if got := string(must(p.Pictures().Read(Hash([]byte("abc"))))); got != "abc" || p.Pictures().Waiting() != 1 {
		t.Error(got)
	}
	if r := p.Report(); r.Bad != 0 || r.Free != 2 {
		t.Errorf("%+v", r)
	}
	files := goldenFiles()
	files[3] = badfile.New(golden(goldenDatedPictures))
	if got, was := must(pool(t, files, uid(7))).Pictures().List()[0], p.Pictures().List()[0]; got.At != taken || was.At != "" {
		t.Errorf("taken at %q, %q", got.At, was.At)
	}
}

// Fields that a later build adds to headers, state lines, receipts and picture heads do not hinder this one.
func TestLaterFieldsAreLetThrough(t *testing.T) {
	later := strings.NewReplacer(`"pool":1,`, `"pool":1,"later":true,`, `{"put":{"a":1,"me":"x<y"}}`, `{"put":{"a":1,"me":"x<y"},"later":[1]}`,
		`"size":3}`, `"size":3,"later":{}}`, `"from":"device-1"}`, `"from":"device-1","later":""}`, `"v":1,`, `"v":1,"later":0,`)
	var files []*badfile.File
	for _, text := range []string{goldenState, goldenOwn, goldenSite, goldenPictures, "", ""} {
		files = append(files, badfile.New(golden(later.Replace(text))))
	}
	p := must(pool(t, files, uid(7)))
	if p.Log().Count(nil) != 2 || len(p.State().Keys("")) != 1 || must(p.Site("site-1")).Len() != 1 || p.Pictures().Waiting() != 1 || p.Report().Bad != 0 {
		t.Errorf("%+v", p.Report())
	}
}

// Wherever one stretch of a file is overwritten, every line that it does not touch is read.
func TestDamageTakesOnlyWhatItTouches(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		var data []byte
		var starts []int
		var all []string
		for i := range rapid.IntRange(2, 8).Draw(rt, "lines") {
			line := string(must(lightjson.Marshal(map[string]any{"i": i, "s": rapid.String().Draw(rt, "text")})))
			starts, all = append(starts, len(data)), append(all, line)
			data = frame(data, []byte(line))
		}
		from := rapid.IntRange(0, len(data)-1).Draw(rt, "from")
		junk := rapid.SliceOfN(rapid.Byte(), 1, 40).Draw(rt, "junk")
		hurt := bytes.Clone(data)
		n := copy(hurt[from:], junk)
		good, _, tail := scan(hurt)
		read := map[string]bool{}
		for _, line := range good {
			read[line] = true
		}
		for i, line := range all {
			touched := from < starts[i]+len(line)+frameExtra && from+n > starts[i]
			torn := len(tail) > 0 && starts[i] >= len(data)-len(tail)
			if !touched && !torn && !read[line] {
				rt.Fatalf("line %d is lost, though bytes %d to %d are elsewhere", i, from, from+n)
			}
		}
	})
}
