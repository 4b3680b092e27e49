package main

import (
	"errors"
	"io"
	"time"

	"jointwalk/server/paper"
	"jointwalk/server/people"
	"jointwalk/server/web"
	"jointwalk/sync/exchange"
)

// gate is people as web asks for it. The two know nothing of each other; here their words are put side
// by side.
type gate struct {
	*people.Gate
	upto func(log string) (uint64, error) // what the store holds of a log
}

func (g gate) Setup(code, name, device string) (web.Visit, string, error) {
	visit, token, err := g.Gate.Setup(code, name, device)
	return visitOf(visit), token, refusal(err)
}

func (g gate) Pair(code, device string) (web.Visit, string, error) {
	visit, token, err := g.Gate.Pair(code, device)
	return visitOf(visit), token, refusal(err)
}

func (g gate) Join(token, code string) (string, error) {
	joiner, err := g.Gate.Join(token, code)
	return joiner.ID, refusal(err)
}

func (g gate) Part(token, person string) error { return refusal(g.Gate.Part(token, person)) }

func (g gate) Shared(device string) (bool, error) {
	enrolled, err := g.Gate.Enrolled(device)
	return len(enrolled) > 1, refusal(err)
}

func (g gate) Session(token string) (web.Visit, error) {
	visit, err := g.Gate.Session(token)
	return visitOf(visit), refusal(err)
}

func (g gate) Invite(by web.Visit, name string, grants web.Grants) (web.Invitation, error) {
	made, err := g.Gate.Invite(by.Person.ID, name, people.Grants(grants))
	return web.Invitation(made), refusal(err)
}

func (g gate) Invited(handle string) (web.Answered, error) {
	told, err := g.Gate.Invited(handle)
	return web.Answered{By: told.By, Grants: web.Grants(told.Grants), State: told.State, Device: told.Device}, refusal(err)
}

func (g gate) Pending() ([]web.Pending, error) {
	waiting, err := g.Gate.Pending()
	return each(waiting, func(p people.Pending) web.Pending {
		return web.Pending{Name: p.Name, Grants: web.Grants(p.Grants), Expires: p.Expires}
	}), refusal(err)
}

func (g gate) People() ([]web.Person, error) {
	all, err := g.Gate.People()
	return each(all, personOf), refusal(err)
}

func (g gate) Sites() ([]web.Site, error) {
	all, err := g.Gate.Sites()
	return each(all, func(s people.Site) web.Site { return web.Site(s) }), refusal(err)
}

func (g gate) AddSite(by web.Visit, site web.Site) (web.Site, error) {
	made, err := g.Gate.AddSite(by.Person.ID, people.Site(site))
	return web.Site(made), refusal(err)
}

func (g gate) ChangeSite(by web.Visit, id string, change web.SiteChange) (web.Site, error) {
	made, err := g.Gate.ChangeSite(by.Person.ID, id, people.SiteChange(change))
	return web.Site(made), refusal(err)
}

// Meet notes what a device tells of its log. upto is what the store holds of one.
func (g gate) Meet(device, log string, seq uint64, earlier []string) (exchange.Met, error) {
	var met exchange.Met
	for _, told := range append([]string{log}, earlier...) {
		if _, known, err := g.Gate.Writer(told); err != nil {
			return met, refusal(err)
		} else if !known {
			met.Fresh = append(met.Fresh, told)
		}
	}
	noted, err := g.Gate.Meet(device, log, seq, earlier, g.upto)
	met.Foreign = noted.Foreign
	if n := len(noted.Lost); n > 0 {
		last := noted.Lost[n-1]
		met.Lost = &exchange.Lost{Log: last.Log, Told: last.Told, Upto: last.Upto}
	}
	return met, refusal(err)
}

func (g gate) Writer(log string) (string, bool, error) {
	device, known, err := g.Gate.Writer(log)
	return device, known, refusal(err)
}

func (g gate) Enrolled(device string) ([]string, error) {
	enrolled, err := g.Gate.Enrolled(device)
	return enrolled, refusal(err)
}

func (g gate) At(person, site string) (bool, error) {
	p, known, err := g.Gate.Person(person)
	return known && p.Grants.At(site), refusal(err)
}

func (g gate) Devices() ([]web.KnownDevice, error) {
	all, err := g.Gate.Devices()
	return each(all, func(d people.DeviceSeen) web.KnownDevice {
		return web.KnownDevice{ID: d.ID, Name: d.Name, Person: d.Person, People: d.Enrolled(), Made: d.Made, Seen: d.Seen, Revoked: !d.Revoked.IsZero()}
	}), refusal(err)
}

func (g gate) LostLogs() ([]web.LostLog, error) {
	all, err := g.Gate.Lost()
	return each(all, func(l people.LostLog) web.LostLog {
		return web.LostLog{Device: l.Device, Name: l.DeviceName, Person: l.Person, Log: l.Log, Told: l.Told, Upto: l.Upto, At: l.At}
	}), refusal(err)
}

func (g gate) ChangePerson(by web.Visit, id string, change web.Grants) (web.Person, error) {
	changed, err := g.Gate.ChangePerson(by.Person.ID, id, people.Grants(change))
	return personOf(changed), refusal(err)
}

func (g gate) Erase(by web.Visit, id string) error {
	return refusal(g.Gate.Erase(by.Person.ID, id))
}

func (g gate) Person(id string) (web.Person, bool, error) {
	p, known, err := g.Gate.Person(id)
	return personOf(p), known, refusal(err)
}

func (g gate) InviteDevice(by web.Visit, person string) (web.Invitation, error) {
	made, err := g.Gate.InviteDevice(by.Person.ID, person)
	return web.Invitation(made), refusal(err)
}

func (g gate) RevokeAll(by web.Visit, person string) error {
	return refusal(g.Gate.RevokeAll(by.Person.ID, person))
}

func (g gate) Revoke(by web.Visit, device string) error {
	return refusal(g.Gate.Revoke(by.Person.ID, device))
}

func visitOf(v people.Visit) web.Visit {
	visit := web.Visit{Person: personOf(v.Person), Device: web.Device{ID: v.Device.ID, Name: v.Device.Name}, Revoked: v.Revoked}
	if v.Crew != nil {
		visit.Crew = each(v.Crew, personOf)
	}
	return visit
}

func personOf(p people.Person) web.Person {
	return web.Person{ID: p.ID, Name: p.Name, Grants: web.Grants(p.Grants)}
}

func each[A, B any](list []A, turn func(A) B) []B {
	turned := make([]B, len(list))
	for i, a := range list {
		turned[i] = turn(a)
	}
	return turned
}

// refusal turns what a part refuses into what web tells; anything else broke.
func refusal(err error) error {
	var person *people.Fault
	var drawn *paper.Fault
	switch {
	case err == nil:
		return nil
	case errors.As(err, &person):
		return &web.Refusal{Code: person.Code}
	case errors.As(err, &drawn):
		return &web.Refusal{Code: drawn.Code, Cause: err}
	}
	return storeRefusal(err)
}

// printer is paper as web asks for it.
type printer struct{}

func (printer) Label(w io.Writer, code, name, link, size string, at time.Time) error {
	s, err := paper.SizeOf(size)
	if err != nil {
		return refusal(err)
	}
	return refusal(paper.Label(w, paper.Tag{Code: code, Name: name, Link: link}, s, at))
}

func (printer) Blank(w io.Writer, public string, codes []string, size string, at time.Time) error {
	s, err := paper.SizeOf(size)
	if err != nil {
		return refusal(err)
	}
	var tags []paper.Tag
	for _, code := range codes {
		tags = append(tags, paper.Tag{Code: code, Link: paper.Link(public, code)})
	}
	return refusal(paper.Sheet(w, tags, s, at))
}

func (printer) Card(w io.Writer, at time.Time) error { return refusal(paper.Card(w, at)) }

func (printer) SVG(text string) (string, error) {
	drawn, err := paper.SVG(text)
	return drawn, refusal(err)
}

func (printer) Link(public, code string) string { return paper.Link(public, code) }
