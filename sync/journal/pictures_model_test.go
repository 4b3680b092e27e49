package journal

import (
	"bytes"
	"strconv"
	"testing"

	"jointwalk/sync/journal/badfile"
	"pgregory.net/rapid"
)

// shelf is a pool whose pictures are under test beside what it must hold.
type shelf struct {
	t        testing.TB
	files    []*badfile.File
	pool     *Pool
	starts   int
	contents map[string][]byte
	waits    map[string]bool // added, and no confirmation was kept since
	unsure   map[string]bool // dropped in the moment of a crash, or not all of it could be written
	gone     map[string]bool // dropped, and not added since
	maybe    map[string]bool // confirmed in the moment of a crash, or a confirmation was forgotten then
}

func newShelf(t testing.TB) *shelf {
	s := &shelf{t: t, contents: map[string][]byte{}, waits: map[string]bool{}, maybe: map[string]bool{}, unsure: map[string]bool{}, gone: map[string]bool{}}
	s.pool, s.files = newPool(t, 7)
	s.pool.Pictures().limit = 1500
	return s
}

func (s *shelf) add(rt *rapid.T) {
	n := rapid.IntRange(1, 30).Draw(rt, "picture")
	content := bytes.Repeat([]byte{byte(n), '\n', '{'}, 100+n)
	h := Hash(content)
	s.contents[h] = content
	was := s.gone[h]
	delete(s.gone, h)
	if s.pool.Pictures().Add(h, content, taken) != nil {
		s.gone[h] = was
	} else {
		s.waits[h] = true
		delete(s.unsure, h)
	}
}

func (s *shelf) drop(rt *rapid.T) {
	list := s.pool.Pictures().List()
	if len(list) == 0 {
		return
	}
	s.dropped(rapid.SampledFrom(list).Draw(rt, "picture").Hash)
}

// dropped drops one: after an error it may be there still, whole, and is dropped again when it is asked for.
func (s *shelf) dropped(h string) {
	if s.pool.Pictures().Drop(h) != nil {
		s.unsure[h] = true
		return
	}
	delete(s.waits, h)
	delete(s.unsure, h)
	s.gone[h] = true
}

func (s *shelf) confirm(rt *rapid.T) {
	list := s.pool.Pictures().List()
	if len(list) == 0 {
		return
	}
	h := rapid.SampledFrom(list).Draw(rt, "picture").Hash
	if s.pool.Pictures().Confirm(h) == nil {
		delete(s.waits, h)
	} else {
		s.maybe[h] = true
	}
}

func (s *shelf) restore(*rapid.T) {
	err := s.pool.Pictures().Unconfirm()
	for _, picture := range s.pool.Pictures().List() {
		if err == nil {
			s.waits[picture.Hash] = true
		} else {
			s.maybe[picture.Hash] = true
		}
	}
}

// want takes or gives back the file of a site.
func (s *shelf) want(rt *rapid.T) {
	site := "site-" + strconv.Itoa(rapid.IntRange(1, 3).Draw(rt, "site"))
	if rapid.Bool().Draw(rt, "drop") {
		_ = s.pool.DropSite(site)
		return
	}
	_, _ = s.pool.Site(site)
}

func (s *shelf) flaw(rt *rapid.T) {
	rapid.SampledFrom(s.files).Draw(rt, "file").Break(rapid.SampledFrom(badfile.Flaws).Draw(rt, "flaw"))
}

// crash lets the power go within the next calls, whatever they are for.
func (s *shelf) crash(rt *rapid.T) {
	power := &badfile.Power{Left: rapid.IntRange(0, 6).Draw(rt, "left")}
	for _, f := range s.files {
		f.Power = power
	}
	for range 2 {
		rapid.SampledFrom([]func(*rapid.T){s.add, s.confirm, s.restore, s.want, s.drop}).Draw(rt, "act")(rt)
	}
	s.restart(rapid.IntRange(0, 800).Draw(rt, "keep"))
}

func (s *shelf) restart(keep int) {
	s.starts++
	for i, f := range s.files {
		s.files[i] = f.Crash(keep)
	}
	s.pool = must(pool(s.t, s.files, uid(100+s.starts)))
	s.pool.Pictures().limit = 1500
	for h, gone := range s.gone {
		if gone {
			s.dropped(h) // as whoever opens a pool does: its file may have come back
		}
	}
	for _, picture := range s.pool.Pictures().List() {
		if s.maybe[picture.Hash] && picture.Confirmed {
			delete(s.waits, picture.Hash)
		}
	}
}

func (s *shelf) check(rt *rapid.T) {
	for _, f := range s.files {
		f.Break()
	}
	listed, waiting := map[string]bool{}, 0
	for _, picture := range s.pool.Pictures().List() {
		content, err := s.pool.Pictures().Read(picture.Hash)
		if err != nil || !bytes.Equal(content, s.contents[picture.Hash]) || listed[picture.Hash] || picture.At != taken {
			rt.Fatalf("%+v: %v", picture, err)
		}
		if listed[picture.Hash] = true; !picture.Confirmed {
			waiting++
		} else if s.waits[picture.Hash] {
			rt.Fatalf("%s was not confirmed, yet it does not wait", picture.Hash)
		}
	}
	for h := range s.waits {
		if !listed[h] && !s.unsure[h] {
			rt.Fatalf("%s waits no more, and is gone", h)
		}
	}
	for h, gone := range s.gone {
		if gone && (listed[h] || !s.unsure[h] && s.stands(h)) {
			rt.Fatalf("%s was dropped, and is here", h)
		}
	}
	if waiting != s.pool.Pictures().Waiting() || s.pool.Report().Bad != 0 {
		rt.Fatalf("%d wait: %+v", waiting, s.pool.Report())
	}
	if err := s.pool.Check(); err != nil {
		rt.Fatal(err)
	}
}

// stands says whether the bytes of a picture stand in a file that the pool has in use.
func (s *shelf) stands(h string) bool {
	for _, slot := range s.pool.slots {
		if data := must(slot.tape.read(0, slot.tape.end)); bytes.Contains(data, s.contents[h]) {
			return true
		}
	}
	return false
}

// Whatever goes wrong and whenever the power goes, a picture that waits is there and whole; only confirmed ones give way. What was dropped is
// nowhere.
func TestPicturesAgainstAModel(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		s := newShelf(t)
		rt.Repeat(map[string]func(*rapid.T){
			"add": s.add, "confirm": s.confirm, "restore": s.restore, "want": s.want, "drop": s.drop, "flaw": s.flaw, "crash": s.crash, "": s.check,
			"restart": func(*rapid.T) { s.restart(0) },
		})
	})
}
