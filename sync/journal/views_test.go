package journal

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// bounded is what a bounded view gives of whole: at most most, at most size bytes, the first however long.
func bounded(all []string, most, size int, weigh func(string) int) (out []string) {
	for _, s := range all {
		if size -= weigh(s); len(out) == most || len(out) > 0 && size < 0 {
			break
		}
		out = append(out, s)
	}
	return out
}

// anyFrontier draws how far some logs are known.
func anyFrontier(rt *rapid.T, logs ...string) Frontier {
	upto := Frontier{}
	for _, log := range logs {
		if rapid.Bool().Draw(rt, "known") {
			upto[log] = rapid.Uint64Range(0, 9).Draw(rt, "upto")
		}
	}
	return upto
}

// What a log of several files, renewed in between and partly given back, tells beyond a frontier is what reading
// everything and leaving out the rest gives.
func TestTheLogsViewsAgainstReadingAll(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		p, files := newPool(t, 12)
		small(p)
		logs, n := []string{uid(1)}, 0
		for range rapid.IntRange(0, 12).Draw(rt, "steps") {
			switch rapid.SampledFrom([]string{"save", "save", "save", "renew", "recycle", "restart"}).Draw(rt, "step") {
			case "save":
				more := rapid.IntRange(1, 3).Draw(rt, "lines")
				must(p.Log().Append(drafts(n, n+more)))
				n += more
			case "renew":
				logs = append(logs, uid(20+len(logs)))
				p.Log().Renew(logs[len(logs)-1])
			case "recycle":
				p.Recycle(upTo(rapid.Uint64Range(0, 5).Draw(rt, "covered")))
			case "restart":
				p, files = restart(t, files, 0, uid(50))
				small(p)
			}
		}
		upto := anyFrontier(rt, append(logs, uid(99))...)
		var beyond []string
		for _, line := range lines(t, p.Log()) {
			if e := must(Parse(Line(line))); e.Seq > upto[e.Log] {
				beyond = append(beyond, line)
			}
		}
		most, size := rapid.IntRange(0, 8).Draw(rt, "most"), rapid.IntRange(0, 3000).Draw(rt, "size")
		want := bounded(beyond, most, size, func(s string) int { return len(s) + 1 })
		if got := texts(must(p.Log().After(upto, most, size))); !same(got, want) {
			rt.Fatalf("After gives %d lines, want %d", len(got), len(want))
		}
		if got := p.Log().Count(upto); got != len(beyond) {
			rt.Fatalf("Count %d, want %d", got, len(beyond))
		}
		oldest, ok := p.Log().Oldest(upto)
		if ok != (len(beyond) > 0) || ok && string(oldest) != beyond[0] {
			rt.Fatalf("the oldest is %s", oldest)
		}
		for _, log := range logs {
			if wrote := slices.Contains(p.Log().written(), log); wrote && !p.Log().Owns(log) {
				rt.Fatalf("%s is not owned any more", log)
			}
		}
	})
}

// What a feed of several logs, pulled in any order, tells of itself is what reading everything tells.
func TestTheFeedsViewsAgainstReadingAll(t *testing.T) {
	var all []Pair
	for _, log := range []string{logA, logB} {
		all = append(all, pairs(t, log, 0, 6)...)
	}
	rapid.Check(t, func(rt *rapid.T) {
		p, files := newPool(t, 5)
		f := must(p.Site("site-1"))
		for _, pair := range rapid.SliceOf(rapid.SampledFrom(all)).Draw(rt, "pulled") {
			must(f.Append([]Pair{pair}))
		}
		if rapid.Bool().Draw(rt, "restart") {
			p, _ = restart(t, files, 0, uid(2))
			f = must(p.Site("site-1"))
		}
		upto := anyFrontier(rt, logA, logB, uid(99))
		var beyond []string
		top, n := Frontier{}, 0
		if err := f.Each(func(pair Pair) bool {
			e := must(Parse(pair.Line))
			if e.Seq > upto[e.Log] {
				beyond = append(beyond, whole([]Pair{pair})...)
			}
			top[e.Log] = max(top[e.Log], e.Seq)
			if n++; !f.Has(e.Log, e.Seq) {
				rt.Fatalf("%s %d is not held", e.Log, e.Seq)
			}
			return true
		}); err != nil || n != f.Len() {
			rt.Fatalf("%d pairs of %d, %v", n, f.Len(), err)
		}
		most, size := rapid.IntRange(0, 8).Draw(rt, "most"), rapid.IntRange(0, 3000).Draw(rt, "size")
		want := bounded(beyond, most, size, func(s string) int { return len(s) + 2 })
		if got := whole(must(f.After(upto, most, size))); !same(got, want) {
			rt.Fatalf("After gives %d pairs, want %d", len(got), len(want))
		}
		if got := f.Frontier(); len(got) != len(top) || got[logA] != top[logA] || got[logB] != top[logB] {
			rt.Fatalf("frontier %v, want %v", got, top)
		}
	})
}

func TestWordsAreSortedIn(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		words := rapid.SliceOf(rapid.String()).Draw(rt, "words")
		var sorted []string
		for _, word := range words {
			sorted = sortIn(sorted, word)
		}
		if slices.Sort(words); !same(sorted, words) {
			rt.Fatalf("%q, the library has %q", sorted, words)
		}
	})
}
