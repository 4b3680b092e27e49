package web

import (
	"context"
	"errors"
	"net/http"

	"github.com/danielgtaylor/huma/v2"

	"jointwalk/sync/summary"
)

type question[Q any] struct{ Body Q }

type answer[A any] struct{ Body A }

func (s *Server) askRoutes() {
	ask(s, "home", "The sites and their fixtures", (*summary.Desk).Home)
	ask(s, "tag", "Which fixture carries a tag", (*summary.Desk).Tag)
	ask(s, "fixture", "All about one fixture", (*summary.Desk).Fixture)
	ask(s, "round", "All about one round", (*summary.Desk).Round)
	ask(s, "findings", "The findings, newest first", (*summary.Desk).Findings)
	ask(s, "finding", "All about one finding", (*summary.Desk).Finding)
	ask(s, "estimate", "What an observation says", (*summary.Desk).Estimate)
	ask(s, "watch", "What a look shows as its clock runs", (*summary.Desk).Watch)
	ask(s, "measure", "How large a bubble is in a picture", (*summary.Desk).Measure)
	ask(s, "conflicts", "What two people changed apart", (*summary.Desk).Conflicts)
}

// ask adds the route of one question. The types of question and answer are summary's own.
func ask[Q, A any](s *Server, name, about string, put func(*summary.Desk, Q) (A, error)) {
	op := huma.Operation{OperationID: "ask-" + name, Method: http.MethodPost, Path: "/api/ask/" + name, Summary: about}
	route(s, op, func(_ context.Context, visit Visit, in *question[Q]) (*answer[A], error) {
		var out answer[A]
		err := s.desk(visit, func(d *summary.Desk) (err error) {
			out.Body, err = put(d, in.Body)
			return err
		})
		if err != nil {
			return nil, askProblem(err)
		}
		return &out, nil
	})
}

// desk lets ask read what the visit's person may see.
func (s *Server) desk(visit Visit, ask func(*summary.Desk) error) error {
	names, err := s.namesFor(visit)
	if err != nil {
		return err
	}
	return s.books.with(names, func(d *summary.Desk) error {
		d.Now = s.parts.Now().UnixMilli()
		return ask(d)
	})
}

func (s *Server) namesFor(visit Visit) (summary.Names, error) {
	names := summary.Names{People: map[string]string{}}
	sites, err := s.sitesOf(visit)
	if err != nil {
		return names, err
	}
	names.Sites = siteNames(sites)
	people, err := s.parts.Gate.People()
	for _, p := range people {
		names.People[p.ID] = p.Name
	}
	return names, err
}

func siteNames(sites []Site) (names []summary.SiteName) {
	for _, site := range sites {
		names = append(names, summary.SiteName{ID: site.ID, Name: site.Name})
	}
	return names
}

// askProblem tells a question without an answer from something that broke.
func askProblem(err error) error {
	var fault *summary.Fault
	if !errors.As(err, &fault) {
		return err
	}
	if fault.Code != summary.BadQuestion {
		return refuse(http.StatusNotFound, fault.Code, "")
	}
	p := refuse(http.StatusUnprocessableEntity, fault.Code, "")
	if fault.Field != "" {
		p.Fields = []Field{{Where: fault.Field, What: fault.Code}}
	}
	return p
}
