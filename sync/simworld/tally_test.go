package simworld

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"
)

// The faults that the world knows. Every one must happen in every run.
var faults = []string{
	"request dropped", "reply lost", "reply lost after commit", "request twice", "reply twice", "late reply", "late request", "delayed for days",
	"request cut", "reply cut", "slow link", "partition", "portal page", "server error page",
	"crash at a write", "crash at a flush", "crash at a cut", "power cut", "crash with a torn write", "worker killed", "frozen", "handles died", "eviction", "eviction without session",
	"snapshot restored", "second tab refused", "second tab took over", "old tab wrote", "phone full: short count", "phone full: lying count", "phone full: refused",
	"flush failed", "flush lost", "wrong byte written", "cut failed", "pool file gone", "pool file gone again", "clock ±5 min", "clock ±24 h", "clock −10 years", "old reader",
	"server crash before commit", "server crash after commit", "server full", "server restored", "session expired", "device revoked",
	"site lost", "site gained", "stopped by a person", "receipt forged", "fixture moved", "device given to another person",
}

// The rare states that must be reached in every run.
var rare = []string{
	"fork detected", "log renewed", "unknown-log released", "set-aside accepted", "set-aside accepted beside a fork", "log rolled over", "file recycled",
	"fill used", "fill with a seal", "acknowledgement lowered", "picture resumed in the middle", "torn tail cut", "bad line skipped", "pool file not trusted",
	"old reader updated", "unknown kind passed on", "server full told", "phone full told", "signed out", "site left", "site given back from 0", "revoked wiped",
	"pushed while revoked", "duplicate answered", "bad answer refused", "both sides of a fork in one feed", "two edits from one base", "one blank tag registered by two phones", "set aside: not-yours", "set aside: wrong-site", "set aside: revoked",
	"lost log told", "picture given to another phone", "picture withdrawn", "withdrawn picture refused", "withdrawn picture taken again", "withdrawn picture dropped at a start", "withdrawn in the end", "restart found state without end", "empty sync",
}

// tally counts what happened.
type tally struct {
	seeds, phones, events, pictures, requests, asides int
	lasted                                            time.Duration
	faults, rare                                      map[string]int
}

func newTally() *tally { return &tally{faults: map[string]int{}, rare: map[string]int{}} }

// fault notes that one happened; a name outside of the list is a mistake of the world.
func (w *world) fault(name string) {
	if !slices.Contains(faults, name) {
		panic("no such fault: " + name)
	}
	w.tally.faults[name]++
	w.note("FAULT %s", name)
}

// reached notes a rare state.
func (w *world) reached(name string) {
	if !slices.Contains(rare, name) {
		panic("no such state: " + name)
	}
	w.tally.rare[name]++
	w.note("reached: %s", name)
}

func (t *tally) add(o *tally) {
	t.seeds, t.phones, t.events, t.pictures = t.seeds+o.seeds, t.phones+o.phones, t.events+o.events, t.pictures+o.pictures
	t.requests, t.asides, t.lasted = t.requests+o.requests, t.asides+o.asides, t.lasted+o.lasted
	for name, n := range o.faults {
		t.faults[name] += n
	}
	for name, n := range o.rare {
		t.rare[name] += n
	}
}

// missing are the faults and rare states that never came.
func (t *tally) missing() (missing []string) {
	for _, name := range faults {
		if t.faults[name] == 0 {
			missing = append(missing, name)
		}
	}
	for _, name := range rare {
		if t.rare[name] == 0 {
			missing = append(missing, name)
		}
	}
	return missing
}

func (t *tally) String() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%d seeds, %d phones, %d events, %d pictures, %d requests, %d set aside, %.1f simulated years\n",
		t.seeds, t.phones, t.events, t.pictures, t.requests, t.asides, t.lasted.Hours()/24/365.25)
	table(&b, "faults", t.faults)
	table(&b, "rare states", t.rare)
	return b.String()
}

func table(b *strings.Builder, title string, counts map[string]int) {
	fmt.Fprintf(b, "%s:\n", title)
	for _, name := range slices.Sorted(maps.Keys(counts)) {
		fmt.Fprintf(b, "  %7d  %s\n", counts[name], name)
	}
}
