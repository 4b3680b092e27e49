package journal

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	"jointwalk/sync/lightjson"
	"pgregory.net/rapid"
)

// agree fails unless reading by bytes and by the standard library give the same, wherever the first says yes.
func agree(t testing.TB, line []byte) {
	t.Helper()
	oneLine := len(line) <= MaxLine && utf8.Valid(line) && !bytes.ContainsAny(line, "\n\r")
	fast, ok := envelope(line)
	ok = ok && oneLine && fast.wrong() == "" && json.Valid(fast.Body)
	var slow Event
	var err error = &Fault{Code: CodeBadLine}
	if oneLine {
		slow, err = parseSlowly(line)
	}
	if ok && (err != nil || !reflect.DeepEqual(fast, slow)) {
		t.Errorf("%q\nby bytes      %+v\nby the library %+v %v", line, fast, slow, err)
	}
	parsed, parseErr := Parse(line)
	if (parseErr == nil) != (err == nil) || !reflect.DeepEqual(parsed, slow) && err == nil {
		t.Errorf("Parse of %q: %+v %v, by the library %+v %v", line, parsed, parseErr, slow, err)
	}
	if err != nil {
		return
	}
	if glanced, bad := Glance(line); bad != nil || !reflect.DeepEqual(glanced, slow) {
		t.Errorf("Glance of %q: %+v %v, by the library %+v", line, glanced, bad, slow)
	}
	about := [...]string{slow.About.Fixture, slow.About.Of, slow.Kind}
	if o, skimmed := Skim(line); skimmed && ok && about != [...]string{string(o.Fixture), string(o.Of), string(o.Kind)} {
		t.Errorf("Skim of %q: %q, by the library %q", line, o, about)
	} else if ok && !skimmed {
		t.Errorf("not skimmed: %q", line)
	}
}

// strange are changes of a line that one reader could take for something else than the other.
var strange = [][2]string{
	{`"v":1`, `"v":01`}, {`"v":1`, `"v":1.0`}, {`"v":1`, `"v":1e0`}, {`"v":1`, `"v":-1`}, {`"v":1`, `"v": 1`}, {`"v":1`, `"V":1`},
	{`"v":1,`, `"v":1,"v":2,`}, {`"v":1,`, `"v":1048577,`}, {`"v":1,`, `"v":18446744073709551617,`}, {`"seq":2`, `"seq":9007199254740992`},
	{`"seq":2`, `"seq":1`}, {`"tick":2`, `"tick":0`}, {`"tick":2`, `"tick":999999999999999999`}, {`"tick":2,`, `"tick":2,"later":1,`},
	{`person-1`, `person\u002d1`}, {`person-1`, `person\"1`}, {`person-1`, `person\\1`}, {`person-1`, "person\xff"}, {`person-1`, "person\x01"}, {`person-1`, `pérson`},
	{`person-1`, ``}, {`site-1`, ``}, {`"fixture":"fixture-1",`, ``}, {`"fixture":"fixture-1"`, `"fixture":""`}, {`"of":"joint-1"`, `"of":""`}, {`,"of":"joint-1"`, ``},
	{`"fixture":"fixture-1","of":"joint-1"`, `"of":"joint-1","fixture":"fixture-1"`}, {`"of":"joint-1"`, `"of":"joint-1","site":"other"`}, {`"of":"joint-1"`, `"of":"joint-1","room":"r"`},
	{`"body":`, `"base":"","body":`}, {`"body":`, `"base":"e-9","body":`}, {`"body":`, `"base":"e 9","body":`}, {`"body":`, `"base":null,"body":`}, {`"body":`, `"body":{},"body":`},
	{`"body":{`, `"body": {`}, {`"}}`, `"} }`}, {`"}}`, `"}}}`}, {`"}}`, `"}`}, {`"}}`, `"},"log":"x"}`}, {`"}}`, `"},"Body":{}}`}, {`"}}`, `"}} `}, {`"n":1`, `"n":01`}, {`"n":1`, `"n":{"n":[[]]}`},
	{`"n":1`, `"n":1,"n":2`}, {`"n":1`, "\"n\":\n1"}, {`"n":1`, "\"n\":\r1"}, {`"n":1`, "\"n\":\t1"}, {`a <b>`, "a \xff"}, {`a <b>`, "a \u2028"}, {`a <b>`, `a \ud800`}, {`{"v"`, ` {"v"`},
	{`"body":{`, `"body":[{`}, {`"body":{`, `"body":"{`}, {`,"kind":"look"`, `,"kind":"look","by":"b"`}, {`Z","zone"`, `","zone"`}, {`2026-03-04`, `2026-02-30`},
}

func TestBothReadersAgreeOnStrangeLines(t *testing.T) {
	good := string(written(t, logA, 2)[1])
	agree(t, []byte(good))
	for _, change := range strange {
		line := strings.Replace(good, change[0], change[1], 1)
		if line == good {
			t.Errorf("%q is not in the line", change[0])
		}
		agree(t, []byte(line))
	}
	for at := range good {
		agree(t, []byte(good[:at]))
		for _, b := range []byte{'"', '\\', '{', '}', ',', ' ', '0', 0, 0xff} {
			hurt := []byte(good)
			hurt[at] = b
			agree(t, hurt)
		}
	}
}

// token is a word as an envelope may have it.
func token(rt *rapid.T, name string) string {
	return rapid.StringMatching(`[!#-\[\]-~]{1,20}`).Draw(rt, name)
}

// anyDraft draws a draft with whatever a screen could put into it.
func anyDraft(rt *rapid.T) Draft {
	d := Draft{ID: uid(rapid.IntRange(0, 1<<40).Draw(rt, "id")), Time: taken, Zone: token(rt, "zone"), By: token(rt, "by"),
		About: About{Site: token(rt, "site")}, Kind: token(rt, "kind"), V: rapid.IntRange(0, 1<<20).Draw(rt, "v"),
		Body: rapid.MapOf(rapid.String(), rapid.String()).Draw(rt, "body")}
	if rapid.Bool().Draw(rt, "fixture") {
		d.About.Fixture = token(rt, "fixture")
	}
	if rapid.Bool().Draw(rt, "of") {
		d.About.Of = token(rt, "of")
	}
	if rapid.Bool().Draw(rt, "base") {
		d.Base = token(rt, "base")
	}
	return d
}

// What is written by bytes is what the standard library writes, it is read by bytes, and both readers agree on it,
// with a piece of it changed or not.
func TestWrittenLinesAreTheLibrarys(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := anyDraft(rt)
		at := place{log: logA, seq: rapid.Uint64Range(2, MaxNumber).Draw(rt, "seq"), prev: strings.Repeat("0a", 32), tick: rapid.Uint64Range(1, MaxNumber).Draw(rt, "tick")}
		line, err := d.line(at)
		if CodeOf(err) == CodeLineTooLong {
			return
		}
		if err != nil {
			rt.Fatal(err)
		}
		e, ok := envelope(line)
		if want := must(lightjson.Marshal(e)); !ok || !bytes.Equal(line, want) {
			rt.Fatalf("written %q, the library writes %q", line, want)
		}
		agree(t, line)
		hurt := bytes.Clone(line)
		from := rapid.IntRange(0, len(hurt)-1).Draw(rt, "from")
		copy(hurt[from:], rapid.SliceOfN(rapid.Byte(), 1, 4).Draw(rt, "junk"))
		agree(t, hurt)
	})
}

func TestADraftThatIsNotUTF8IsRefused(t *testing.T) {
	d := draft(1)
	d.Body = json.RawMessage("{\"a\":\"\xff\"}")
	if _, err := must(OpenLog(&Memory{}, logA)).Append([]Draft{d}); CodeOf(err) != CodeBadLine {
		t.Error(err)
	}
}

// A glance costs one copy of the words; the body is a part of the line.
func TestGlanceCopiesLittle(t *testing.T) {
	line := written(t, logA, 1)[0]
	if n := testing.AllocsPerRun(100, func() { must(Glance(line)) }); n > 1 {
		t.Errorf("%v allocations", n)
	}
	e := must(Glance(line))
	if &e.Body[0] != &line[len(line)-1-len(e.Body)] || cap(e.Body) != len(e.Body) {
		t.Error("the body is a copy, or can be appended into the line")
	}
	if p := must(Parse(line)); &p.Body[0] == &line[len(line)-1-len(p.Body)] {
		t.Error("what Parse gives changes with the line")
	}
}
