package main

import (
	"errors"
	"io"
	"time"

	"jointwalk/server/paper"
	"jointwalk/server/people"
	"jointwalk/server/web"
)

// gate is people as web asks for it. The two know nothing of each other; here their words are put side
// by side.
type gate struct{ *people.Gate }

func (g gate) Setup(code, name, device string) (web.Visit, string, error) {
	visit, token, err := g.Gate.Setup(code, name, device)
	return visitOf(visit), token, refusal(err)
}

func (g gate) Pair(code, device string) (web.Visit, string, error) {
	visit, token, err := g.Gate.Pair(code, device)
	return visitOf(visit), token, refusal(err)
}

func (g gate) Session(token string) (web.Visit, error) {
	visit, err := g.Gate.Session(token)
	return visitOf(visit), refusal(err)
}

func (g gate) Invite(by web.Visit, name string, duties, sites []string) (web.Invitation, error) {
	made, err := g.Gate.Invite(by.Person.ID, name, duties, sites)
	return web.Invitation(made), refusal(err)
}

func (g gate) Pending() ([]web.Pending, error) {
	waiting, err := g.Gate.Pending()
	return each(waiting, func(p people.Pending) web.Pending { return web.Pending(p) }), refusal(err)
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

func visitOf(v people.Visit) web.Visit {
	return web.Visit{Person: personOf(v.Person), Device: web.Device{ID: v.Device.ID, Name: v.Device.Name}}
}

func personOf(p people.Person) web.Person {
	return web.Person{ID: p.ID, Name: p.Name, Duties: p.Duties, Sites: p.Sites}
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

func (printer) SVG(text string) (string, error) {
	drawn, err := paper.SVG(text)
	return drawn, refusal(err)
}

func (printer) Link(public, code string) string { return paper.Link(public, code) }
