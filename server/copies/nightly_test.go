package copies

import (
	"bytes"
	"context"
	"errors"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"
	_ "time/tzdata" // summer time, on machines without a table of zones
)

// nights is a keeper with a clock of its own, whose ticks are told by hand.
type nights struct {
	*Keeper
	t   *testing.T
	now time.Time
	log bytes.Buffer
}

func keeper(t *testing.T, now time.Time) *nights {
	n := &nights{t: t, now: now}
	n.Keeper = &Keeper{Source: house(t), Folder: filepath.Join(t.TempDir(), "copies"), Now: func() time.Time { return n.now }, Log: slog.New(slog.NewTextHandler(&n.log, nil))}
	return n
}

// pass lets time pass, looking each step, and gives how many copies there are then.
func (n *nights) pass(length, step time.Duration) int {
	n.t.Helper()
	for end := n.now.Add(length); n.now.Before(end); n.now = n.now.Add(step) {
		n.look(context.Background())
	}
	return len(n.all())
}

func (n *nights) all() []Copy {
	n.t.Helper()
	all, err := List(n.Folder)
	if err != nil {
		n.t.Fatal(err)
	}
	return all
}

func TestWhenANightlyCopyIsDue(t *testing.T) {
	madrid, err := time.LoadLocation("Europe/Madrid")
	if err != nil {
		t.Fatal(err)
	}
	for now, want := range map[string]string{
		"2026-03-04 02:30": "2026-03-04 02:30", "2026-03-04 02:29": "2026-03-03 02:30", "2026-03-04 23:59": "2026-03-04 02:30",
		"2026-03-01 00:00": "2026-02-28 02:30", "2026-01-01 01:00": "2025-12-31 02:30",
		"2026-03-29 12:00": "2026-03-29 03:30", // the clocks jumped from 2 to 3
	} {
		at, err := time.ParseInLocation("2006-01-02 15:04", now, madrid)
		if err != nil {
			t.Fatal(err)
		}
		if got := lastNight(at).Format("2006-01-02 15:04"); got != want {
			t.Errorf("before %s: %s, want %s", now, got, want)
		}
	}
}

// One a night; the first at the first tick, since there is none; after a stop of a day the one that was missed.
func TestOneCopyANight(t *testing.T) {
	n := keeper(t, noon)
	if _, err := n.Newest(); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v", err)
	}
	if got := n.pass(time.Hour, time.Minute); got != 1 {
		t.Errorf("%d at the start", got)
	}
	if got := n.pass(3*24*time.Hour, time.Minute); got != 4 {
		t.Errorf("%d after three nights", got)
	}
	for _, c := range n.all()[1:] {
		if c.Made.Hour() != 2 || c.Made.Minute() != 30 {
			t.Errorf("made at %v", c.Made)
		}
	}
	if newest, err := n.Newest(); err != nil || !newest.Equal(n.all()[3].Made) {
		t.Errorf("%v %v", newest, err)
	}
	n.now = n.now.Add(30 * time.Hour)
	if got := n.pass(time.Minute, time.Minute); got != 5 {
		t.Errorf("%d after a stop", got)
	}
}

// Copies are kept for 14 days, and the newest seven for longer.
func TestOldCopiesGo(t *testing.T) {
	n := keeper(t, noon)
	n.pass(30*24*time.Hour, 30*time.Minute)
	all := n.all()
	if oldest := n.now.Sub(all[0].Made); len(all) < 14 || len(all) > 15 || oldest > 15*24*time.Hour {
		t.Errorf("%d, the oldest of %v", len(all), oldest)
	}
	entries, err := os.ReadDir(n.Folder)
	if err != nil || len(entries) != len(all) {
		t.Errorf("%v %v", entries, err)
	}
	n.now = n.now.Add(10 * 365 * 24 * time.Hour)
	if got := n.pass(time.Hour, time.Hour); got != keptLeast {
		t.Errorf("%d after a clock that jumped", got)
	}
}

// When a copy cannot be made it is said, none goes for it, and it is tried again in an hour.
func TestNightsThatFail(t *testing.T) {
	n := keeper(t, noon)
	n.pass(20*24*time.Hour, 30*time.Minute)
	before := len(n.all())
	put(t, "damaged", n.Source.Data, StoreFile)
	n.log.Reset()
	tries := 0
	check := n.Source.Store.Check
	n.Source.Store.Check = func(path string) ([]string, error) { tries++; return check(path) }
	if got := n.pass(20*24*time.Hour, 30*time.Minute); got != before {
		t.Errorf("%d of %d are left", got, before)
	}
	if tries < 19*24 || tries > 20*24 {
		t.Errorf("tried %d times in 20 days", tries)
	}
	if !strings.Contains(n.log.String(), "level=WARN") || !strings.Contains(n.log.String(), "it says so") {
		t.Errorf("%.300s", n.log.String())
	}
	put(t, storeText, n.Source.Data, StoreFile)
	n.pass(2*time.Hour, time.Minute)
	if newest, err := n.Newest(); err != nil || n.now.Sub(newest) > 2*time.Hour {
		t.Errorf("%v %v", newest, err)
	}
}

// A copy that a wrong clock made in the future does not stand for those of now.
func TestACopyFromTheFuture(t *testing.T) {
	n := keeper(t, noon.AddDate(10, 0, 0))
	n.pass(time.Minute, time.Minute)
	n.now = noon
	if _, err := n.Newest(); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v", err)
	}
	if got := n.pass(2*24*time.Hour, time.Minute); got != 4 {
		t.Errorf("%d", got)
	}
}

// Run looks at each tick, and ends with its context.
func TestRun(t *testing.T) {
	n := keeper(t, noon)
	ticks, ended := make(chan time.Time), make(chan bool)
	ctx, stop := context.WithCancel(context.Background())
	go func() {
		n.Run(ctx, ticks)
		close(ended)
	}()
	ticks <- noon
	ticks <- noon // waits until the one before was looked at
	stop()
	<-ended
	if len(n.all()) != 1 {
		t.Errorf("%v", n.all())
	}
}

// A copy that is asked for waits for the one that is being made.
func TestNeverTwoAtOnce(t *testing.T) {
	n := keeper(t, noon)
	running := make(chan bool, 1)
	n.Source.Store.Check = func(string) ([]string, error) {
		select {
		case running <- true:
		default:
			t.Error("two at once")
			return nil, nil
		}
		time.Sleep(time.Millisecond)
		<-running
		return nil, nil
	}
	ended := make(chan error)
	for i := range 5 {
		go func() {
			_, err := n.Make(context.Background(), filepath.Join(n.Folder, string(rune('a'+i))))
			ended <- err
		}()
	}
	for range 5 {
		if err := <-ended; err != nil {
			t.Error(err)
		}
	}
}
