package journal

import (
	"bytes"
	"strings"
	"testing"

	"jointwalk/sync/journal/badfile"
)

func TestLogChainsItsLines(t *testing.T) {
	f := &Memory{}
	l := must(OpenLog(f, logA))
	a := must(l.Append(drafts(0, 3)))
	l = must(OpenLog(f, logB)) // the id of an empty log only
	b := must(l.Append(drafts(3, 5)))
	prev := ""
	for i, line := range append(a, b...) {
		e := must(Parse(line))
		if e.Log != logA || e.Seq != uint64(i+1) || e.Prev != prev || e.Tick != uint64(i+1) {
			t.Errorf("line %d: %+v", i, e)
		}
		prev = Hash(line)
	}
	if got := lines(t, l); !same(got, texts(append(a, b...))) {
		t.Error("Each gives other lines than Append")
	}
	if d := must(OpenLog(f, logB)).Damage(); d.Bad+d.Torn+d.Broken != 0 {
		t.Errorf("%+v", d)
	}
}

func TestTicksFollowWhatWasWitnessed(t *testing.T) {
	l := must(OpenLog(&Memory{}, logA))
	l.Witness(40)
	l.Witness(7)
	l.Witness(MaxNumber) // forged: not believed
	if e := must(Parse(must(l.Append(drafts(0, 1)))[0])); e.Tick != 41 || l.Tick() != 41 {
		t.Errorf("tick %d, counter %d", e.Tick, l.Tick())
	}
}

func TestAppendNothing(t *testing.T) {
	f := badfile.New(nil)
	f.BreakFor(badfile.WriteError)
	if lines, err := must(OpenLog(f, logA)).Append(nil); err != nil || lines != nil {
		t.Error(lines, err)
	}
}

func TestABadDraftWritesNothing(t *testing.T) {
	f := &Memory{}
	l := must(OpenLog(f, logA))
	for name, spoil := range map[string]func(*Draft){
		"no id": func(d *Draft) { d.ID = "" }, "no time": func(d *Draft) { d.Time = "now" }, "no kind": func(d *Draft) { d.Kind = "" },
		"no body": func(d *Draft) { d.Body = nil }, "a list": func(d *Draft) { d.Body = []int{1} }, "no JSON": func(d *Draft) { d.Body = func() {} },
		"no site": func(d *Draft) { d.About.Site = "" }, "too long": func(d *Draft) { d.Body = map[string]string{"x": strings.Repeat("x", MaxLine)} },
	} {
		ds := drafts(0, 2)
		spoil(&ds[1])
		if _, err := l.Append(ds); CodeOf(err) != CodeBadLine && CodeOf(err) != CodeLineTooLong {
			t.Errorf("%s: %v", name, err)
		}
	}
	if size, _ := f.Size(); size != 0 || l.Seq() != 0 || l.Tick() != 0 {
		t.Error("something was kept of a bad batch")
	}
}

// After a write that failed in any way the log is as before, usable, and a crash finds only what was acknowledged.
func TestLogAfterEveryFlaw(t *testing.T) {
	for _, flaw := range badfile.Flaws {
		if flaw == badfile.CutError {
			continue
		}
		f := badfile.New(nil)
		l := must(OpenLog(f, logA))
		kept := texts(must(l.Append(drafts(0, 2))))
		f.BreakFor(flaw)
		for range 2 {
			if _, err := l.Append(drafts(2, 4)); CodeOf(err) == "" {
				t.Fatalf("flaw %d went unseen", flaw)
			}
		}
		f.Break()
		if l.Seq() != 2 || l.Tick() != 2 || !same(lines(t, l), kept) || l.Count(nil) != 2 {
			t.Errorf("flaw %d changed the log", flaw)
		}
		kept = append(kept, texts(must(l.Append(drafts(4, 6))))...)
		again := must(OpenLog(f.Crash(0), logB))
		if d := again.Damage(); !same(lines(t, again), kept) || d.Bad+d.Broken+d.Torn != 0 {
			t.Errorf("flaw %d: a restart finds %d lines, %+v", flaw, len(again.entries), d)
		}
	}
}

// A crash at every byte of a write keeps every acknowledged line, cuts the torn one, and writing goes on.
func TestLogTornAtEveryByte(t *testing.T) {
	f := badfile.New(nil)
	l := must(OpenLog(f, logA))
	kept := texts(must(l.Append(drafts(0, 2))))
	f.Power = &badfile.Power{Left: 0}
	if _, err := l.Append(drafts(2, 4)); err == nil {
		t.Fatal("saved without power")
	}
	for keep := 0; keep <= f.Pending(); keep++ {
		after := f.Crash(keep)
		again := must(OpenLog(after, logB))
		got := lines(t, again)
		if len(got) < 2 || !same(got[:2], kept) || again.Damage().Bad != 0 || again.Damage().Broken != 0 {
			t.Fatalf("torn after %d bytes: %d lines, %+v", keep, len(got), again.Damage())
		}
		more := texts(must(again.Append(drafts(9, 10))))
		last := must(OpenLog(after.Crash(0), logB))
		if !same(lines(t, last), append(got, more...)) || last.Damage().Torn+last.Damage().Bad+last.Damage().Broken != 0 {
			t.Fatalf("torn after %d bytes: writing on went wrong", keep)
		}
	}
}

func TestABadLineInTheMiddle(t *testing.T) {
	f := &Memory{}
	l := must(OpenLog(f, logA))
	all := texts(must(l.Append(drafts(0, 4))))
	at := bytes.IndexByte(f.data, '\n') + 20
	f.data[at] ^= 1
	l = must(OpenLog(f, logB))
	d := l.Damage()
	if got := lines(t, l); !same(got, []string{all[0], all[2], all[3]}) {
		t.Fatalf("%d lines", len(got))
	}
	if d.Bad != 1 || d.Broken != 1 || len(d.Aside) != 1 || !bytes.Contains(d.Aside[0].Bytes, []byte(`"seq":2`)) || d.Aside[0].Offset != int64(bytes.IndexByte(f.data, '\n')+1) {
		t.Errorf("%+v", d)
	}
	e := must(Parse(must(l.Append(drafts(4, 5)))[0]))
	if e.Seq != 5 || e.Prev != Hash(Line(all[3])) {
		t.Errorf("the log goes on at %d", e.Seq)
	}
	if again := must(OpenLog(f, logB)); again.Damage().Bad != 1 || again.Count(nil) != 4 {
		t.Error("the bad stretch is not there any more")
	}
}

func TestVerifyFollowsTheWholeChain(t *testing.T) {
	f := &Memory{}
	l := must(OpenLog(f, logA))
	must(l.Append(drafts(0, 3)))
	forged := must(OpenLog(&Memory{}, logA))
	must(forged.Append(drafts(7, 8)))
	other := must(forged.Append(drafts(8, 9)))[0] // seq 2 of another history
	second := bytes.IndexByte(f.data, '\n') + 1
	third := second + bytes.IndexByte(f.data[second:], '\n') + 1
	f.data = append(frame(bytes.Clone(f.data[:second]), other), f.data[third:]...)
	l = must(OpenLog(f, logB))
	if d := l.Damage(); d.Bad != 0 || d.Broken != 2 {
		t.Errorf("%+v", d)
	}
	must(l.Append(drafts(10, 10+2*linksAtOpen)))
	l = must(OpenLog(f, logB, &Memory{}))
	if n, err := l.Verify(); n != 2 || err != nil || l.Damage().Broken != 0 {
		t.Errorf("%d broken links, %v, at open %+v", n, err, l.Damage())
	}
}

func TestAsideIsBounded(t *testing.T) {
	var d Damage
	for range 10 {
		d.skip(piece{bad: make([]byte, MaxAside/4)})
	}
	if d.Bad != 10 || len(d.Aside) != 4 {
		t.Errorf("%d bad, %d aside", d.Bad, len(d.Aside))
	}
}

func TestAfter(t *testing.T) {
	l := must(OpenLog(&Memory{}, logA))
	all := texts(must(l.Append(drafts(0, 10))))
	size := len(all[0]) + len(all[1]) + len(all[2]) + 3
	for _, c := range []struct {
		upto       Frontier
		most, size int
		want       []string
	}{
		{nil, 100, 1 << 20, all}, {Frontier{logA: 3}, 100, 1 << 20, all[3:]}, {Frontier{logA: 3}, 2, 1 << 20, all[3:5]},
		{Frontier{logA: 10}, 100, 1 << 20, nil}, {Frontier{logB: 10}, 1, 1 << 20, all[:1]}, {nil, 100, 1, all[:1]},
		{nil, 100, size, all[:3]}, {nil, 100, size - 1, all[:2]}, {nil, 0, 1 << 20, nil},
	} {
		if got := texts(must(l.After(c.upto, c.most, c.size))); !same(got, c.want) {
			t.Errorf("After(%v, %d, %d): %d lines, want %d", c.upto, c.most, c.size, len(got), len(c.want))
		}
	}
	if n := l.Count(Frontier{logA: 3}); n != 7 {
		t.Error(n)
	}
}

func TestOldest(t *testing.T) {
	f := &Memory{}
	l := must(OpenLog(f, logA))
	all := must(l.Append(drafts(0, 3)))
	l.Renew(logB)
	all = append(all, must(l.Append(drafts(3, 4)))...)
	for i, upto := range []Frontier{nil, {logA: 1}, {logA: 2}, {logA: 3}} {
		if got, ok := l.Oldest(upto); !ok || string(got) != string(all[i]) {
			t.Errorf("beyond %v: %s", upto, got)
		}
	}
	if got, ok := l.Oldest(Frontier{logA: 3, logB: 1}); ok {
		t.Errorf("%s", got)
	}
	f.data[30] ^= 1
	if got, ok := l.Oldest(nil); !ok || string(got) != string(all[1]) {
		t.Errorf("the first line that can be read: %s", got)
	}
}

func TestAfterSeesALineThatChanged(t *testing.T) {
	f := &Memory{}
	l := must(OpenLog(f, logA))
	must(l.Append(drafts(0, 1)))
	f.data[30] ^= 1
	if _, err := l.After(nil, 1, 1); CodeOf(err) != CodeReadFailed {
		t.Error(err)
	}
}

func TestRenewBeginsAnotherLog(t *testing.T) {
	f := &Memory{}
	l := must(OpenLog(f, logA))
	must(l.Append(drafts(0, 2)))
	l.Renew(logB)
	e := must(Parse(must(l.Append(drafts(2, 3)))[0]))
	if e.Log != logB || e.Seq != 1 || e.Prev != "" || e.Tick != 3 {
		t.Errorf("%+v", e)
	}
	l = must(OpenLog(f, uid(77)))
	if l.ID() != logB || !l.Owns(logA) || !l.Owns(logB) || l.Owns(uid(77)) || l.Damage().Broken != 0 {
		t.Errorf("reopened: %s, %+v", l.ID(), l.Damage())
	}
	if got := must(l.After(Frontier{logA: 1}, 10, 1<<20)); len(got) != 2 || must(Parse(got[1])).Log != logB {
		t.Errorf("%d lines beyond the frontier", len(got))
	}
}

func TestOlderFilesAreReadAndNotWritten(t *testing.T) {
	older, f := badfile.New(nil), &Memory{}
	a := texts(must(must(OpenLog(older, logA)).Append(drafts(0, 2))))
	older.BreakFor(badfile.WriteError, badfile.CutError)
	l := must(OpenLog(f, logB, older))
	if l.ID() != logB || l.Seq() != 0 || l.Tick() != 2 || !l.Owns(logA) {
		t.Errorf("%s %d %d", l.ID(), l.Seq(), l.Tick())
	}
	b := texts(must(l.Append(drafts(2, 4))))
	if !same(lines(t, l), append(a, b...)) || !same(texts(must(l.After(nil, 9, 1<<20))), append(a, b...)) {
		t.Error("lines of the older file are missing")
	}
	n := 0
	l.Each(func(Line) bool { n++; return n < 2 })
	if n != 2 {
		t.Errorf("Each went on: %d", n)
	}
}

func TestOpenLogReportsAFileThatCannotBeRead(t *testing.T) {
	f := badfile.New([]byte("x\n"))
	f.Break(badfile.ReadError)
	if _, err := OpenLog(f, logA); CodeOf(err) != CodeReadFailed {
		t.Error(err)
	}
}

func BenchmarkOpenLog20000(b *testing.B) {
	f := &Memory{}
	l := must(OpenLog(f, logA))
	for n := 0; n < 20000; n += 200 {
		must(l.Append(drafts(n, n+200)))
	}
	b.SetBytes(int64(len(f.data)))
	for b.Loop() {
		if l := must(OpenLog(f, logA)); l.Count(nil) != 20000 {
			b.Fatal("lines are missing")
		}
	}
}

func BenchmarkOpenFeed20000(b *testing.B) {
	f := &Memory{}
	feed := openFeed(&tape{file: f}, nil, "m", nil)
	must(feed.Append(pairs(b, logA, 0, 20000)))
	b.SetBytes(int64(len(f.data)))
	for b.Loop() {
		if openFeed(&tape{file: f, end: int64(len(f.data))}, f.data, "m", nil).Len() != 20000 {
			b.Fatal("pairs are missing")
		}
	}
}
