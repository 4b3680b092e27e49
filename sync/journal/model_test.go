package journal

import (
	"strconv"
	"testing"

	"jointwalk/sync/journal/badfile"
	"pgregory.net/rapid"
)

// device is a pool under test beside what it must hold.
type device struct {
	t      testing.TB
	files  []*badfile.File
	pool   *Pool
	starts int
	next   int // number of the next draft

	saved []string          // lines that were acknowledged
	ahead []string          // keys that the last crash changed beyond what was acknowledged
	state map[string]string // values that were acknowledged
	feed  int               // pairs that were acknowledged, from the beginning
	pairs []Pair
}

func newDevice(t testing.TB) *device {
	d := &device{t: t, state: map[string]string{}, pairs: pairs(t, logB, 0, 60)}
	d.pool, d.files = newPool(t, 6)
	must(d.pool.Site("site-1"))
	return d
}

func (d *device) save(rt *rapid.T) {
	n := rapid.IntRange(1, 3).Draw(rt, "drafts")
	lines, err := d.pool.Log().Append(drafts(d.next, d.next+n))
	d.next += n
	if err == nil {
		d.saved = append(d.saved, texts(lines)...)
	}
}

func (d *device) set(rt *rapid.T) {
	key := rapid.SampledFrom([]string{"a", "b", "c"}).Draw(rt, "key")
	if rapid.Bool().Draw(rt, "drop") {
		if d.pool.State().Drop(key) == nil {
			delete(d.state, key)
		}
		return
	}
	value := strconv.Itoa(rapid.IntRange(0, 99).Draw(rt, "value"))
	if rapid.IntRange(0, 3).Draw(rt, "compact") == 0 {
		d.pool.State().later, d.pool.State().live = 0, 0 // the size rule is another test's
	}
	if d.pool.State().Set(key, value) == nil {
		d.state[key] = value
	}
}

func (d *device) pull(rt *rapid.T) {
	from := rapid.IntRange(0, d.feed).Draw(rt, "from")
	to := min(from+rapid.IntRange(0, 5).Draw(rt, "slice"), len(d.pairs))
	f := must(d.pool.Site("site-1"))
	if _, err := f.Append(d.pairs[from:to]); err == nil {
		d.feed = max(d.feed, to)
	}
}

func (d *device) damage(rt *rapid.T) {
	f := rapid.SampledFrom(d.files).Draw(rt, "file")
	f.Break(rapid.SampledFrom(badfile.Flaws).Draw(rt, "flaw"))
}

// crash lets the power go within the next few calls, tries each kind of write, and starts again.
func (d *device) crash(rt *rapid.T) {
	power := &badfile.Power{Left: rapid.IntRange(0, 6).Draw(rt, "left")}
	for _, f := range d.files {
		f.Power = power
	}
	if rapid.Bool().Draw(rt, "in a save") {
		lines, err := d.pool.Log().Append(drafts(d.next, d.next+2))
		if err == nil {
			d.saved = append(d.saved, texts(lines)...)
		}
		d.next += 2
	} else {
		d.set(rt)
	}
	d.restart(rapid.IntRange(0, 1000).Draw(rt, "keep"))
	d.adopt()
}

func (d *device) restart(keep int) {
	d.starts++
	for i, f := range d.files {
		d.files[i] = f.Crash(keep)
	}
	var err error
	if d.pool, err = pool(d.t, d.files, uid(100+d.starts)); err != nil {
		panic(err)
	}
}

// adopt takes over what a crash in the midst of a write left whole beyond what was acknowledged.
func (d *device) adopt() {
	got := lines(d.t, d.pool.Log())
	if len(got) > len(d.saved) && len(got) <= len(d.saved)+3 {
		d.saved = append(d.saved, got[len(d.saved):]...)
	}
	for _, key := range []string{"a", "b", "c"} { // check says that it is at most one
		d.follow(key)
	}
}

func (d *device) follow(key string) {
	var value string
	if ok, _ := d.pool.State().Load(key, &value); ok && d.state[key] != value {
		d.ahead = append(d.ahead, key)
		d.state[key] = value
	} else if _, had := d.state[key]; had && !ok {
		d.ahead = append(d.ahead, key)
		delete(d.state, key)
	}
}

func (d *device) check(rt *rapid.T) {
	for _, f := range d.files {
		f.Break() // flaws not yet met must not spoil the looking
	}
	if got := lines(d.t, d.pool.Log()); !same(got, d.saved) {
		rt.Fatalf("the log has %d lines, %d were saved", len(got), len(d.saved))
	}
	if len(d.ahead) > 1 {
		rt.Fatalf("one crash changed keys %v", d.ahead)
	}
	d.ahead = nil
	if n := len(d.pool.State().Keys("")); n != len(d.state) {
		rt.Fatalf("%d keys, want %d", n, len(d.state))
	}
	for key, want := range d.state {
		var got string
		if _, err := d.pool.State().Load(key, &got); err != nil || got != want {
			rt.Fatalf("%s = %q, want %q", key, got, want)
		}
	}
	if got := held(d.t, must(d.pool.Site("site-1"))); !same(got, whole(d.pairs[:d.feed])) {
		rt.Fatalf("the feed has %d pairs, want %d", len(got), d.feed)
	}
	if r := d.pool.Report(); r.Bad != 0 || d.pool.Log().Damage().Broken != 0 {
		rt.Fatalf("%+v", r)
	}
}

// Whatever goes wrong and whenever the power goes, what was acknowledged is there, once, in order.
func TestPoolAgainstAModel(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		d := newDevice(t)
		rt.Repeat(map[string]func(*rapid.T){
			"save": d.save, "set": d.set, "pull": d.pull, "flaw": d.damage, "crash": d.crash, "": d.check,
			"restart": func(rt *rapid.T) { d.restart(0) },
		})
	})
}
