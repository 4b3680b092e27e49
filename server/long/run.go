package main

import (
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"time"
)

const (
	leastLoad  = 20 * time.Millisecond // between the server's first answer and its kill
	mostLoad   = 300 * time.Millisecond
	startEvery = 5                     // each so many kills are followed by one in the midst of the start
	mostStart  = 60 * time.Millisecond // within which that comes
)

// trial is one run: the server, its phones and what was counted.
type trial struct {
	plan
	say        func(string)
	server     *process
	phones     []*phone
	chance     *rand.Rand
	unanswered atomic.Int64
	figures    figures
	backs      []time.Duration
	load       time.Duration
}

// run does what the plan says; an error is a loss, or whatever kept it from being looked for.
func run(p plan, say func(string)) (f figures, err error) {
	folder, err := os.MkdirTemp("", "jointwalk-long-")
	if err != nil {
		return f, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	server, err := newProcess(p.program, folder)
	if err != nil {
		return f, err
	}
	t := &trial{plan: p, say: say, server: server, chance: rand.New(rand.NewPCG(p.seed, 0)),
		figures: figures{Date: time.Now().UTC().Format(time.RFC3339), Seed: p.seed, Clients: p.clients}}
	defer func() { err = errors.Join(err, t.end()) }()
	say(fmt.Sprintf("seed %d: %d kills under %d phones", p.seed, p.kills, p.clients))
	if err := t.found(); err != nil {
		return f, err
	}
	if err := t.underLoad(); err != nil {
		return f, err
	}
	if err := t.reckon(folder); err != nil {
		return f, err
	}
	return t.figures, nil
}

// end leaves no server behind.
func (t *trial) end() error {
	if t.server.runs() {
		return t.server.kill()
	}
	return nil
}

// found makes the first person and the site, and a device for each phone.
func (t *trial) found() error {
	if _, err := t.server.start(t.limit); err != nil {
		return err
	}
	first, err := newClient(t.server.url())
	if err != nil {
		return err
	}
	var me struct {
		Installation string
		Person       struct{ ID string }
	}
	var site struct{ ID string }
	err = errors.Join(
		first.tell("/api/setup", map[string]any{"code": t.server.code(), "name": "First", "device": "Desk"}, &me),
		first.tell("/api/sites", map[string]any{"name": "Plant", "zone": "UTC"}, &site))
	for n := 0; n < t.clients && err == nil; n++ {
		err = t.invite(first, site.ID, n)
	}
	return err
}

// invite pairs one more phone, with a person of its own.
func (t *trial) invite(first *client, site string, n int) error {
	own, err := newClient(t.server.url())
	if err != nil {
		return err
	}
	var invitation struct{ Code string }
	var me struct {
		Installation string
		Person       struct{ ID string }
	}
	err = first.tell("/api/invitations", map[string]any{"name": fmt.Sprintf("Person %d", n),
		"grants": map[string][]string{site: {"technician", "supervisor", "engineer"}}}, &invitation)
	if err == nil {
		err = own.tell("/api/pair", map[string]any{"code": invitation.Code, "device": "Phone"}, &me)
	}
	seed := [32]byte{}
	binary.LittleEndian.PutUint64(seed[:], t.seed)
	binary.LittleEndian.PutUint64(seed[8:], uint64(n)+1)
	bytes := rand.NewChaCha8(seed)
	t.phones = append(t.phones, &phone{client: own, installation: me.Installation, person: me.Person.ID, site: site,
		chance: rand.New(rand.NewPCG(t.seed, uint64(n)+1)), bytes: io.Reader(bytes), unanswered: &t.unanswered})
	return err
}

// underLoad lets the phones push while the server is killed and started.
func (t *trial) underLoad() error {
	stop := make(chan struct{})
	broken := make(chan error, len(t.phones))
	var all sync.WaitGroup
	for _, p := range t.phones {
		all.Go(func() {
			if err := p.work(stop); err != nil {
				broken <- err
			}
		})
	}
	err := t.siege(broken)
	close(stop)
	all.Wait()
	close(broken)
	for late := range broken {
		err = errors.Join(err, late)
	}
	return err
}

// siege kills as often as planned, unless a phone was told something wrong.
func (t *trial) siege(broken <-chan error) error {
	for t.figures.Kills < t.kills {
		if err := t.kill(); err != nil {
			return fmt.Errorf("kill %d: %w", t.figures.Kills, err)
		}
		select {
		case err := <-broken:
			return err
		default:
		}
		if t.figures.Kills%20 == 0 {
			t.say(fmt.Sprintf("%d kills, last back after %v", t.figures.Kills, t.backs[len(t.backs)-1].Round(time.Millisecond)))
		}
	}
	return nil
}

// kill ends the server at a random moment under load, looks at what it left, and starts it on the same folder.
func (t *trial) kill() error {
	began := time.Now()
	time.Sleep(leastLoad + t.within(mostLoad-leastLoad))
	if t.unanswered.Load() > 0 {
		t.figures.InFlight++
	}
	if err := t.server.kill(); err != nil {
		return err
	}
	t.load += time.Since(began)
	t.figures.Kills++
	if err := t.check(); err != nil {
		return err
	}
	if t.figures.Kills%startEvery == 0 {
		if err := t.killStart(); err != nil {
			return err
		}
	}
	back, err := t.server.start(t.limit)
	t.backs = append(t.backs, back)
	return err
}

// killStart kills the server while it starts.
func (t *trial) killStart() error {
	if err := t.server.launch(); err != nil {
		return err
	}
	time.Sleep(t.within(mostStart))
	t.figures.StartKills++
	return errors.Join(t.server.kill(), t.check())
}

func (t *trial) within(most time.Duration) time.Duration {
	return time.Duration(t.chance.Int64N(int64(most)))
}

func (t *trial) check() error {
	t.figures.Checks++
	return t.server.check()
}

// reckon pulls everything and compares it with what the phones were told.
func (t *trial) reckon(folder string) error {
	p := t.phones[0]
	feed, err := p.pullAll(p.site)
	if err != nil {
		return err
	}
	var all []*story
	for _, p := range t.phones {
		all = append(all, p.stories...)
		t.figures.LostAnswers += p.lostAnswers
		t.figures.Duplicates += p.duplicates
	}
	found, err := compare(all, feed)
	f := &t.figures
	f.Acknowledged, f.Unanswered, f.Missing, f.Doubled = found.acknowledged, found.unanswered, found.missing, found.doubled
	if err = errors.Join(err, t.server.kill(), t.check()); err != nil {
		return err
	}
	info, err := os.Stat(filepath.Join(folder, storeFile))
	if err != nil {
		return err
	}
	f.Bytes = info.Size()
	f.measure(t.backs, t.load)
	t.say(fmt.Sprintf("%d kills under load, %d of them with pushes unanswered, and %d in the midst of a start: %d events acknowledged, none missing, none doubled; back in %v ms at most",
		f.Kills, f.InFlight, f.StartKills, f.Acknowledged, f.BackMost))
	return nil
}
