package journal

import (
	"bytes"
	"testing"

	"jointwalk/sync/journal/badfile"
)

// reopened is a pool as a phone with count events finds it at a start: half of them its own, half pulled.
func reopened(t testing.TB, count int) []Slot {
	var slots []Slot
	for i := range PoolSize {
		slots = append(slots, Slot{Name: digits(i), File: &Memory{}, Fresh: true})
	}
	p := must(OpenPool(slots, uid(1)))
	f := must(p.Site("site-1"))
	pulled := pairs(t, logB, 0, count/2)
	for n := 0; n < count/2; n += 200 {
		must(p.Log().Append(drafts(n, n+200)))
		must(f.Append(pulled[n : n+200]))
	}
	for i := range slots {
		slots[i].Fresh = false
	}
	return slots
}

// replay opens the pool and reads the envelope of every event.
func replay(t testing.TB, slots []Slot, id string) (n int) {
	p := must(OpenPool(slots, id))
	take := func(line Line) bool {
		if _, err := Glance(line); err != nil {
			t.Fatal(err)
		}
		n++
		return true
	}
	if err := p.Log().Each(take); err != nil {
		t.Fatal(err)
	}
	for _, site := range p.Sites() {
		if err := must(p.Site(site)).Each(func(pair Pair) bool { return take(pair.Line) }); err != nil {
			t.Fatal(err)
		}
	}
	return n
}

func TestAReplayFindsAll(t *testing.T) {
	slots := reopened(t, 4000)
	for range 2 {
		if n := replay(t, slots, uid(2)); n != 4000 {
			t.Errorf("%d events", n)
		}
	}
}

// What a start read is given to the first replay only while it is what the file holds: here a torn tail was cut and a
// line of the same length written in its place.
func TestAReplaySeesWhatWasWrittenSince(t *testing.T) {
	p, files := newPool(t, 6)
	f := must(p.Site("site-1"))
	all := pairs(t, logB, 0, 4)
	must(f.Append(all[:2]))
	saved := texts(must(p.Log().Append(drafts(0, 2))))
	next := must(must(OpenLog(files[1].Crash(0), logA)).Append(drafts(2, 3)))[0]
	pair := frame(frame(nil, all[2].Line), AppendReceipt(nil, all[2].Receipt))
	for i, n := range map[int]int{1: len(next) + frameExtra, 2: len(pair)} {
		files[i].WriteAt(bytes.Repeat([]byte("x"), n), must(files[i].Size()))
		files[i] = badfile.New(files[i].Bytes())
	}
	p, _ = restart(t, files, 0, uid(2))
	f = must(p.Site("site-1"))
	must(f.Append(all[2:3]))
	saved = append(saved, texts(must(p.Log().Append(drafts(2, 3))))...)
	for n := range 2 {
		if !same(lines(t, p.Log()), saved) || !same(held(t, f), whole(all[:3])) {
			t.Errorf("replay %d gives something else than was written", n)
		}
	}
}

// BenchmarkOpen20k is the journal's part of a cold start.
func BenchmarkOpen20k(b *testing.B) {
	slots := reopened(b, 20000)
	for b.Loop() {
		if replay(b, slots, uid(2)) != 20000 {
			b.Fatal("events are missing")
		}
	}
}

func BenchmarkGlance(b *testing.B) {
	line := written(b, logA, 2)[1]
	b.ReportAllocs()
	for b.Loop() {
		must(Glance(line))
	}
}

func BenchmarkParse(b *testing.B) {
	line := written(b, logA, 2)[1]
	b.ReportAllocs()
	for b.Loop() {
		must(Parse(line))
	}
}

func BenchmarkAppend(b *testing.B) {
	l := must(OpenLog(badfile.New(nil), logA))
	b.ReportAllocs()
	for n := 0; b.Loop(); n++ {
		must(drafts(n, n+1)[0].line(place{log: l.id, seq: 1, tick: 1}))
	}
}
