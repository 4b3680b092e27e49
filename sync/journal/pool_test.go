package journal

import (
	"bytes"
	"strconv"
	"strings"
	"testing"

	"jointwalk/sync/journal/badfile"
)

func TestFirstStart(t *testing.T) {
	p, files := newPool(t, PoolSize)
	r := p.Report()
	if !r.First || len(r.Lost) != 0 || r.Free != PoolSize-2 || r.Bad != 0 || len(r.Files) != 2 {
		t.Errorf("%+v", r)
	}
	saved := texts(must(p.Log().Append(drafts(0, 3))))
	p, _ = restart(t, files, 0, uid(2))
	if got := lines(t, p.Log()); !same(got, saved) || p.Log().ID() != uid(1) || p.Report().First {
		t.Errorf("a restart finds %d lines of %s", len(got), p.Log().ID())
	}
}

// A first start that dies at any call leaves a pool that opens, at the latest, at the start after.
func TestFirstStartDiesAtEachCall(t *testing.T) {
	for left := 0; ; left++ {
		power := &badfile.Power{Left: left}
		var files []*badfile.File
		for range 4 {
			f := badfile.New(nil)
			f.Power = power
			files = append(files, f)
		}
		_, err := pool(t, files, uid(1), 0, 1, 2, 3)
		if (err == nil) != (power.Left >= 0) {
			t.Fatalf("power for %d calls: %v", left, err)
		}
		for keep := range 120 {
			p, _ := restart(t, files, keep, uid(2))
			if _, err := p.Log().Append(drafts(0, 1)); err != nil || p.Report().Free != 2 || p.Report().Bad != 0 {
				t.Fatalf("power for %d calls, %d bytes: %v, %+v", left, keep, err, p.Report())
			}
		}
		if err == nil {
			return
		}
	}
}

func TestAFreshFileIsNotTrustedBeforeALaterStartFoundIt(t *testing.T) {
	_, files := newPool(t, 5)
	files[2], files[3], files[4] = badfile.New(nil), badfile.New(nil), badfile.New(nil)
	p := must(pool(t, files, uid(2), 2, 3, 4))
	if r := p.Report(); strings.Join(r.Lost, " ") != "pool-2 pool-3 pool-4" || r.Free != 0 || r.First {
		t.Errorf("%+v", r)
	}
	if _, err := p.Site("site-1"); CodeOf(err) != CodeNoRoomForSite {
		t.Errorf("a site got a fresh file: %v", err)
	}
	h, b := image(1)
	if err := p.Pictures().Add(h, b, taken); CodeOf(err) != CodeNoRoomForSite {
		t.Errorf("a picture got a fresh file: %v", err)
	}
	p.State().later, p.State().live = 0, 0
	p.State().Set("a", 1)
	for i, f := range files[2:] {
		if must(f.Size()) != 0 {
			t.Errorf("fresh file %d was written", i+2)
		}
	}
	p, _ = restart(t, files, 0, uid(3))
	if _, err := p.Site("site-1"); err != nil || len(p.Report().Lost) != 0 {
		t.Errorf("not trusted by a later start: %v", err)
	}
}

func TestTooFewTrustedFiles(t *testing.T) {
	for _, fresh := range [][]int{{1, 2, 3}, {0, 1, 2}} {
		files := []*badfile.File{badfile.New(nil), badfile.New(nil), badfile.New(nil), badfile.New(nil)}
		if _, err := pool(t, files, uid(1), fresh...); CodeOf(err) != CodeNoTrustedFile {
			t.Errorf("fresh %v: %v", fresh, err)
		}
	}
	if _, err := OpenPool(nil, uid(1)); CodeOf(err) != CodeNoTrustedFile {
		t.Error(err)
	}
}

func TestALostFileTakesItsStreamOnly(t *testing.T) {
	p, files := newPool(t, 7) // 0 state, 1 own, 2 site-1, 3 site-2
	must(p.Log().Append(drafts(0, 2)))
	must(must(p.Site("site-1")).Append(pairs(t, logB, 0, 2)))
	f2 := must(p.Site("site-2"))
	must(f2.Append(pairs(t, logB, 2, 4)))
	p.State().Set("me", "x")
	old := must(p.Site("site-1")).Mark()
	lost := files[2]
	files[2] = badfile.New(nil)
	p = must(pool(t, files, uid(2), 2))
	if got := strings.Join(p.Sites(), " "); got != "site-2" || p.Log().Seq() != 2 {
		t.Errorf("sites %s, seq %d", got, p.Log().Seq())
	}
	again := must(p.Site("site-1"))
	if again.Len() != 0 || again.Mark() == old {
		t.Error("the feed that began anew has the mark of the lost one: an old cursor would pass over what was lost")
	}
	must(again.Append(pairs(t, logB, 1, 3)))
	if _, noted := p.State().Get(KeyMerged); noted {
		t.Error("nothing was taken over yet")
	}
	files[2] = lost // and back again: the newer claim counts, and what it lacks is taken over from the older
	for n := range 2 {
		p, files = restart(t, files, 0, uid(3+n))
		if _, noted := p.State().Get(KeyMerged); !noted {
			t.Error("nobody will ask the server whether it lacks what was taken over")
		}
		f := must(p.Site("site-1"))
		if f.Len() != 3 || f.Mark() != again.Mark() || !f.Has(logB, 1) || p.Report().Free != 3 {
			t.Errorf("start %d: %d pairs, %+v", n, f.Len(), p.Report())
		}
	}
}

// An older file of a feed stays where something in it is missing from the newest and cannot be taken over.
func TestAnOlderFeedStaysWhileItIsNeeded(t *testing.T) {
	for name, spoil := range map[string]func(older, newest *badfile.File){
		"no room": func(_, newest *badfile.File) { newest.BreakFor(badfile.ShortCount) },
		"the newest has holes": func(_, newest *badfile.File) {
			newest.WriteAt([]byte("a bad stretch\n"), must(newest.Size()))
			newest.Sync()
		},
		"an event without receipt": func(older, _ *badfile.File) {
			at := bytes.Index(older.Bytes(), []byte(`{"n":1`))
			older.WriteAt([]byte("#"), int64(at))
			older.Sync()
		},
	} {
		p, files := newPool(t, 7)
		must(must(p.Site("site-1")).Append(pairs(t, logB, 0, 2)))
		lost := files[2]
		files[2] = badfile.New(nil)
		p = must(pool(t, files, uid(2), 2))
		newest := must(p.Site("site-1"))
		must(newest.Append(pairs(t, logB, 1, 3)))
		files[2] = lost
		spoil(lost, files[3])
		p = must(pool(t, files, uid(3)))
		if p.Report().Free != 3 || must(lost.Size()) == 0 {
			t.Errorf("%s: the older file was given back", name)
		}
		files[3].Break()
		must(must(p.Site("site-1")).Append(pairs(t, logB, 0, 3)))
		p = must(pool(t, files, uid(4)))
		if holes := name == "the newest has holes"; (p.Report().Free == 3) != holes || must(p.Site("site-1")).Len() != 3 {
			t.Errorf("%s: %d pairs, %+v", name, must(p.Site("site-1")).Len(), p.Report())
		}
	}
}

// The generation of a lost file may come again; its mark may not.
func TestMarksAreNeverTheSame(t *testing.T) {
	p, files := newPool(t, 7)
	a, b := must(p.Site("a")).Mark(), must(p.Site("b")).Mark()
	for i := range files {
		if s := p.slots[i].header; s.Stream == "site:b" {
			files[i] = badfile.New(nil)
			p = must(pool(t, files, uid(2), i))
			break
		}
	}
	again := must(p.Site("b")).Mark()
	p.DropSite("b")
	if third := must(p.Site("b")).Mark(); a == b || again == b || again == a || third == again {
		t.Errorf("marks %s %s %s %s", a, b, again, third)
	}
}

func TestALostLogBeginsANewOneAndAFoundOneIsReadAgain(t *testing.T) {
	p, files := newPool(t, 6)
	first := texts(must(p.Log().Append(drafts(0, 2))))
	lost := files[1]
	files[1] = badfile.New(nil)
	p = must(pool(t, files, uid(2), 1))
	second := texts(must(p.Log().Append(drafts(2, 3))))
	if p.Log().ID() != uid(2) || p.Log().Seq() != 1 {
		t.Errorf("%s %d", p.Log().ID(), p.Log().Seq())
	}
	files[1] = lost
	p, _ = restart(t, files, 0, uid(3))
	if !same(lines(t, p.Log()), append(first, second...)) || p.Log().ID() != uid(2) || p.Log().Count(nil) != 3 {
		t.Error("the lines that came back are not there to be sent")
	}
	if e := must(Parse(must(p.Log().Append(drafts(3, 4)))[0])); e.Log != uid(2) || e.Seq != 2 {
		t.Errorf("%+v", e)
	}
}

func TestARenewalOutlivesARestart(t *testing.T) {
	p, files := newPool(t, 4)
	must(p.Log().Append(drafts(0, 2)))
	p.Log().Renew(logB)
	p, files = restart(t, files, 0, uid(2))
	if p.Log().ID() != logB || p.Log().Seq() != 0 || !p.Log().Owns(uid(1)) {
		t.Errorf("the forked log goes on: %s %d", p.Log().ID(), p.Log().Seq())
	}
	must(p.Log().Append(drafts(2, 3)))
	p.Log().Renew(uid(9))
	must(p.Log().Append(drafts(3, 5)))
	p, _ = restart(t, files, 0, uid(3))
	if p.Log().ID() != uid(9) || p.Log().Seq() != 2 || p.Log().Damage().Broken != 0 {
		t.Errorf("%s %d %+v", p.Log().ID(), p.Log().Seq(), p.Log().Damage())
	}
	files[1] = badfile.New(nil) // the log is lost with its numbers: the renewed id must not begin again at 1
	if p := must(pool(t, files, uid(4), 1)); p.Log().ID() != uid(4) {
		t.Errorf("a lost log begins again under its old id %s", p.Log().ID())
	}
}

func TestADamagedHeaderIsMadeUpFor(t *testing.T) {
	p, files := newPool(t, 7)
	saved := texts(must(p.Log().Append(drafts(0, 2))))
	all := pairs(t, logB, 0, 2)
	must(must(p.Site("site-1")).Append(all))
	h, b := image(1)
	p.Pictures().Add(h, b, taken)
	p.State().Set("me", 1)
	for i, f := range files {
		data := f.Bytes()
		if len(data) > 0 {
			data[3] ^= 1
		}
		files[i] = badfile.New(data)
	}
	p, files = restart(t, files, 0, uid(2))
	if !same(lines(t, p.Log()), saved) || !same(held(t, must(p.Site("site-1"))), whole(all)) || !bytes.Equal(must(p.Pictures().Read(h)), b) {
		t.Error("a stream was lost with its header")
	}
	if _, ok := p.State().Get("me"); !ok || p.Report().Bad != 4 || p.Report().Free != 3 {
		t.Errorf("%+v", p.Report())
	}
	must(p.Log().Append(drafts(2, 3)))
	p, _ = restart(t, files, 0, uid(3))
	if p.Log().Seq() != 3 {
		t.Error("writing on went wrong")
	}
}

func TestWhatCannotBeReadIsLeftAlone(t *testing.T) {
	_, files := newPool(t, 6)
	newer := frame(nil, []byte(`{"pool":2,"generation":9,"stream":"own","mark":"m"}`))
	files[4], files[5] = badfile.New([]byte("garbage\nmore garbage\n")), badfile.New(newer)
	p, _ := restart(t, files, 0, uid(2))
	for range 9 {
		p.Site("site-" + strconv.Itoa(len(p.Sites())))
	}
	if string(files[4].Bytes()) != "garbage\nmore garbage\n" || !bytes.Equal(files[5].Bytes(), newer) {
		t.Error("a file that could not be read was written")
	}
	if r := p.Report(); len(p.Sites()) != 0 || r.Free != 2 || len(r.Files) != 4 || r.Files[2].Stream != "" || r.Files[2].Active {
		t.Errorf("%v %+v", p.Sites(), r)
	}
}

func TestATornClaimIsCut(t *testing.T) {
	_, files := newPool(t, 4)
	files[2] = badfile.New([]byte(`{"pool":1,"gen`))
	p, files := restart(t, files, 0, uid(2))
	if p.Report().Free != 2 || must(files[2].Size()) != 0 {
		t.Errorf("%+v", p.Report())
	}
}

func TestSitesTakeAndGiveBackFiles(t *testing.T) {
	p, files := newPool(t, 6) // two for log and state, one kept for the snapshot, one for pictures
	must(must(p.Site("b")).Append(pairs(t, logB, 0, 1)))
	a := must(p.Site("a"))
	if got := strings.Join(p.Sites(), " "); got != "a b" || must(p.Site("a")) != a {
		t.Error(got)
	}
	if _, err := p.Site("c"); CodeOf(err) != CodeNoRoomForSite {
		t.Errorf("took a file that is kept: %v", err)
	}
	if _, err := p.Site("a b"); CodeOf(err) != CodeBadLine {
		t.Error(err)
	}
	h, b := image(1)
	if err := p.Pictures().Add(h, b, taken); err != nil {
		t.Errorf("no file was kept for pictures: %v", err)
	}
	if p.DropSite("b") != nil || p.DropSite("unknown") != nil {
		t.Error("DropSite")
	}
	c := must(p.Site("c"))
	must(c.Append(pairs(t, logB, 0, 1)))
	p, _ = restart(t, files, 0, uid(2))
	if got := strings.Join(p.Sites(), " "); got != "a c" || must(p.Site("c")).Len() != 1 {
		t.Error(got)
	}
}

func TestDropSiteThatCannotCutComesBack(t *testing.T) {
	p, files := newPool(t, 6)
	must(must(p.Site("a")).Append(pairs(t, logB, 0, 1)))
	files[2].BreakFor(badfile.CutError)
	if p.DropSite("a") == nil {
		t.Error("an error was swallowed")
	}
	if len(p.Sites()) != 0 {
		t.Error("the feed is still there")
	}
	files[2].Break()
	f := must(p.Site("b")) // takes the file; the rest of the old feed is cut first
	must(f.Append(pairs(t, logB, 1, 2)))
	p, _ = restart(t, files, 0, uid(2))
	if got := strings.Join(p.Sites(), " "); got != "b" || must(p.Site("b")).Len() != 1 {
		t.Error(got)
	}
}

func TestOpenPoolReportsErrors(t *testing.T) {
	_, files := newPool(t, 4)
	files[3].Break(badfile.SizeError)
	if _, err := pool(t, files, uid(2)); CodeOf(err) != CodeReadFailed {
		t.Error(err)
	}
	full := []*badfile.File{badfile.New(nil), badfile.New(nil)}
	full[0].BreakFor(badfile.ShortCount)
	if _, err := pool(t, full, uid(1), 0, 1); CodeOf(err) != CodeStorageFull {
		t.Error(err)
	}
	if p, err := pool(t, []*badfile.File{badfile.New(nil), full[0]}, uid(1), 0, 1); CodeOf(err) != CodeStorageFull {
		t.Error(p, err)
	}
}

// What a crash left of a claim that never ended is no part of what the next claim writes there.
func TestATornClaimIsNotTakenForTheNextOnes(t *testing.T) {
	var files []*badfile.File
	for range 6 {
		files = append(files, badfile.New([]byte(`{"pool":1,"generation":1,"stream":"own","mark":"01`)))
	}
	p := must(pool(t, files, uid(1)))
	must(p.Log().Append(drafts(0, 2)))
	must(must(p.Site("site-1")).Append(pairs(t, logB, 0, 2)))
	again, _ := restart(t, files, 0, uid(2))
	if l := again.Log(); l.ID() != uid(1) || l.Seq() != 2 || l.Count(nil) != 2 || l.Damage().Bad != 0 || must(again.Site("site-1")).Len() != 2 {
		t.Errorf("log %s at %d of %d, %+v", l.ID(), l.Seq(), l.Count(nil), l.Damage())
	}
}
