package journal

import (
	"encoding/json"
	"strings"
	"testing"

	"jointwalk/sync/journal/badfile"
)

// small makes the own log of a pool take another file after each three lines.
func small(p *Pool) *Pool {
	p.log.limit, p.log.later = 1000, 0
	return p
}

// save appends n drafts one by one, numbered from first.
func save(t testing.TB, p *Pool, first, n int) (saved []string) {
	t.Helper()
	for i := first; i < first+n; i++ {
		saved = append(saved, texts(must(p.Log().Append(drafts(i, i+1))))...)
	}
	return saved
}

// upTo covers the lines of every log up to a seq.
func upTo(seq uint64) func(Line) bool {
	return func(line Line) bool { return must(Parse(line)).Seq <= seq }
}

func never(Line) bool { return false }

// dense fails unless the seqs of each log follow each other and no event stands twice.
func dense(t testing.TB, all []string) {
	t.Helper()
	last := map[string]Event{}
	for _, line := range all {
		e := must(Parse(Line(line)))
		if before, ok := last[e.Log]; ok && (e.Seq != before.Seq+1 || e.Tick <= before.Tick) {
			t.Errorf("%s: %d (tick %d) follows %d (tick %d)", e.Log, e.Seq, e.Tick, before.Seq, before.Tick)
		}
		last[e.Log] = e
	}
}

func TestTheOwnLogGoesOnInAnotherFile(t *testing.T) {
	p, files := newPool(t, 9)
	saved := save(t, small(p), 0, 12)
	if len(p.own) < 3 || p.Report().Free != 9-1-len(p.own) {
		t.Fatalf("%d files of the own log, %+v", len(p.own), p.Report())
	}
	for range 2 {
		if got := lines(t, p.Log()); !same(got, saved) || !same(texts(must(p.Log().After(nil, 99, 1<<20))), saved) || p.Log().Count(nil) != len(saved) {
			t.Errorf("%d lines, saved %d", len(got), len(saved))
		}
		if n, err := p.Log().Verify(); n != 0 || err != nil || p.Check() != nil {
			t.Error(n, err)
		}
		p, files = restart(t, files, 0, uid(2))
		saved = append(saved, save(t, small(p), len(saved), 5)...)
	}
	if p.Log().ID() != uid(1) {
		t.Error(p.Log().ID())
	}
	dense(t, saved)
}

func TestTheOwnLogStaysWhereThereIsNoOtherFile(t *testing.T) {
	p, _ := newPool(t, 4) // one is kept for the state, one for pictures
	saved := save(t, small(p), 0, 12)
	if len(p.own) != 1 || p.log.later <= p.own[0].tape.end-ownAgain || p.Report().Free != 2 {
		t.Errorf("%d files, %+v", len(p.own), p.Report())
	}
	for _, flaw := range badfile.Flaws {
		p, files := newPool(t, 6)
		save(t, small(p), 0, 3)
		for _, f := range files[2:] {
			f.BreakFor(flaw)
		}
		more := save(t, small(p), 3, 3)
		for _, f := range files {
			f.Break()
		}
		p, _ = restart(t, files, 0, uid(2))
		if got := lines(t, p.Log()); !same(got[3:], more) {
			t.Errorf("flaw %d: %d lines", flaw, len(got))
		}
		dense(t, append(lines(t, p.Log()), save(t, p, 9, 2)...))
	}
	dense(t, saved)
}

// A file that cannot be remembered is not used: lost, it would take its numbers along unseen.
func TestAFileThatCannotBeRememberedIsNotUsed(t *testing.T) {
	p, files := newPool(t, 6)
	saved := save(t, small(p), 0, 4)
	files[0].BreakFor(badfile.SyncError)
	was := len(p.own)
	for n := 4; n < 8; n++ {
		saved = append(saved, texts(must(small(p).Log().Append(drafts(n, n+1))))...)
	}
	if len(p.own) != was || p.Report().Free != 6-1-was {
		t.Errorf("%d files, %+v", len(p.own), p.Report())
	}
	files[0].Break()
	saved = append(saved, save(t, small(p), 8, 1)...)
	if len(p.own) != was+1 {
		t.Error("it was not tried again")
	}
	p, _ = restart(t, files, 0, uid(2))
	if got := lines(t, p.Log()); !same(got, saved) {
		t.Errorf("%d lines, saved %d", len(got), len(saved))
	}
	dense(t, saved)
}

func TestRecycleGivesBackWhatIsCovered(t *testing.T) {
	p, files := newPool(t, 9)
	saved := save(t, small(p), 0, 12)
	was, free := len(p.own), p.Report().Free
	if p.Recycle(never) != 0 || p.Recycle(upTo(1)) != 0 || len(p.own) != was {
		t.Error("a file that is not covered was given back")
	}
	if n := p.Recycle(upTo(5)); n != 1 || p.Report().Free != free+1 || !same(lines(t, p.Log()), saved[3:]) {
		t.Fatalf("%d files given back, %d lines left", n, len(lines(t, p.Log())))
	}
	if got, ok := p.Log().Oldest(nil); !ok || string(got) != saved[3] || p.Log().Count(Frontier{uid(1): 5}) != 7 {
		t.Errorf("the oldest is %s", got)
	}
	saved = append(saved, save(t, p, 12, 3)...)
	if p.Recycle(upTo(99)) == 0 || len(p.own) != 1 || p.Recycle(upTo(99)) != 0 {
		t.Errorf("%d files left", len(p.own))
	}
	rest := lines(t, p.Log())
	if len(rest) == 0 || !same(rest, saved[len(saved)-len(rest):]) {
		t.Error("the newest file was given back")
	}
	p, _ = restart(t, files, 0, uid(2))
	if !same(lines(t, p.Log()), rest) || p.Log().ID() != uid(1) || p.Report().Bad != 0 || p.Check() != nil {
		t.Error("a restart finds another log")
	}
	dense(t, append(saved, save(t, p, 20, 3)...))
}

// The newest file holds nothing yet and all others are gone: the log goes on where it stood.
func TestRecycleBeforeAnEmptyNewestFile(t *testing.T) {
	p, files := newPool(t, 9)
	saved := save(t, p, 0, 3)
	p.Log().Renew(logB)
	saved = append(saved, save(t, p, 3, 3)...)
	p.Log().Witness(77)
	p.log.limit = 1
	p.log.newest() // as when the line after it is refused
	if len(p.own) != 2 || p.Recycle(upTo(99)) != 1 {
		t.Fatalf("%d files", len(p.own))
	}
	for n := range 3 {
		p, files = restart(t, files, 0, uid(2+n))
		if p.Log().ID() != logB || p.Log().Seq() != 3 || p.Log().Tick() != 77 || !p.Log().Owns(uid(1)) || p.Log().Owns(uid(2+n)) {
			t.Errorf("%s %d %d", p.Log().ID(), p.Log().Seq(), p.Log().Tick())
		}
	}
	dense(t, append(saved, save(t, p, 9, 2)...))
	if e := must(Parse(Line(lines(t, p.Log())[0]))); e.Seq != 4 || e.Tick != 78 || e.Prev != Hash(Line(saved[5])) {
		t.Errorf("%+v", e)
	}
}

func TestAnEmptyNewestFileWithoutMemoryMintsALog(t *testing.T) {
	p, files := newPool(t, 9)
	save(t, small(p), 0, 4)
	p.log.limit = 1
	p.log.newest()
	p.Recycle(upTo(99))
	files[0] = badfile.New(nil) // the state is lost
	p = must(pool(t, files, uid(2), 0))
	if p.Log().ID() != uid(2) || p.Log().Seq() != 0 {
		t.Errorf("%s %d", p.Log().ID(), p.Log().Seq())
	}
}

func TestRecycleKeepsAFileThatCouldNotBeRead(t *testing.T) {
	p, files := newPool(t, 9)
	save(t, small(p), 0, 12)
	data := files[1].Bytes()
	data[strings.Index(string(data), `"seq":2`)+2] ^= 1
	files[1] = badfile.New(data)
	p, files = restart(t, files, 0, uid(2))
	was := len(p.own)
	if n := p.Recycle(func(Line) bool { return true }); n != was-2 || len(p.own) != 2 {
		t.Errorf("%d of %d files given back", n, was)
	}
	if p.Report().Bad != 0 && len(p.Log().Damage().Aside) != 1 {
		t.Errorf("%+v", p.Log().Damage())
	}
	files[1].Break(badfile.ReadError)
	if p.Recycle(func(Line) bool { return true }) != 0 {
		t.Error("a file that did not answer was given back")
	}
}

func TestRecycleStopsWhereItCannotRemember(t *testing.T) {
	p, files := newPool(t, 9)
	saved := save(t, small(p), 0, 12)
	files[0].Break(badfile.SyncError)
	if n := p.Recycle(upTo(99)); n != 0 || !same(lines(t, p.Log()), saved) {
		t.Errorf("%d given back without a memory of them", n)
	}
	files[1].BreakFor(badfile.CutError) // cannot be emptied: given back for now, found again by the next start
	was := len(p.own)
	if n := p.Recycle(upTo(99)); n != was-1 {
		t.Errorf("%d given back", n)
	}
	files[1].Break()
	p, _ = restart(t, files, 0, uid(2))
	if got := lines(t, p.Log()); !same(got[:3], saved[:3]) || p.Log().ID() != uid(1) || p.Log().Seq() != 12 {
		t.Errorf("%d lines, %s %d", len(got), p.Log().ID(), p.Log().Seq())
	}
	if p.Recycle(upTo(99)) != 1 {
		t.Error("what came back is not given back again")
	}
}

// The newest file vanishes with acknowledged numbers: a new log begins, in every later start too; and when it comes
// back, what it holds is there, still nothing is numbered twice.
func TestALostNewestFileBeginsANewLog(t *testing.T) {
	p, files := newPool(t, 9)
	saved := save(t, small(p), 0, 6)
	lost, at := (*badfile.File)(nil), 0
	for i, f := range files {
		if p.own[len(p.own)-1].tape.file == File(f) {
			lost, at = f, i
		}
	}
	gone := must(lost.Size())
	files[at] = badfile.New(nil)
	p = must(pool(t, files, uid(2), at))
	if p.Log().ID() != uid(2) || p.Log().Seq() != 0 || gone == 0 || p.Log().Tick() < 3 {
		t.Fatalf("%s %d", p.Log().ID(), p.Log().Seq())
	}
	p, files = restart(t, files, 0, uid(3)) // no event of uid(2) was written
	if id := p.Log().ID(); id != uid(2) && id != uid(3) || p.Log().Seq() != 0 {
		t.Errorf("%s %d", id, p.Log().Seq())
	}
	id := p.Log().ID()
	more := save(t, p, 10, 2)
	files[at] = lost
	p, files = restart(t, files, 0, uid(4))
	got := lines(t, p.Log())
	dense(t, append(saved[len(saved):], got...))
	if len(got) != len(saved)+2 || p.Log().ID() == uid(1) || !p.Log().Owns(uid(1)) || !p.Log().Owns(id) {
		t.Errorf("%d lines, %s", len(got), p.Log().ID())
	}
	more = append(more, save(t, p, 20, 2)...)
	p, _ = restart(t, files, 0, uid(5))
	dense(t, lines(t, p.Log()))
	if len(lines(t, p.Log())) != len(saved)+len(more) || p.Log().ID() == uid(1) {
		t.Errorf("%d lines, %s", len(lines(t, p.Log())), p.Log().ID())
	}
}

// The newest file is lost, no event is written, then the state is lost too: an empty file of its own tells that the older
// one is not the end.
func TestALostNewestFileThenALostState(t *testing.T) {
	p, files := newPool(t, 9)
	saved := save(t, small(p), 0, 5) // 0 state, 1 and 2 own
	files[2] = badfile.New(nil)
	p = must(pool(t, files, uid(2), 2))
	if p.Log().ID() != uid(2) || len(p.own) != 2 {
		t.Fatalf("%s in %d files", p.Log().ID(), len(p.own))
	}
	files[0] = badfile.New(nil)
	p = must(pool(t, files, uid(3), 0))
	e := must(Parse(Line(save(t, p, 9, 1)[0])))
	if e.Log == uid(1) || e.Seq != 1 || !same(lines(t, p.Log())[:3], saved[:3]) {
		t.Errorf("%s %d", e.Log, e.Seq)
	}
}

// The newest file is there, shorter than it was remembered.
func TestAShorterNewestFileBeginsANewLog(t *testing.T) {
	p, files := newPool(t, 6)
	save(t, p, 0, 3)
	p.Log().Renew(logB)
	data := files[1].Bytes()
	files[1] = badfile.New(data[:strings.LastIndex(string(data[:len(data)-1]), "\n")+1])
	p, files = restart(t, files, 0, uid(2))
	if p.Log().ID() != uid(2) {
		t.Error(p.Log().ID())
	}
	save(t, p, 3, 1)
	p, _ = restart(t, files, 0, uid(3))
	if p.Log().ID() != uid(2) || p.Log().Seq() != 1 {
		t.Error(p.Log().ID(), p.Log().Seq())
	}
}

// The last line, acknowledged and perhaps sent, cannot be read any more: its number is not given again.
func TestABadLastLineBeginsANewLog(t *testing.T) {
	for _, whole := range []bool{false, true} {
		p, files := newPool(t, 6)
		saved := save(t, p, 0, 3)
		data := files[1].Bytes()
		if data[len(data)-20] ^= 1; whole {
			data = frame(files[1].Bytes(), []byte(`{"later":"form"}`))
		}
		files[1] = badfile.New(data)
		p, files = restart(t, files, 0, uid(2))
		if p.Log().ID() != uid(2) || p.Log().Seq() != 0 || p.Log().Damage().Bad != 1 {
			t.Errorf("%s %d", p.Log().ID(), p.Log().Seq())
		}
		e := must(Parse(Line(save(t, p, 3, 1)[0])))
		if e.Seq != 1 || e.Prev != "" || e.Tick < 3 {
			t.Errorf("%+v", e)
		}
		p, _ = restart(t, files, 0, uid(3))
		if got := lines(t, p.Log()); p.Log().ID() != uid(2) || p.Log().Seq() != 1 || !same(got[:2], saved[:2]) {
			t.Errorf("%s %d", p.Log().ID(), p.Log().Seq())
		}
	}
}

// What earlier builds noted of a renewal is read.
func TestAnEarlierBuildsRenewal(t *testing.T) {
	p, files := newPool(t, 6)
	save(t, p, 0, 2)
	p.State().Put(map[string]json.RawMessage{keyLog: json.RawMessage(`"` + logB + `"`)})
	p, files = restart(t, files, 0, uid(2))
	if p.Log().ID() != logB || p.Log().Seq() != 0 {
		t.Error(p.Log().ID())
	}
	save(t, p, 2, 2)
	p, _ = restart(t, files, 0, uid(3))
	if p.Log().ID() != logB || p.Log().Seq() != 2 {
		t.Error(p.Log().ID(), p.Log().Seq())
	}
}

// The power goes at each call of a run that takes files and gives them back: what was saved and is not covered is
// there, in order; the log goes on, never with a number twice.
func TestTakingAndGivingBackDiesAtEachCall(t *testing.T) {
	died := 0
	for left := 0; ; left++ {
		p, files := newPool(t, 7)
		saved := save(t, small(p), 0, 3)
		power := &badfile.Power{Left: left}
		for _, f := range files {
			f.Power = power
		}
		next := 3
		for range 2 {
			for range 6 {
				if lines, err := small(p).Log().Append(drafts(next, next+1)); err == nil {
					saved = append(saved, texts(lines)...)
				}
				next++
			}
			p.Recycle(upTo(6))
		}
		pending := 0
		for _, f := range files {
			pending = max(pending, f.Pending())
		}
		for _, keep := range []int{0, 1, pending / 3, pending / 2, pending - 1, pending} {
			check(t, files, saved, left, keep)
		}
		if power.Left >= 0 {
			break
		}
		died++
	}
	if died < 40 {
		t.Errorf("only %d crashes", died)
	}
}

// check restarts twice after a crash, saves in each, and looks whether all is there.
func check(t *testing.T, files []*badfile.File, saved []string, left, keep int) {
	t.Helper()
	p, after := restart(t, files, keep, uid(2))
	got := lines(t, p.Log())
	all := append(append([]string{}, saved[:min(6, len(saved))]...), got...) // what was covered may be gone
	held := map[string]bool{}
	for _, line := range all {
		held[line] = true
	}
	for i, line := range saved {
		if !held[line] {
			t.Fatalf("power for %d calls, %d bytes kept: line %d is gone", left, keep, i+1)
		}
	}
	dense(t, got)
	taken := map[string]bool{}
	for _, line := range all {
		e := must(Parse(Line(line)))
		taken[e.Log+"/"+digits(int(e.Seq))] = true
	}
	for n := range 2 {
		for _, line := range save(t, small(p), 50+10*n, 4) {
			e := must(Parse(Line(line)))
			if key := e.Log + "/" + digits(int(e.Seq)); taken[key] {
				t.Fatalf("power for %d calls, %d bytes kept: %s again", left, keep, key)
			} else {
				taken[key] = true
			}
		}
		if !p.Log().Owns(uid(1)) || p.Report().Bad != 0 || p.Log().Damage().Broken != 0 {
			t.Fatalf("power for %d calls, %d bytes kept: %+v", left, keep, p.Report())
		}
		p, after = restart(t, after, 0, uid(3+n))
	}
}
