package main

import (
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"path/filepath"
	"time"

	"jointwalk/server/people"
	"jointwalk/server/store/bolt"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

const (
	storeFile    = "jointwalk.db" // in the data folder
	eventsEach   = 1000           // a fixture, in a site that has grown
	leastStands  = 20             // fixtures of a site
	filledAtOnce = 5000           // events in a transaction while a world is made
)

// world is a data folder before its server starts: one site with its fixtures, phones that are paired, and a feed.
type world struct {
	folder, installation, site string
	fixtures                   []fixture
	phones                     []paired
	tick                       uint64 // the highest in the feed
	held                       int    // events in the feed
}

// paired is a phone that has a session.
type paired struct{ person, device, token string }

// newWorld makes one with so many phones, and at least so many events in the site's feed.
func newWorld(folder string, phones, events int) (w *world, err error) {
	kept, err := bolt.Open(filepath.Join(folder, storeFile), rand.Reader)
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, kept.Close()) }()
	w = &world{folder: folder}
	if err := w.pair(kept, phones); err != nil {
		return nil, err
	}
	return w, w.fill(kept, events)
}

// pair makes the first person, the site, and the phones with a person each.
func (w *world) pair(kept *bolt.Store, phones int) error {
	gate, err := people.New(kept, time.Now, rand.Reader)
	if err != nil {
		return err
	}
	w.installation = gate.Installation()
	first, _, err := gate.Setup(gate.SetupCode(), "First", "Desk")
	if err != nil {
		return err
	}
	site, err := gate.AddSite(first.Person.ID, people.Site{Name: "Plant", Zone: "UTC"})
	if err != nil {
		return err
	}
	w.site = site.ID
	for n := range phones {
		invitation, err := gate.Invite(first.Person.ID, fmt.Sprintf("Person %d", n), people.Grants{site.ID: {people.Technician, people.Supervisor}})
		if err != nil {
			return err
		}
		visit, token, err := gate.Pair(invitation.Secret, "Phone")
		if err != nil {
			return err
		}
		w.phones = append(w.phones, paired{visit.Person.ID, visit.Device.ID, token})
	}
	return nil
}

// fill puts a feed into the store, as if phones had pushed it long ago.
func (w *world) fill(kept *bolt.Store, events int) error {
	hall := &exchange.Hall{Keeper: kept, Feed: kept, Now: time.Now, Seal: sealed,
		Judge: func(journal.Event) (exchange.Judgement, error) { return exchange.Judgement{}, nil }}
	a, err := newAuthor(w, w.phones[0].person, 1)
	for n := 0; n < max(leastStands, events/eventsEach) && err == nil; n++ {
		var f fixture
		f, err = a.register(n)
		w.fixtures = append(w.fixtures, f)
	}
	if err != nil {
		return err
	}
	a.fixtures = w.fixtures
	for events = max(events, len(a.lines)); w.held < events; {
		lines, err := a.some(min(events-w.held, filledAtOnce))
		if err != nil {
			return err
		}
		answer, err := hall.Push(lines, exchange.Sender{Device: w.phones[0].device})
		if err != nil {
			return err
		}
		if err := allApplied(answer, len(lines)); err != nil {
			return err
		}
		w.held += len(lines)
	}
	w.tick = a.log.Tick()
	return nil
}

// sealed is as long as the server's own mark; it is never asked for here.
func sealed(hash string, r exchange.Receipt) string {
	sum := sha256.Sum256([]byte(hash + r.At))
	return hex.EncodeToString(sum[:16])
}

// allApplied holds an answer to so many events that are all new.
func allApplied(answer exchange.Answer, n int) error {
	if len(answer.Answers) != n {
		return fmt.Errorf("%d answers to %d events", len(answer.Answers), n)
	}
	for _, v := range answer.Answers {
		if v.Is != exchange.Applied {
			return fmt.Errorf("event %d was not applied: %+v", v.Seq, v)
		}
	}
	return nil
}
