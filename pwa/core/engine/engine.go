package engine

import (
	"time"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

// Keys of this package in the state store.
const (
	keyMe     = "me"
	keyAsides = "asides"
	notes     = "draft:" // before the key of a screen's draft
)

// Engine is one device's copy: its pool of files and what they mean. It is not
// for use from two goroutines at once.
type Engine struct {
	env     Env
	pool    *journal.Pool
	outbox  *exchange.Outbox
	batch   exchange.Batch // the one under way
	backoff exchange.Backoff
	book    *record.Book
	desk    *summary.Desk
	me      *Me
	asides  map[string]string // event id or "log/seq" → code
	recent  []Written         // the last own events, so that a repeated write is known
	damage  int
}

// Open reads the pool and folds everything in it: the own log and the feeds of
// all sites. Errors: those of journal.OpenPool and of reading.
func Open(slots []journal.Slot, env Env) (*Engine, error) {
	id, err := env.uuidv7()
	if err != nil {
		return nil, err
	}
	pool, err := journal.OpenPool(slots, id)
	if err != nil {
		return nil, err
	}
	e := &Engine{env: env, pool: pool, book: record.NewBook(), asides: map[string]string{}}
	if e.outbox, err = exchange.NewOutbox(pool.Log(), pool.State()); err != nil {
		return nil, err
	}
	if err := e.recall(); err != nil {
		return nil, err
	}
	return e, e.fold()
}

// recall reads who we are and what was set aside.
func (e *Engine) recall() error {
	var me Me
	known, err := e.pool.State().Load(keyMe, &me)
	if err != nil {
		return err
	}
	if known {
		e.me = &me
	}
	e.rename()
	_, err = e.pool.State().Load(keyAsides, &e.asides)
	return err
}

// fold replays all files into the book.
func (e *Engine) fold() error {
	err := e.pool.Log().Each(func(line journal.Line) bool {
		event, bad := journal.Parse(line)
		if bad != nil {
			e.damage++
			return true
		}
		e.take(event)
		e.remember(written(event))
		return true
	})
	if err != nil {
		return err
	}
	for _, site := range e.pool.Sites() {
		if err := e.foldSite(site); err != nil {
			return err
		}
	}
	return nil
}

func (e *Engine) foldSite(site string) error {
	feed, err := e.pool.Site(site)
	if err != nil {
		return err
	}
	return feed.Each(func(pair journal.Pair) bool {
		e.takeLine(pair.Line)
		return true
	})
}

func (e *Engine) takeLine(line journal.Line) {
	event, bad := journal.Parse(line)
	if bad != nil {
		e.damage++
		return
	}
	e.take(event)
}

// take folds one event. Adding it again does nothing.
func (e *Engine) take(event journal.Event) { e.book.Add(event) }

// rename hands the names of sites and people to the desk.
func (e *Engine) rename() {
	names := summary.Names{People: map[string]string{}}
	if e.me != nil {
		for _, s := range e.me.Sites {
			names.Sites = append(names.Sites, summary.SiteName{ID: s.ID, Name: s.Name})
		}
		for _, p := range e.me.People {
			names.People[p.ID] = p.Name
		}
		names.People[e.me.Person.ID] = e.me.Person.Name
	}
	e.desk = summary.NewDesk(e.book, names)
}

// Standing says how this copy stands.
func (e *Engine) Standing() Standing {
	report := e.pool.Report()
	return Standing{
		Unsent:         e.outbox.Unsent(),
		UnsentPictures: e.pool.Pictures().Waiting(),
		Asides:         len(e.asides),
		Damage:         report.Bad + e.damage,
		Lost:           len(report.Lost),
		Me:             e.me,
	}
}

// now is the device's clock in the form that events carry.
func (e *Engine) now() string { return e.env.Now().UTC().Format(journal.TimeLayout) }

// Wait says how long to wait after a failure, given a random number in [0, 1).
func (e *Engine) Wait(jitter float64) time.Duration { return e.backoff.Failed(jitter) }
