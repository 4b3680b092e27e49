package engine

import (
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

// notes stands before the key of a screen's draft in the state store.
const notes = "draft:"

// Engine is one device's copy: its pool of files and what they mean. It is not
// for use from two goroutines at once.
type Engine struct {
	env    Env
	pool   *journal.Pool
	phone  *exchange.Phone
	book   *record.Book
	desk   *summary.Desk
	shelf  *summary.Shelf
	told   *Me            // who the device belongs to, as the server said it
	me     *Me            // the same, for who holds it now
	recent []journal.Line // the last own lines, so that a repeated write is known
	damage int
}

// Open reads the pool and hands everything in it, the own log and the feeds of
// all sites, to the book. Errors: those of journal.OpenPool and of reading.
func Open(slots []journal.Slot, env Env) (*Engine, error) {
	id, err := env.uuidv7()
	if err != nil {
		return nil, err
	}
	pool, err := journal.OpenPool(slots, id)
	if err != nil {
		return nil, err
	}
	e := &Engine{env: env, pool: pool, book: record.NewBook()}
	e.shelf = e.takeDown()
	if e.phone, err = exchange.OpenPhone(pool, exchange.PhoneEnv{NewID: env.uuidv7, Now: env.Now, Jitter: env.jitter, App: env.App, Wanted: e.book.Album.Wanted, Photos: e.photos}); err != nil {
		return nil, err
	}
	e.rename()
	if me := e.phone.Me(); me != nil {
		e.meet(me)
	}
	err = e.fold()
	e.clear()
	return e, err
}

// clear drops the bytes of pictures that were withdrawn. What cannot be written now is tried again with what comes next.
func (e *Engine) clear() { _ = e.book.Album.Clear(e.pool.Pictures()) }

// fold hands all that the files hold to the book.
func (e *Engine) fold() error {
	err := e.pool.Log().Each(func(line journal.Line) bool {
		e.later(line, nil)
		e.remember(line)
		return true
	})
	if err != nil {
		return err
	}
	for _, site := range e.pool.Sites() {
		feed, err := e.pool.Site(site)
		if err != nil {
			return err
		}
		err = feed.Lines(func(line journal.Line, receipt []byte) bool {
			e.later(line, receipt)
			return true
		})
		if err != nil {
			return err
		}
	}
	return nil
}

func (e *Engine) later(line journal.Line, receipt []byte) {
	if e.book.Later(line, receipt) != nil {
		e.damage++
	}
}

func (e *Engine) takePair(pair journal.Pair) {
	event, bad := journal.Glance(pair.Line)
	if bad != nil {
		e.damage++
		return
	}
	e.book.AddReceived(event, pair.Receipt)
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
	e.desk.Shelf = e.shelf
}

// Standing says how this copy stands.
func (e *Engine) Standing() Standing {
	report, s := e.pool.Report(), e.phone.Standing()
	return Standing{
		Unsent: s.Unsent, Oldest: s.Oldest, UnsentPictures: s.Pictures, OldestPicture: s.OldestPicture, Asides: s.Asides,
		Damage: report.Bad + e.damage + e.book.Unread(), Lost: len(report.Lost), Me: e.me, Log: s.Log,
		Reach: string(s.Reach), SignedOut: s.SignedOut, Revoked: s.Revoked, TooOld: tooOld[s.TooOld], Server: s.Server,
		ClockOffsetMs: s.ClockOffset, LostLog: lostLog(s.Lost), Problem: s.Problem, Synced: s.Synced, Paused: s.Paused, Doing: (*Doing)(s.Doing),
	}
}

func lostLog(lost *exchange.Lost) *LostLog {
	if lost == nil {
		return nil
	}
	told := LostLog(*lost)
	return &told
}

// tooOld says which side a code means.
var tooOld = map[string]string{exchange.CodeTooOld: "app", exchange.CodeServerTooOld: "server"}

// now is the device's clock in the form that events carry.
func (e *Engine) now() string { return journal.Stamp(e.env.Now()) }
