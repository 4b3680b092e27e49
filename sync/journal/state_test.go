package journal

import (
	"encoding/json"
	"strconv"
	"strings"
	"testing"

	"jointwalk/sync/journal/badfile"
)

func TestStateKeepsTheLastValue(t *testing.T) {
	p, files := newPool(t, 4)
	s := p.State()
	if s.Set("me", map[string]string{"name": "a<b>"}) != nil || s.Set("n", 1) != nil || s.Set("n", 2) != nil ||
		s.Put(map[string]json.RawMessage{"x": json.RawMessage(` { "y" : 1 } `), "z": json.RawMessage("[]")}) != nil || s.Drop("z", "unknown") != nil {
		t.Fatal("a write failed")
	}
	check := func(s *State) {
		t.Helper()
		var n int
		if ok, err := s.Load("n", &n); !ok || err != nil || n != 2 {
			t.Error(ok, err, n)
		}
		if got, ok := s.Get("x"); !ok || string(got) != `{"y":1}` {
			t.Errorf("%s", got)
		}
		if got, _ := s.Get("me"); string(got) != `{"name":"a<b>"}` {
			t.Errorf("%s", got)
		}
		if got := strings.Join(s.Keys(""), " "); got != "me n x" {
			t.Error(got)
		}
		if got := s.Keys("m"); len(got) != 1 {
			t.Error(got)
		}
	}
	check(s)
	p, _ = restart(t, files, 0, uid(2))
	check(p.State())
	if p.State().live != s.live {
		t.Errorf("live %d, was %d", p.State().live, s.live)
	}
}

func TestStateRefusesWhatItCannotHold(t *testing.T) {
	p, files := newPool(t, 4)
	s := p.State()
	before := must(files[0].Size())
	for name, err := range map[string]error{
		"no JSON":  s.Put(map[string]json.RawMessage{"a": json.RawMessage("{")}),
		"a func":   s.Set("a", func() {}),
		"too long": s.Set("a", strings.Repeat("x", MaxStatePut)),
	} {
		if CodeOf(err) != CodeBadKey {
			t.Errorf("%s: %v", name, err)
		}
	}
	if s.Put(nil) != nil || s.Drop("nothing") != nil || must(files[0].Size()) != before {
		t.Error("something was written for nothing")
	}
	s.Set("a", "text")
	var n int
	if ok, err := s.Load("a", &n); !ok || CodeOf(err) != CodeBadKey {
		t.Error(ok, err)
	}
	if ok, err := s.Load("none", &n); ok || err != nil {
		t.Error(ok, err)
	}
}

func TestStateAfterEveryFlaw(t *testing.T) {
	for _, flaw := range badfile.Flaws {
		if flaw == badfile.CutError {
			continue
		}
		p, files := newPool(t, 4)
		p.State().Set("a", 1)
		files[0].Break(flaw)
		err := p.State().Put(map[string]json.RawMessage{"a": json.RawMessage("2"), "b": json.RawMessage("3")})
		got, _ := p.State().Get("a")
		if _, b := p.State().Get("b"); CodeOf(err) == "" || string(got) != "1" || b {
			t.Errorf("flaw %d: %v, a = %s", flaw, err, got)
		}
		p.State().Set("c", 4)
		p, _ = restart(t, files, 0, uid(2))
		if got := strings.Join(p.State().Keys(""), " "); got != "a c" {
			t.Errorf("flaw %d: a restart finds %q", flaw, got)
		}
	}
}

func TestADamagedStateLineTakesOneKey(t *testing.T) {
	p, files := newPool(t, 4)
	for _, key := range []string{"a", "b", "c"} {
		p.State().Set(key, 1)
	}
	data := files[0].Bytes()
	at := strings.Index(string(data), `"b"`)
	data[at+1] = '#'
	files[0] = badfile.New(data)
	p, _ = restart(t, files, 0, uid(2))
	if got := strings.Join(p.State().Keys(""), " "); got != "a c" || p.Report().Bad != 1 {
		t.Errorf("%q, %+v", got, p.Report())
	}
}

// fill writes to the state until it has moved to another file.
func fill(t *testing.T, p *Pool) {
	t.Helper()
	was := p.State().tape
	for n := 0; p.State().tape == was; n++ {
		if n > 10000 {
			t.Fatal("the state was never compacted")
		}
		if err := p.State().Set("k"+strconv.Itoa(n%5), n); err != nil {
			t.Fatal(err)
		}
	}
}

func TestStateIsCompacted(t *testing.T) {
	p, files := newPool(t, 4)
	for range 3 {
		fill(t, p)
		want := p.State().values
		if p.State().tape.end > 4096 || p.Report().Free != 2 {
			t.Errorf("%d bytes, %d files free", p.State().tape.end, p.Report().Free)
		}
		p, files = restart(t, files, 0, uid(2))
		if len(want) != 5 || len(p.State().values) != 5 {
			t.Errorf("%d keys, were %d", len(p.State().values), len(want))
		}
		for key, value := range want {
			if got, _ := p.State().Get(key); string(got) != string(value) {
				t.Errorf("%s = %s, was %s", key, got, value)
			}
		}
	}
}

// A crash at each call of a compaction, with any part of the last write kept, loses no key.
func TestCompactionDiesAtEachCall(t *testing.T) {
	died := 0
	for left := 0; ; left++ {
		p, files := newPool(t, 4)
		for n := range 5 {
			p.State().Set("k"+strconv.Itoa(n), n)
		}
		power := &badfile.Power{Left: left}
		p.State().later = 0 // the next Put compacts
		p.State().live = 0
		for _, f := range files {
			f.Power = power
		}
		err := p.State().Set("k5", 5)
		pending := 0
		for _, f := range files {
			pending = max(pending, f.Pending())
		}
		for keep := 0; keep <= pending; keep++ {
			again, _ := restart(t, files, keep, uid(2))
			got := strings.Join(again.State().Keys(""), " ")
			if got != "k0 k1 k2 k3 k4 k5" && (err == nil || got != "k0 k1 k2 k3 k4") {
				t.Fatalf("power for %d calls, %d bytes kept: %q (%v)", left, keep, got, err)
			}
			if f := again.Report().Free; f != 2 {
				t.Fatalf("power for %d calls, %d bytes kept: %d files free", left, keep, f)
			}
			if again.State().Set("more", 1) != nil {
				t.Fatal("the state cannot be written after the crash")
			}
		}
		if power.Left >= 0 {
			break
		}
		died++
	}
	if died < 5 {
		t.Errorf("only %d crashes: the compaction was not there", died)
	}
}

// The old file cannot be emptied: the newer one counts all the same, with what was written to it since.
func TestTheNewerSnapshotCounts(t *testing.T) {
	p, files := newPool(t, 4)
	p.State().Set("a", "old")
	p.State().Set("gone", 1)
	files[0].BreakFor(badfile.CutError)
	p.State().later, p.State().live = 0, 0
	p.State().Set("b", 1)
	if p.State().tape.file == files[0] || p.State().Set("a", "new") != nil || p.State().Drop("gone") != nil {
		t.Fatal("the state did not move")
	}
	p, _ = restart(t, files, 0, uid(2))
	if got, _ := p.State().Get("a"); string(got) != `"new"` || strings.Join(p.State().Keys(""), " ") != "a b" || p.Report().Free != 2 {
		t.Errorf("a = %s, keys %v, %d free", got, p.State().Keys(""), p.Report().Free)
	}
}

func TestNoRoomForACompactionIsNoFailure(t *testing.T) {
	p, files := newPool(t, 3)
	files[2].BreakFor(badfile.ShortCount)
	for n := range 12000 {
		if err := p.State().Set("k"+strconv.Itoa(n%5), n); err != nil {
			t.Fatal(err)
		}
	}
	if p.State().tape.file != files[0] || must(files[2].Size()) != 0 {
		t.Error("the state moved to a full file")
	}
	files[2].Break()
	fill(t, p)
	if got, _ := p.State().Get("k4"); string(got) == "" || p.State().tape.file != files[2] {
		t.Error("it did not move when there was room")
	}
}

// A snapshot that was written wrong, with its end mark, where neither the file could be cut back nor the app went on: the file
// that it was made of counts.
func TestASnapshotWrittenWrongIsNotBelieved(t *testing.T) {
	p, files := newPool(t, 4)
	for n := range 5 {
		p.State().Set("k"+strconv.Itoa(n), n)
	}
	files[2].BreakFor(badfile.Flipped, badfile.CutError)
	p.State().later, p.State().live = 0, 0
	if err := p.State().Set("k5", 5); err != nil || p.State().tape.file != files[0] {
		t.Fatal("the state moved all the same", err)
	}
	if size := must(files[2].Size()); size == 0 {
		t.Fatal("nothing was left in the other file")
	}
	again, _ := restart(t, files, 0, uid(2))
	if got := strings.Join(again.State().Keys(""), " "); got != "k0 k1 k2 k3 k4 k5" {
		t.Errorf("only %q is left", got)
	}
	if f := again.Report().Free; f != 2 {
		t.Errorf("%d files free", f)
	}
}

// A file that a start gives back, and claims again for a log that is gone, is not taken for what it held.
func TestAFileGivenBackAtAStartIsEmpty(t *testing.T) {
	p, files := newPool(t, 4)
	must(p.Log().Append(drafts(0, 3)))
	p.State().Set("a", "old")
	files[0].BreakFor(badfile.CutError)
	p.State().later, p.State().live = 0, 0
	if p.State().Set("b", 1); p.State().tape.file != files[2] || must(files[0].Size()) == 0 {
		t.Fatal("the state did not move, or left nothing behind")
	}
	files[0].Break()
	files[0].WriteAt([]byte("torn"), must(files[0].Size()))
	files[0].Sync()
	files[1] = badfile.New(nil)
	again := must(pool(t, files, uid(2), 1))
	if d := again.Log().Damage(); d.Bad != 0 || d.Torn != 0 || len(lines(t, again.Log())) != 0 {
		t.Errorf("%+v, %d lines", d, len(lines(t, again.Log())))
	}
	saved := texts(must(again.Log().Append(drafts(5, 7))))
	again, _ = restart(t, files, 0, uid(3))
	if got := lines(t, again.Log()); !same(got, saved) {
		t.Errorf("%d lines, saved %d", len(got), len(saved))
	}
}
