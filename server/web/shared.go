package web

import (
	"context"
	"net/http"
	"slices"

	"github.com/danielgtaylor/huma/v2"

	"jointwalk/sync/journal"
)

// Mate is one of those who share a device, and what they do where.
type Mate struct {
	ID     string   `json:"id"`
	Name   string   `json:"name"`
	Duties []string `json:"duties" doc:"all, wherever: technician, engineer; nobody supervises on a shared device"`
	Grants Grants   `json:"grants" doc:"site id, or * for all → duties"`
}

type joinIn struct {
	Body struct {
		Code string `json:"code" minLength:"1" maxLength:"100" doc:"of the invitation of who is to use this device too"`
	}
}

// Joined names who uses a device from now on.
type Joined struct {
	Person string `json:"person"`
}

type joined struct{ Body Joined }

func (s *Server) sharedRoutes() {
	guess := huma.Middlewares{s.slow}
	route(s, huma.Operation{OperationID: "share-device", Method: http.MethodPost, Path: "/api/mates", Summary: "Let one more person use this device", Middlewares: guess}, s.join)
	route(s, huma.Operation{OperationID: "unshare-device", Method: http.MethodPost, Path: "/api/mates/{id}/leave", Summary: "End that a person uses this device", DefaultStatus: http.StatusNoContent}, s.part)
}

// join tells who joined: somebody who used the device before is given a new PIN there.
func (s *Server) join(ctx context.Context, visit Visit, in *joinIn) (*joined, error) {
	person, err := s.parts.Gate.Join(tokenOf(ctx), in.Body.Code)
	if err != nil {
		return nil, err
	}
	s.note(ctx, visit, "joined", "who", person)
	return &joined{Joined{person}}, nil
}

func (s *Server) part(ctx context.Context, visit Visit, in *personIn) (*nothing, error) {
	if err := s.parts.Gate.Part(tokenOf(ctx), in.ID); err != nil {
		return nil, err
	}
	s.note(ctx, visit, "parted", "who", in.ID)
	return nil, nil
}

// mates are those who share a visit's device.
func (v Visit) mates() (mates []Mate) {
	for _, p := range v.Crew {
		mates = append(mates, Mate{p.ID, p.Name, p.duties(), p.Grants})
	}
	return mates
}

// has tells whether a person uses a visit's device.
func (v Visit) has(person string) bool {
	return person == v.Person.ID || slices.ContainsFunc(v.Crew, func(p Person) bool { return p.ID == person })
}

// writer is the person of an event with what may be done on the device that wrote it: where people share it nobody supervises.
func (s *Server) writer(e journal.Event) (p Person, known bool, err error) {
	if p, known, err = s.parts.Gate.Person(e.By); err != nil || !known || !p.has(supervises) {
		return p, known, err
	}
	device, told, err := s.parts.Gate.Writer(e.Log)
	if err != nil || !told {
		return p, known, err
	}
	shared, err := s.parts.Gate.Shared(device)
	if shared {
		p = p.without(supervises)
	}
	return p, known, err
}

// without is a person less one duty.
func (p Person) without(duty string) Person {
	rest := Grants{}
	for site, duties := range p.Grants {
		rest[site] = slices.DeleteFunc(slices.Clone(duties), func(one string) bool { return one == duty })
	}
	p.Grants = rest
	return p
}
