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
		Name   string `json:"name" minLength:"1" maxLength:"100"`
		Grants Grants `json:"grants" minProperties:"1" maxProperties:"200" doc:"site id, or * for all: technician, supervisor, engineer"`
	}
}

// Invited is what the supervisor shows or hands over. It is shown once: the server keeps hashes only.
type Invited struct {
	ID      string    `json:"id" doc:"to ask what came of it"`
	Link    string    `json:"link"`
	Code    string    `json:"code" doc:"for typing"`
	QR      string    `json:"qr" doc:"the link's QR code as SVG text"`
	Expires time.Time `json:"expires"`
}

type invitedOut struct{ Body Invited }

type changePersonIn struct {
	ID   string `path:"id" maxLength:"64"`
	Body struct {
		Grants Grants `json:"grants" minProperties:"1" maxProperties:"200" doc:"at the sites named, nowhere else; no duties take a site away"`
	}
}

type personOut struct{ Body Person }

// Taking is what came of an invitation.
type Taking struct {
	State  string `json:"state" enum:"waiting,used,expired,blocked"`
	Device string `json:"device" doc:"the name of the device that took it, empty before"`
}

type takingOut struct{ Body Taking }

type personIn struct {
	ID string `path:"id" maxLength:"64"`
}

func (s *Server) peopleRoutes() {
	route(s, huma.Operation{OperationID: "change-person", Method: http.MethodPatch, Path: "/api/people/{id}", Summary: "Change what somebody does and where"}, s.changePerson)
	route(s, huma.Operation{OperationID: "invite-device", Method: http.MethodPost, Path: "/api/people/{id}/devices", Summary: "Invite somebody who is here with one more device, once", DefaultStatus: http.StatusCreated}, s.inviteDevice)
	route(s, huma.Operation{OperationID: "revoke-all", Method: http.MethodPost, Path: "/api/people/{id}/revoke", Summary: "Close all devices of somebody, and what invites one more", DefaultStatus: http.StatusNoContent}, s.revokeAll)
	route(s, huma.Operation{OperationID: "erase-name", Method: http.MethodPost, Path: "/api/people/{id}/erase", Summary: "Erase somebody's name for good and close their devices", DefaultStatus: http.StatusNoContent}, s.eraseName)
	route(s, huma.Operation{OperationID: "people", Method: http.MethodGet, Path: "/api/people", Summary: "Everybody, with duties and sites"}, s.people)
	route(s, huma.Operation{OperationID: "invitations", Method: http.MethodGet, Path: "/api/invitations", Summary: "Invitations that wait"}, s.pending)
	route(s, huma.Operation{OperationID: "invitation", Method: http.MethodGet, Path: "/api/invitations/{id}", Summary: "What came of an invitation"}, s.taking)
	route(s, huma.Operation{OperationID: "invite", Method: http.MethodPost, Path: "/api/invitations", Summary: "Invite a person, once", DefaultStatus: http.StatusCreated}, s.invite)
}

// people are those who work at a site where the caller supervises.
func (s *Server) people(_ context.Context, visit Visit, _ *nothing) (*peopleOut, error) {
	people, err := s.parts.Gate.People()
	if err != nil {
		return nil, err
	}
	return &peopleOut{sift(people, func(p Person) bool { return visit.Person.near(p.Grants) })}, nil
}

func (s *Server) pending(_ context.Context, visit Visit, _ *nothing) (*pendingOut, error) {
	waiting, err := s.parts.Gate.Pending()
	if err != nil {
		return nil, err
	}
	return &pendingOut{sift(waiting, func(p Pending) bool { return visit.Person.near(p.Grants) })}, nil
}

// taking tells who made an invitation what came of it, and supervisors where it lets in.
func (s *Server) taking(_ context.Context, visit Visit, in *personIn) (*takingOut, error) {
	told, err := s.parts.Gate.Invited(in.ID)
	switch {
	case err != nil:
		return nil, err
	case told.By != visit.Person.ID && !visit.Person.has(supervises):
		return nil, refuse(http.StatusForbidden, "not-allowed", "somebody else made this invitation")
	case told.By != visit.Person.ID && !visit.Person.oversees(told.Grants):
		return nil, wrongSite()
	}
	return &takingOut{Taking{told.State, told.Device}}, nil
}

// sift is a new list of those that may be seen, never nil.
func sift[T any](all []T, may func(T) bool) []T {
	some := []T{}
	for _, one := range all {
		if may(one) {
			some = append(some, one)
		}
	}
	return some
}

// invite lets a supervisor invite to sites where the caller supervises, and to no others.
func (s *Server) invite(_ context.Context, visit Visit, in *inviteIn) (*invitedOut, error) {
	if !visit.Person.oversees(in.Body.Grants) {
		return nil, wrongSite()
	}
	invitation, err := s.parts.Gate.Invite(visit, in.Body.Name, in.Body.Grants)
	if err != nil {
		return nil, err
	}
	return s.invited(invitation)
}

// inviteDevice lets people invite themselves with one more device, save on one that they share, and supervisors those who work nowhere else than where the supervisor does.
func (s *Server) inviteDevice(_ context.Context, visit Visit, in *personIn) (*invitedOut, error) {
	if in.ID != visit.Person.ID || visit.Crew != nil {
		if err := s.mayInvite(visit.Person, in.ID); err != nil {
			return nil, err
		}
	}
	invitation, err := s.parts.Gate.InviteDevice(visit, in.ID)
	if err != nil {
		return nil, err
	}
	return s.invited(invitation)
}

func (s *Server) mayInvite(by Person, id string) error {
	if !by.has(supervises) {
		return refuse(http.StatusForbidden, "not-allowed", "only a supervisor may do this for somebody else")
	}
	return s.within(by, id)
}

// within refuses somebody who works elsewhere than where the caller supervises. Who works nowhere any more belongs to those
// who supervise everywhere.
func (s *Server) within(by Person, id string) error {
	p, known, err := s.parts.Gate.Person(id)
	if err == nil && known && (!by.oversees(p.Grants) || !by.near(p.Grants)) {
		err = wrongSite()
	}
	return err
}

// changePerson lets a supervisor change what somebody does where the caller supervises, and nowhere else.
func (s *Server) changePerson(_ context.Context, visit Visit, in *changePersonIn) (*personOut, error) {
	if !visit.Person.oversees(in.Body.Grants) {
		return nil, wrongSite()
	}
	changed, err := s.parts.Gate.ChangePerson(visit, in.ID, in.Body.Grants)
	if err != nil {
		return nil, err
	}
	return &personOut{changed}, nil
}

// revokeAll lets a supervisor shut out those who work nowhere else than where the supervisor supervises.
func (s *Server) revokeAll(_ context.Context, visit Visit, in *personIn) (*nothing, error) {
	if err := s.within(visit.Person, in.ID); err != nil {
		return nil, err
	}
	return nil, s.parts.Gate.RevokeAll(visit, in.ID)
}

// eraseName lets a supervisor erase the names of those who work nowhere else than where the supervisor supervises.
func (s *Server) eraseName(_ context.Context, visit Visit, in *personIn) (*nothing, error) {
	if err := s.within(visit.Person, in.ID); err != nil {
		return nil, err
	}
	return nil, s.parts.Gate.Erase(visit, in.ID)
}

func (s *Server) invited(invitation Invitation) (*invitedOut, error) {
	link := s.parts.Public + "/join#" + invitation.Secret
	qr, err := s.parts.Paper.SVG(link)
	if err != nil {
		return nil, err
	}
	return &invitedOut{Invited{ID: invitation.Handle, Link: link, Code: invitation.Code, QR: qr, Expires: invitation.Expires.UTC()}}, nil
}
