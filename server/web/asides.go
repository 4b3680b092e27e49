package web

import (
	"context"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// asidePage is how many of those set aside are read at once.
const asidePage = 500

// SetAside is an event that was kept apart, as its owner and the supervisors of its site see it.
type SetAside struct {
	Hash    string    `json:"hash"`
	Code    string    `json:"code" doc:"why"`
	By      string    `json:"by" doc:"id of its owner; empty for a line that is no event"`
	Kind    string    `json:"kind"`
	Site    string    `json:"site"`
	Fixture string    `json:"fixture"`
	Of      string    `json:"of"`
	At      time.Time `json:"at" doc:"when it came in"`
	Line    string    `json:"line" doc:"the event as it was recorded"`
	Mine    bool      `json:"mine" doc:"the caller is its owner"`
	May     bool      `json:"may" doc:"the caller may accept it"`
}

type asidesOut struct {
	Body []SetAside `nullable:"false"`
}

type asideIn struct {
	Hash string `path:"hash" maxLength:"64"`
}

type settleIn struct {
	Hash string `path:"hash" maxLength:"64"`
	Body struct {
		How string `json:"how" enum:"amended,dismissed"`
	}
}

func (s *Server) asideRoutes() {
	route(s, huma.Operation{OperationID: "asides", Method: http.MethodGet, Path: "/api/asides", Summary: "What was set aside and not settled yet: one's own, and for supervisors that of their sites"}, s.asides)
	route(s, huma.Operation{OperationID: "accept-aside", Method: http.MethodPost, Path: "/api/asides/{hash}/accept", Summary: "Let one that was set aside in as it is", DefaultStatus: http.StatusNoContent}, s.acceptAside)
	route(s, huma.Operation{OperationID: "settle-aside", Method: http.MethodPost, Path: "/api/asides/{hash}/settle", Summary: "Leave one out for good: it was amended and sent again, or is dismissed", DefaultStatus: http.StatusNoContent}, s.settleAside)
}

func (s *Server) asides(_ context.Context, visit Visit, _ *nothing) (*asidesOut, error) {
	out := &asidesOut{Body: []SetAside{}}
	err := s.eachAside(func(a Aside) error {
		if told := asideFor(visit, a); told.Mine || told.May {
			out.Body = append(out.Body, told)
		}
		return nil
	})
	return out, err
}

// eachAside goes over those that are not settled.
func (s *Server) eachAside(do func(Aside) error) error {
	after := uint64(0)
	for {
		some, err := s.parts.Events.Asides(after, asidePage)
		if err != nil || len(some) == 0 {
			return err
		}
		for _, a := range some {
			after = a.N
			if a.Settled {
				continue
			}
			if err := do(a); err != nil {
				return err
			}
		}
	}
}

// asideFor is what a person is told of one that was set aside. What is no event belongs to the supervisors of all sites.
func asideFor(v Visit, a Aside) SetAside {
	p := v.Person
	at, _ := time.Parse(journal.TimeLayout, a.Receipt.At) // the server wrote it
	told := SetAside{Hash: a.Hash, Code: a.Code, At: at, Line: string(a.Line)}
	e, err := journal.Parse(a.Line)
	if err != nil {
		told.Mine, told.May = p.does(supervises, everywhere), false
		return told
	}
	told.By, told.Kind, told.Site, told.Fixture, told.Of = e.By, e.Kind, e.About.Site, e.About.Fixture, e.About.Of
	told.Mine, told.May = v.has(e.By), p.does(supervises, e.About.Site)
	return told
}

// ownAside finds one that is not settled.
func (s *Server) ownAside(visit Visit, hash string) (SetAside, error) {
	var found *SetAside
	err := s.eachAside(func(a Aside) error {
		if a.Hash == hash {
			told := asideFor(visit, a)
			found = &told
		}
		return nil
	})
	if err == nil && (found == nil || !found.Mine && !found.May) {
		err = refuse(http.StatusNotFound, "unknown-aside", "nothing under this hash waits to be settled")
	}
	if err != nil {
		return SetAside{}, err
	}
	return *found, nil
}

func (s *Server) acceptAside(_ context.Context, visit Visit, in *asideIn) (*nothing, error) {
	told, err := s.ownAside(visit, in.Hash)
	if err != nil {
		return nil, err
	}
	if !told.May {
		return nil, refuse(http.StatusForbidden, "not-allowed", "a supervisor of its site may accept it")
	}
	return nil, s.parts.Events.Accept(in.Hash, s.settled("accepted", visit))
}

func (s *Server) settleAside(_ context.Context, visit Visit, in *settleIn) (*nothing, error) {
	if _, err := s.ownAside(visit, in.Hash); err != nil {
		return nil, err
	}
	return nil, s.parts.Events.Settle(in.Hash, s.settled(in.Body.How, visit))
}

func (s *Server) settled(how string, visit Visit) Settlement {
	return Settlement{How: how, By: visit.Person.ID, At: s.parts.Now().UTC()}
}

// release lets in what waited for the device that wrote a log, as far as judge lets it.
func (s *Server) release(log string, judge func(journal.Event) (exchange.Judgement, error)) error {
	return s.eachAside(func(a Aside) error {
		if a.Log != log || a.Code != exchange.CodeUnknownLog {
			return nil
		}
		e, err := journal.Parse(a.Line)
		if err != nil {
			return nil
		}
		judged, err := judge(e)
		if err != nil || judged.Aside != "" {
			return err
		}
		return s.parts.Events.Accept(a.Hash, s.settled("accepted", Visit{}))
	})
}
