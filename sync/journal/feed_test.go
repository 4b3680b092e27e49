package journal

import (
	"bytes"
	"strings"
	"testing"

	"jointwalk/sync/journal/badfile"
)

func TestFeedKeepsPairsOnce(t *testing.T) {
	p, files := newPool(t, 6)
	f := must(p.Site("site-1"))
	all := pairs(t, logB, 0, 6)
	if added := must(f.Append(all[:3])); !same(whole(added), whole(all[:3])) {
		t.Error("Append gave other pairs back")
	}
	if added := must(f.Append(append(all[1:5:5], all[4]))); !same(whole(added), whole(all[3:5])) {
		t.Errorf("%d added the second time", len(added))
	}
	if added := must(f.Append(all[:5])); len(added) != 0 || f.Len() != 5 {
		t.Error("the same again was added")
	}
	if p.Log().Tick() != 5 {
		t.Errorf("the log saw tick %d", p.Log().Tick())
	}
	mark := f.Mark()
	p, _ = restart(t, files, 0, uid(2))
	f = must(p.Site("site-1"))
	if !same(held(t, f), whole(all[:5])) || f.Mark() != mark || p.Log().Tick() != 5 || f.Len() != 5 {
		t.Error("a restart finds another feed")
	}
	if added := must(f.Append(all)); !same(whole(added), whole(all[5:])) {
		t.Error("after a restart the same was added again")
	}
	n := 0
	f.Each(func(Pair) bool { n++; return n < 2 })
	if n != 2 {
		t.Errorf("Each went on: %d", n)
	}
}

func TestFeedKeepsBothSidesOfAFork(t *testing.T) {
	p, files := newPool(t, 6)
	f := must(p.Site("site-1"))
	a := pairs(t, logB, 0, 1)[0]
	b := a
	b.Line, b.Receipt.N = Line(strings.Replace(string(a.Line), `"n":0`, `"n":9`, 1)), 2
	if added := must(f.Append([]Pair{a, b})); len(added) != 2 {
		t.Fatal("one side of a fork was dropped")
	}
	p, _ = restart(t, files, 0, uid(2))
	if f = must(p.Site("site-1")); f.Len() != 2 {
		t.Error("one side of a fork is gone")
	}
}

func TestFeedRefusesWhatIsNoPair(t *testing.T) {
	p, _ := newPool(t, 6)
	f := must(p.Site("site-1"))
	good := pairs(t, logB, 0, 2)
	for name, bad := range map[string]Pair{
		"no event":   {Line: Line("{}"), Receipt: good[1].Receipt},
		"no receipt": {Line: good[1].Line},
		"bad from":   {Line: good[1].Line, Receipt: Receipt{N: 1, At: good[1].Receipt.At, From: `"`}},
		"too long":   {Line: make(Line, MaxLine+1), Receipt: good[1].Receipt},
	} {
		if _, err := f.Append([]Pair{good[0], bad}); CodeOf(err) != CodeBadLine && CodeOf(err) != CodeLineTooLong {
			t.Errorf("%s: %v", name, err)
		}
	}
	if f.Len() != 0 {
		t.Error("a part of a bad slice was kept")
	}
}

func TestFeedAfterEveryFlaw(t *testing.T) {
	all := pairs(t, logB, 0, 4)
	for _, flaw := range badfile.Flaws {
		if flaw == badfile.CutError {
			continue
		}
		p, files := newPool(t, 6)
		f := must(p.Site("site-1"))
		must(f.Append(all[:2]))
		files[2].Break(flaw)
		if _, err := f.Append(all[2:]); CodeOf(err) == "" || f.Len() != 2 || !same(held(t, f), whole(all[:2])) {
			t.Errorf("flaw %d: %v, %d held", flaw, err, f.Len())
		}
		if added := must(f.Append(all)); len(added) != 2 {
			t.Errorf("flaw %d: %d added afterwards", flaw, len(added))
		}
		p, _ = restart(t, files, 0, uid(2))
		if !same(held(t, must(p.Site("site-1"))), whole(all)) {
			t.Errorf("flaw %d: a restart finds another feed", flaw)
		}
	}
}

// Torn at every byte: whole pairs stay, nothing is half there, and the slice comes in again.
func TestFeedTornAtEveryByte(t *testing.T) {
	all := pairs(t, logB, 0, 4)
	p, files := newPool(t, 6)
	f := must(p.Site("site-1"))
	must(f.Append(all[:2]))
	files[2].Power = &badfile.Power{}
	if _, err := f.Append(all[2:]); err == nil {
		t.Fatal("kept without power")
	}
	for keep := 0; keep <= files[2].Pending(); keep++ {
		p, after := restart(t, files, keep, uid(2))
		f := must(p.Site("site-1"))
		if n := f.Len(); n < 2 || !same(held(t, f), whole(all[:n])) || f.Damage().Bad != 0 {
			t.Fatalf("torn after %d bytes: %d pairs, %+v", keep, n, f.Damage())
		}
		must(f.Append(all))
		p, _ = restart(t, after, 0, uid(3))
		if f := must(p.Site("site-1")); !same(held(t, f), whole(all)) || f.Damage().Torn != 0 {
			t.Fatalf("torn after %d bytes: pulled again, %d pairs", keep, f.Len())
		}
	}
}

// A bad line takes its own pair only; pulled again, the pair is whole.
func TestFeedWithABadLine(t *testing.T) {
	all := pairs(t, logB, 0, 3)
	for name, find := range map[string]string{"event": `"seq":2`, "receipt": `{"n":2`} {
		p, files := newPool(t, 6)
		must(must(p.Site("site-1")).Append(all))
		data := files[2].Bytes()
		data[bytes.Index(data, []byte(find))+2] ^= 1
		files[2] = badfile.New(data)
		p, files = restart(t, files, 0, uid(2))
		f := must(p.Site("site-1"))
		got := held(t, f)
		if f.Len() != 2 || f.Damage().Bad != 1 || got[0] != whole(all)[0] || got[len(got)-1] != whole(all)[2] {
			t.Errorf("%s: %d pairs, %+v", name, f.Len(), f.Damage())
		}
		if name == "receipt" && (len(got) != 3 || !strings.HasPrefix(got[1], string(all[1].Line)+`{"n":0`)) {
			t.Errorf("the event of the bad receipt: %d pairs", len(got))
		}
		if added := must(f.Append(all)); !same(whole(added), whole(all[1:2])) {
			t.Errorf("%s: %d added again", name, len(added))
		}
		p, _ = restart(t, files, 0, uid(3))
		if got := held(t, must(p.Site("site-1"))); !same(got, []string{whole(all)[0], whole(all)[2], whole(all)[1]}) {
			t.Errorf("%s: %d pairs after all", name, len(got))
		}
	}
}

func TestFeedReadErrors(t *testing.T) {
	p, files := newPool(t, 6)
	f := must(p.Site("site-1"))
	must(f.Append(pairs(t, logB, 0, 1)))
	files[2].Break(badfile.ReadError)
	if err := f.Each(func(Pair) bool { return true }); CodeOf(err) != CodeReadFailed {
		t.Error(err)
	}
}

// twoLogs is a feed with the lines of two logs in turn, sealed.
func twoLogs(t *testing.T) (*Feed, []Pair, []*badfile.File) {
	p, files := newPool(t, 6)
	f := must(p.Site("site-1"))
	a, b := pairs(t, logA, 0, 6), pairs(t, logB, 0, 6)
	all := []Pair{a[1], b[0], a[3], b[1], a[0], b[5]}
	for i := range all {
		all[i].Receipt.Seal = strings.Repeat("5e", 32)
	}
	must(f.Append(all))
	return f, all, files
}

func TestFeedKnowsWhatItHolds(t *testing.T) {
	f, all, files := twoLogs(t)
	for range 2 {
		for log, seqs := range map[string][]uint64{logA: {1, 2, 4}, logB: {1, 2, 6}, uid(9): nil} {
			for seq := uint64(0); seq < 9; seq++ {
				want := false
				for _, s := range seqs {
					want = want || s == seq
				}
				if f.Has(log, seq) != want {
					t.Errorf("Has(%s, %d) is %v", log, seq, !want)
				}
			}
		}
		if upto := f.Frontier(); len(upto) != 2 || upto[logA] != 4 || upto[logB] != 6 {
			t.Error(upto)
		}
		p, _ := restart(t, files, 0, uid(2))
		f = must(p.Site("site-1"))
	}
	if got := must(f.After(nil, 9, 1<<20)); !same(whole(got), whole(all)) {
		t.Error("a restart finds other pairs, or no seals")
	}
}

func TestFeedAfter(t *testing.T) {
	f, all, _ := twoLogs(t)
	bytes := func(pairs []Pair) (n int) {
		for _, p := range pairs {
			n += len(p.Line) + len(AppendReceipt(nil, p.Receipt)) + 2
		}
		return n
	}
	for _, c := range []struct {
		upto       Frontier
		most, size int
		want       []Pair
	}{
		{nil, 99, 1 << 20, all}, {Frontier{logA: 2}, 99, 1 << 20, []Pair{all[1], all[2], all[3], all[5]}}, {Frontier{logA: 4, logB: 6, uid(9): 3}, 9, 1 << 20, nil},
		{nil, 2, 1 << 20, all[:2]}, {nil, 9, 1, all[:1]}, {nil, 9, bytes(all[:3]), all[:3]}, {nil, 9, bytes(all[:3]) - 1, all[:2]}, {nil, 0, 1 << 20, nil},
	} {
		if got := must(f.After(c.upto, c.most, c.size)); !same(whole(got), whole(c.want)) {
			t.Errorf("After(%v, %d, %d): %d pairs, want %d", c.upto, c.most, c.size, len(got), len(c.want))
		}
	}
}

// An event without its receipt is not held: neither told nor given, until it was pulled again.
func TestFeedAfterLeavesOutWhatLostItsReceipt(t *testing.T) {
	all := pairs(t, logB, 0, 3)
	p, files := newPool(t, 6)
	must(must(p.Site("site-1")).Append(all))
	data := files[2].Bytes()
	data[bytes.Index(data, []byte(`{"n":3`))+2] ^= 1
	data = frame(data, written(t, logA, 1)[0]) // so that it does not stand at the end
	data = frame(data, AppendReceipt(nil, all[0].Receipt))
	files[2] = badfile.New(data)
	p, _ = restart(t, files, 0, uid(2))
	f := must(p.Site("site-1"))
	if got := must(f.After(Frontier{logA: 1}, 9, 1<<20)); !same(whole(got), whole(all[:2])) || f.Has(logB, 3) || f.Frontier()[logB] != 2 {
		t.Errorf("%d pairs, frontier %v", len(got), f.Frontier())
	}
	must(f.Append(all))
	if got := must(f.After(Frontier{logA: 1}, 9, 1<<20)); !same(whole(got), whole(all)) || !f.Has(logB, 3) {
		t.Errorf("pulled again: %d pairs", len(got))
	}
}

func TestFeedAfterSeesALineThatChanged(t *testing.T) {
	f := &Memory{}
	feed := openFeed(&tape{file: f}, nil, "m", nil)
	all := pairs(t, logB, 0, 1)
	must(feed.Append(all))
	for name, at := range map[string]int{"event": 30, "receipt": len(all[0].Line) + frameExtra + 1} {
		f.data[at] ^= 1
		if _, err := feed.After(nil, 9, 1<<20); CodeOf(err) != CodeReadFailed {
			t.Errorf("%s: %v", name, err)
		}
		f.data[at] ^= 1
	}
	f.data = f.data[:40]
	if _, err := feed.After(nil, 9, 1<<20); CodeOf(err) != CodeReadFailed {
		t.Error(err)
	}
}
