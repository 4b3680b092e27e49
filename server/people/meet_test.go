package people

import (
	"crypto/rand"
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"jointwalk/server/store"
	"jointwalk/server/store/memory"
)

// holds is a server that holds so much of each log.
func holds(held map[string]uint64) func(string) (uint64, error) {
	return func(log string) (uint64, error) { return held[log], nil }
}

// meets holds a meeting to have no foreign log, and gives the logs that were lost.
func (d *door) meets(device, log string, seq uint64, earlier []string, held map[string]uint64) (lost []string) {
	d.t.Helper()
	met, err := d.Meet(device, log, seq, earlier, holds(held))
	if err != nil || met.Foreign {
		d.t.Fatalf("%+v, %v", met, err)
	}
	for _, l := range met.Lost {
		lost = append(lost, l.Log)
	}
	return lost
}

func (d *door) writer(log, want string) {
	d.t.Helper()
	if device, known, err := d.Writer(log); err != nil || device != want || known != (want != "") {
		d.t.Errorf("%s is written by %q %v, want %q, %v", log, device, known, want, err)
	}
}

func (d *door) lost(want ...string) []LostLog {
	d.t.Helper()
	all, err := d.Lost()
	var logs []string
	for _, l := range all {
		logs = append(logs, l.Log)
	}
	if err != nil || !slices.Equal(logs, want) {
		d.t.Fatalf("lost %v, want %v, %v", logs, want, err)
	}
	return all
}

func TestTheFirstToTellOfALog(t *testing.T) {
	d := newDoor(t)
	one, _ := d.pair()
	other, _ := d.pair()
	d.writer("log-1", "")
	d.meets(one.Device.ID, "log-1", 3, nil, nil)
	d.writer("log-1", one.Device.ID)
	before := len(d.trail())
	met, err := d.Meet(other.Device.ID, "log-1", 9, []string{"log-2"}, holds(nil))
	if err != nil || !met.Foreign || met.Lost != nil {
		t.Errorf("%+v, %v", met, err)
	}
	d.writer("log-1", one.Device.ID)
	d.writer("log-2", "")
	if what := d.trail()[before:]; len(what) != 0 {
		t.Errorf("%v", what)
	}
	// It has begun another one, and cannot claim the first as its own past.
	d.meets(other.Device.ID, "log-3", 1, []string{"log-1", "log-2"}, nil)
	d.writer("log-1", one.Device.ID)
	d.writer("log-2", other.Device.ID)
	d.writer("log-3", other.Device.ID)
	_, err = d.Meet("none", "log-4", 1, nil, holds(nil))
	wants(t, err, UnknownDevice)
	d.writer("log-4", "")
}

// The unsent events of the log that a browser wrote before it was paired anew keep their writer.
func TestPairedAnew(t *testing.T) {
	d := newDoor(t)
	before, _ := d.pair()
	d.meets(before.Device.ID, "log-1", 3, nil, nil)
	after, _ := d.pair()
	if met, err := d.Meet(after.Device.ID, "log-1", 3, nil, holds(nil)); err != nil || !met.Foreign {
		t.Errorf("%+v, %v", met, err)
	}
	d.meets(after.Device.ID, "log-2", 1, []string{"log-1"}, nil)
	d.writer("log-1", before.Device.ID)
	d.lost()
}

func TestALogIsLost(t *testing.T) {
	d := newDoor(t)
	v, _ := d.pair()
	device := v.Device.ID
	d.meets(device, "log-1", 7, nil, map[string]uint64{"log-1": 4})
	d.at = d.at.Add(time.Hour)
	held := map[string]uint64{"log-1": 5}
	for range 3 { // the phone is told until it has heard it
		if lost := d.meets(device, "log-2", 1, nil, held); !slices.Equal(lost, []string{"log-1"}) {
			t.Errorf("%v", lost)
		}
	}
	row := d.lost("log-1")[0]
	want := LostLog{Device: device, DeviceName: "Phone", Person: v.Person.ID, Log: "log-1", Told: 7, Upto: 5, At: d.at}
	if row != want {
		t.Errorf("%+v, want %+v", row, want)
	}
	// Its events came another way: nothing more to tell the phone, and the row stays for those who look after it.
	if lost := d.meets(device, "log-2", 1, nil, map[string]uint64{"log-1": 7}); lost != nil {
		t.Errorf("%v", lost)
	}
	d.lost("log-1")
	// A copy of the old storage is back.
	d.meets(device, "log-1", 7, []string{"log-2"}, held)
	d.lost()
	want2 := []string{"log begun log-1", "log begun log-2, log lost log-1", "log found again log-1"}
	if what := d.trail(); !slices.Equal(what[len(what)-3:], want2) {
		t.Errorf("%q", what)
	}
}

func TestALogThatEndedWell(t *testing.T) {
	d := newDoor(t)
	v, _ := d.pair()
	device := v.Device.ID
	d.meets(device, "log-1", 7, nil, map[string]uint64{"log-1": 4})
	for name, c := range map[string]struct {
		earlier []string
		held    uint64
	}{"all of it is held": {nil, 7}, "more than was told": {nil, 9}, "the phone still has it": {[]string{"x", "log-1"}, 4}} {
		if lost := d.meets(device, "log-2", 1, c.earlier, map[string]uint64{"log-1": c.held}); lost != nil {
			t.Errorf("%s: %v", name, lost)
		}
	}
	d.lost()
	// What was held when it was told needs no remembering, also when a later request tells less.
	held := map[string]uint64{"log-1": 7, "log-2": 1, "log-3": 5}
	d.meets(device, "log-3", 5, nil, held)
	d.meets(device, "log-3", 9, nil, held)
	d.meets(device, "log-3", 6, nil, held)
	held["log-3"] = 8
	d.meets(device, "log-4", 1, nil, held)
	if row := d.lost("log-3")[0]; row.Told != 9 || row.Upto != 8 {
		t.Errorf("%+v", row)
	}
}

// counted counts transactions that write, and refuses them when it may not.
type counted struct {
	store.Rows
	n int
}

func (c *counted) Change(a store.Audit, do func(store.RowWriter) error) error {
	c.n++
	return c.Rows.Change(a, do)
}

func (c *counted) Keep(do func(store.RowWriter) error) error {
	c.n++
	return c.Rows.Keep(do)
}

// The sync that brings nothing new writes nothing.
func TestMeetingAgainWritesNothing(t *testing.T) {
	rows, at := &counted{Rows: memory.NewRows()}, time.Date(2026, 3, 2, 8, 0, 0, 0, time.UTC)
	g, err := New(rows, func() time.Time { return at }, rand.Reader)
	if err != nil {
		t.Fatal(err)
	}
	v, _, err := g.Setup(g.SetupCode(), "Somebody", "Desk")
	if err != nil {
		t.Fatal(err)
	}
	rows.n = 0
	held := map[string]uint64{}
	for _, c := range []struct {
		what    string
		log     string
		seq     uint64
		earlier []string
		wait    time.Duration
		held    uint64
		writes  int
	}{
		{"first", "log", 3, nil, 0, 0, 1},
		{"the same", "log", 3, nil, time.Minute, 0, 0},
		{"all has come", "log", 3, nil, time.Minute, 3, 0},
		{"more, and held already", "log", 4, nil, time.Minute, 4, 0},
		{"more", "log", 6, nil, time.Minute, 4, 1},
		{"less", "log", 5, nil, time.Minute, 4, 0},
		{"an earlier one", "log", 6, []string{"log-0", "log-0", "", "log"}, time.Minute, 4, 1},
		{"the same", "log", 6, []string{"log-0"}, time.Minute, 6, 0},
		{"the next day", "log", 6, []string{"log-0"}, 24 * time.Hour, 6, 1},
		{"the same day", "log", 6, nil, time.Minute, 6, 0},
		{"no log at all", "", 0, nil, time.Minute, 6, 0},
	} {
		at, held["log"], rows.n = at.Add(c.wait), c.held, 0
		if met, err := g.Meet(v.Device.ID, c.log, c.seq, c.earlier, holds(held)); err != nil || met.Foreign || met.Lost != nil || rows.n != c.writes {
			t.Errorf("%s: %d writes, want %d; %+v, %v", c.what, rows.n, c.writes, met, err)
		}
	}
}

// What another request told meanwhile is seen.
func TestMeetingAtOneMoment(t *testing.T) {
	rows, g := newMeddled(t)
	v, _, err := g.Setup(g.SetupCode(), "Somebody", "Desk")
	if err != nil {
		t.Fatal(err)
	}
	rows.before = func(w store.RowWriter) error { return put(w, tableLogs, "log", logRow{"another"}) }
	if met, err := g.Meet(v.Device.ID, "log", 1, nil, holds(nil)); err != nil || !met.Foreign {
		t.Errorf("%+v, %v", met, err)
	}
	if device, _, err := g.Writer("log"); err != nil || device != "another" {
		t.Errorf("%s, %v", device, err)
	}
	counts := atOnce(20, func(i int) error {
		_, err := g.Meet(v.Device.ID, fmt.Sprint("log-", i%4), uint64(i), []string{"log-0", "log-1", "log-2", "log-3"}, holds(nil))
		return err
	})
	if counts[""] != 20 {
		t.Errorf("%v", counts)
	}
	for i := range 4 {
		if device, _, err := g.Writer(fmt.Sprint("log-", i)); err != nil || device != v.Device.ID {
			t.Errorf("%d: %s, %v", i, device, err)
		}
	}
}

var errUpto = errors.New("the store of events broke")

func TestABrokenFrontierIsAnError(t *testing.T) {
	d := newDoor(t)
	v, _ := d.pair()
	_, err := d.Meet(v.Device.ID, "log", 1, nil, func(string) (uint64, error) { return 0, errUpto })
	if !errors.Is(err, errUpto) {
		t.Errorf("%v", err)
	}
	d.writer("log", "")
}
