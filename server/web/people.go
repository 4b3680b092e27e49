package web

import (
	"context"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
)

type peopleOut struct {
	Body []Person `nullable:"false"`
}

type pendingOut struct {
	Body []Pending `nullable:"false"`
}

type inviteIn struct {
	Body struct {
		Name   string   `json:"name" minLength:"1" maxLength:"100"`
		Duties []string `json:"duties" minItems:"1" maxItems:"3" enum:"technician,supervisor,engineer"`
		Sites  []string `json:"sites" minItems:"1" maxItems:"200" doc:"ids, or * alone for all"`
	}
}

// Invited is what the supervisor shows or hands over. It is shown once: the server keeps hashes only.
type Invited struct {
	Link    string    `json:"link"`
	Code    string    `json:"code" doc:"for typing"`
	QR      string    `json:"qr" doc:"the link's QR code as SVG text"`
	Expires time.Time `json:"expires"`
}

type invitedOut struct{ Body Invited }

func (s *Server) peopleRoutes() {
	route(s, supervisor, huma.Operation{OperationID: "people", Method: http.MethodGet, Path: "/api/people", Summary: "Everybody, with duties and sites"}, s.people)
	route(s, supervisor, huma.Operation{OperationID: "invitations", Method: http.MethodGet, Path: "/api/invitations", Summary: "Invitations that wait"}, s.pending)
	route(s, supervisor, huma.Operation{OperationID: "invite", Method: http.MethodPost, Path: "/api/invitations", Summary: "Invite a person, once", DefaultStatus: http.StatusCreated}, s.invite)
}

func (s *Server) people(context.Context, Visit, *nothing) (*peopleOut, error) {
	people, err := s.parts.Gate.People()
	if err != nil {
		return nil, err
	}
	return &peopleOut{append([]Person{}, people...)}, nil
}

func (s *Server) pending(context.Context, Visit, *nothing) (*pendingOut, error) {
	waiting, err := s.parts.Gate.Pending()
	if err != nil {
		return nil, err
	}
	return &pendingOut{append([]Pending{}, waiting...)}, nil
}

// invite lets a supervisor invite to sites at which the supervisor works, and to no others.
func (s *Server) invite(_ context.Context, visit Visit, in *inviteIn) (*invitedOut, error) {
	for _, site := range in.Body.Sites {
		if !visit.Person.at(site) {
			return nil, wrongSite()
		}
	}
	invitation, err := s.parts.Gate.Invite(visit, in.Body.Name, in.Body.Duties, in.Body.Sites)
	if err != nil {
		return nil, err
	}
	link := s.parts.Public + "/join#" + invitation.Secret
	qr, err := s.parts.Paper.SVG(link)
	if err != nil {
		return nil, err
	}
	return &invitedOut{Invited{Link: link, Code: invitation.Code, QR: qr, Expires: invitation.Expires.UTC()}}, nil
}
