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

	saved   []string          // lines that were acknowledged and are not lost with a file
	covered int               // of saved, from the beginning, those that may be given back
	numbers map[string]string // log and seq of every line ever acknowledged, with the line
	ahead   []string          // keys that the last crash changed beyond what was acknowledged
	state   map[string]string // values that were acknowledged
	feed    int               // pairs that were acknowledged, from the beginning
	pairs   []Pair
}

func newDevice(t testing.TB) *device {
	d := &device{t: t, state: map[string]string{}, numbers: map[string]string{}, pairs: pairs(t, logB, 0, 60)}
	d.pool, d.files = newPool(t, 9)
	small(d.pool)
	must(d.pool.Site("site-1"))
	return d
}

// keep enters lines as acknowledged.
func (d *device) keep(lines []string) {
	d.saved = append(d.saved, lines...)
	for _, line := range lines {
		e := must(Parse(Line(line)))
		key := e.Log + "/" + strconv.FormatUint(e.Seq, 10)
		if before, taken := d.numbers[key]; taken && before != line {
			panic("two lines have the number " + key)
		}
		d.numbers[key] = line
	}
}

// confirm moves what is covered, and gives files back.
func (d *device) confirm(rt *rapid.T) {
	d.covered = rapid.IntRange(d.covered, len(d.saved)).Draw(rt, "covered")
	done := map[string]bool{}
	for _, line := range d.saved[:d.covered] {
		done[line] = true
	}
	d.pool.Recycle(func(line Line) bool { return done[string(line)] })
}

// vanish loses a file: what was in it is gone, and nothing else.
func (d *device) vanish(rt *rapid.T) {
	i := rapid.IntRange(0, len(d.files)-1).Draw(rt, "file")
	d.restart(0)
	gone := map[string]bool{}
	good, _, _ := scan(d.files[i].Bytes())
	for _, line := range good {
		gone[line] = true
	}
	switch stream := d.pool.slots[i].header.Stream; stream {
	case streamState:
		d.state = map[string]string{}
	case streamOwn:
		kept, covered := d.saved[:0:0], 0
		for n, line := range d.saved {
			if !gone[line] {
				kept = append(kept, line)
			}
			if n < d.covered && !gone[line] {
				covered++
			}
		}
		d.saved, d.covered = kept, covered
	case sitePrefix + "site-1":
		d.feed = 0
	}
	d.files[i] = badfile.New(nil)
	d.starts++
	d.pool = must(pool(d.t, d.files, uid(100+d.starts), i))
	small(d.pool)
}

func (d *device) save(rt *rapid.T) {
	n := rapid.IntRange(1, 3).Draw(rt, "drafts")
	lines, err := d.pool.Log().Append(drafts(d.next, d.next+n))
	d.next += n
	if err == nil {
		d.keep(texts(lines))
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
	f, err := d.pool.Site("site-1")
	if err != nil {
		return // its file vanished and there is no other, or it cannot be had now
	}
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
			d.keep(texts(lines))
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
	small(d.pool)
}

// adopt takes over what a crash in the midst of a write left whole beyond what was acknowledged.
func (d *device) adopt() {
	known := map[string]bool{}
	for _, line := range d.saved {
		known[line] = true
	}
	for _, line := range lines(d.t, d.pool.Log()) {
		if !known[line] {
			d.keep([]string{line})
		}
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
	got := lines(d.t, d.pool.Log())
	if gone := len(d.saved) - len(got); gone < 0 || gone > d.covered || !same(got, d.saved[gone:]) {
		rt.Fatalf("the log has %d lines, %d were saved, %d of them covered", len(got), len(d.saved), d.covered)
	}
	if len(d.ahead) > 1 {
		rt.Fatalf("one crash changed keys %v", d.ahead)
	}
	d.ahead = nil
	n := len(d.pool.State().Keys(""))
	if _, own := d.pool.State().Get(keyOwn); own {
		n--
	}
	if n != len(d.state) {
		rt.Fatalf("%d keys, want %d", n, len(d.state))
	}
	for key, want := range d.state {
		var got string
		if _, err := d.pool.State().Load(key, &got); err != nil || got != want {
			rt.Fatalf("%s = %q, want %q", key, got, want)
		}
	}
	if f := d.pool.feeds["site-1"]; f == nil && d.feed > 0 || f != nil && !same(held(d.t, f), whole(d.pairs[:d.feed])) {
		rt.Fatalf("the feed is not as it was: %d pairs", d.feed)
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
			"confirm": d.confirm, "vanish": d.vanish,
			"restart": func(rt *rapid.T) { d.restart(0) },
		})
	})
}
