package engine

import (
	"slices"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/lightjson"
	"jointwalk/sync/record"
)

// keepRecent is how many of the own events a repeated write is compared with.
const keepRecent = 1024

// supervisor is the duty that may withdraw the pictures of others.
const supervisor = "supervisor"

// begins are the kinds that make a noun: their Of is minted when left out.
var begins = []record.Kind{record.JointAdded, record.RoundStarted, record.LookMade}

// Write checks the drafts and keeps them with one flush, all or none. When it
// returns nil they are saved. A write whose ids were kept before is answered
// again. Errors: CodeNotPaired, exchange.CodeRevoked, CodeUnknownSite, those of record.Check (nothing
// was kept) and of journal.Log.Append (nothing was kept).
func (e *Engine) Write(w Write) (Kept, error) {
	if e.me == nil {
		return Kept{}, &Fault{Code: CodeNotPaired}
	}
	if e.phone.Standing().Revoked {
		return Kept{}, &Fault{Code: exchange.CodeRevoked}
	}
	if len(w.IDs) != len(w.Drafts) || len(w.Drafts) == 0 {
		return Kept{}, &Fault{Code: CodeBadCall, Field: "ids"}
	}
	if again, known := e.before(w.IDs); known {
		return again, nil
	}
	drafts, err := e.drafts(w)
	if err != nil {
		return Kept{}, err
	}
	lines, err := e.pool.Log().Append(drafts)
	if err != nil {
		return Kept{}, err
	}
	return e.enter(lines)
}

// enter folds the lines just kept.
func (e *Engine) enter(lines []journal.Line) (Kept, error) {
	var kept Kept
	for _, line := range lines {
		event, err := journal.Glance(line)
		if err != nil {
			return Kept{}, err
		}
		e.take(event)
		e.remember(line)
		kept.Written = append(kept.Written, written(event))
	}
	e.clear()
	return kept, nil
}

// before finds what an earlier try of the same write kept.
func (e *Engine) before(ids []string) (Kept, bool) {
	var kept Kept
	for _, id := range ids {
		event, known := e.earlier(id)
		if !known {
			return Kept{}, false
		}
		kept.Written = append(kept.Written, written(event))
	}
	return kept, true
}

// earlier finds an event among the last own ones.
func (e *Engine) earlier(id string) (journal.Event, bool) {
	for _, line := range e.recent {
		if !journal.Named(line, id) {
			continue
		}
		if event, err := journal.Glance(line); err == nil && event.ID == id {
			return event, true
		}
	}
	return journal.Event{}, false
}

func (e *Engine) remember(line journal.Line) {
	if len(e.recent) >= 2*keepRecent {
		e.recent = slices.Delete(e.recent, 0, keepRecent)
	}
	e.recent = append(e.recent, line)
}

func written(event journal.Event) Written {
	return Written{ID: event.ID, Of: event.About.Of, Fixture: event.About.Fixture, Log: event.Log, Seq: event.Seq}
}

// drafts gives the drafts their ids and checks them one after the other.
func (e *Engine) drafts(w Write) ([]journal.Draft, error) {
	made := map[string]bool{} // nouns that this very write makes
	var drafts []journal.Draft
	for i, d := range w.Drafts {
		if err := e.complete(&d); err != nil {
			return nil, err
		}
		if err := e.check(d, made); err != nil {
			return nil, err
		}
		made[d.Of], made[d.Fixture] = true, made[d.Fixture] || d.Kind == record.FixtureRegistered
		drafts = append(drafts, journal.Draft{
			ID: w.IDs[i], Time: e.now(), Zone: w.Zone, By: e.me.Person.ID, About: about(d),
			Kind: string(d.Kind), V: record.Version, Base: d.Base, Body: d.Body,
		})
	}
	return drafts, nil
}

func about(d Draft) journal.About {
	return journal.About{Site: d.Site, Fixture: d.Fixture, Of: d.Of}
}

// complete mints what a draft leaves out.
func (e *Engine) complete(d *Draft) (err error) {
	if !slices.ContainsFunc(e.me.Sites, func(s Site) bool { return s.ID == d.Site }) {
		return &Fault{Code: CodeUnknownSite, Field: "site"}
	}
	switch d.Kind {
	case record.FixtureRegistered:
		err = e.register(d)
	case record.FixtureEdited:
		err = e.retag(d)
	}
	if err != nil {
		return err
	}
	if d.Of == "" && slices.Contains(begins, d.Kind) {
		d.Of, err = e.env.uuidv7()
	}
	return err
}

// register gives a fixture its tag, unless it has a blank one, and the id that
// follows from installation and tag.
func (e *Engine) register(d *Draft) error {
	var body record.RegisteredBody
	if err := lightjson.Unmarshal(d.Body, &body); err != nil {
		return &Fault{Code: record.BadBody, Field: string(d.Kind)}
	}
	if err := e.mint(&body.Tag); err != nil {
		return err
	}
	if err := d.says(body); err != nil {
		return err
	}
	d.Fixture = record.FixtureID(e.me.Installation, body.Tag)
	d.Of = d.Fixture
	return nil
}

// retag mints the tag of an edit that gives a fixture a new one.
func (e *Engine) retag(d *Draft) error {
	var body record.FixtureEdit
	if err := lightjson.Unmarshal(d.Body, &body); err != nil || body.Tag == nil || *body.Tag != "" {
		return nil // what is no edit is found when it is checked
	}
	if err := e.mint(body.Tag); err != nil {
		return err
	}
	return d.says(body)
}

// mint draws a tag's code where there is none.
func (e *Engine) mint(tag *string) (err error) {
	if *tag != "" {
		return nil
	}
	if *tag, err = record.MintTag(e.env.Random); err != nil {
		return &Fault{Code: CodeNoRandomness}
	}
	return nil
}

// says makes a body what a draft says.
func (d *Draft) says(body any) (err error) {
	if d.Body, err = lightjson.Marshal(body); err != nil {
		return &Fault{Code: record.BadBody, Field: string(d.Kind)}
	}
	return nil
}

// mayWithdraw: a picture is withdrawn by who added it, and by supervisors of its site. The server holds to it too; here its bytes would be
// gone before that answers.
func (e *Engine) mayWithdraw(d Draft) bool {
	by, picture := e.book.Album.AddedBy(d.Fixture, d.Base)
	if !picture || by == e.me.Person.ID {
		return true
	}
	duties := e.me.Person.Duties // an earlier server says them for all sites alike
	for _, site := range e.me.Sites {
		if site.ID == d.Site && len(site.Duties) > 0 {
			duties = site.Duties
		}
	}
	return slices.Contains(duties, supervisor)
}

// check is record's check, which may also lean on nouns that an earlier draft
// of the same write makes.
func (e *Engine) check(d Draft, made map[string]bool) error {
	if d.Kind == record.Withdrawn && !e.mayWithdraw(d) {
		return &Fault{Code: CodeNotAllowed}
	}
	err := record.Check(string(d.Kind), d.Body, about(d), d.Base, e.book)
	if err == nil || AsFault(err).Code != record.UnknownNoun {
		return err
	}
	if made[d.Fixture] || d.Of != "" && made[d.Of] {
		return record.CheckBody(string(d.Kind), record.Version, d.Body)
	}
	return err
}
