package web

import (
	"context"
	"net/http"
	"slices"

	"github.com/danielgtaylor/huma/v2"
)

type sitesOut struct {
	Body []Site `nullable:"false"`
}

type siteOut struct{ Body Site }

type addSiteIn struct {
	Body struct {
		Name  string `json:"name" minLength:"1" maxLength:"100"`
		Place string `json:"place,omitempty" maxLength:"200"`
		Zone  string `json:"zone" minLength:"1" maxLength:"64" doc:"IANA time zone"`
	}
}

type changeSiteIn struct {
	ID   string `path:"id" maxLength:"64"`
	Body struct {
		Name  *string `json:"name,omitempty" minLength:"1" maxLength:"100"`
		Place *string `json:"place,omitempty" maxLength:"200"`
		Zone  *string `json:"zone,omitempty" minLength:"1" maxLength:"64"`
	}
}

func (s *Server) siteRoutes() {
	route(s, huma.Operation{OperationID: "sites", Method: http.MethodGet, Path: "/api/sites", Summary: "The sites of the caller"}, s.sites)
	route(s, huma.Operation{OperationID: "add-site", Method: http.MethodPost, Path: "/api/sites", Summary: "Add a site", DefaultStatus: http.StatusCreated}, s.addSite)
	route(s, huma.Operation{OperationID: "change-site", Method: http.MethodPatch, Path: "/api/sites/{id}", Summary: "Change a site's name, place or zone"}, s.changeSite)
}

func (s *Server) sites(_ context.Context, visit Visit, _ *nothing) (*sitesOut, error) {
	sites, err := s.sitesOf(visit)
	if err != nil {
		return nil, err
	}
	return &sitesOut{sites}, nil
}

// sitesOf are the sites at which a visit's person works.
func (s *Server) sitesOf(visit Visit) ([]Site, error) {
	all, err := s.parts.Gate.Sites()
	if err != nil {
		return nil, err
	}
	own := slices.DeleteFunc(slices.Clone(all), func(site Site) bool { return !visit.Person.at(site.ID) })
	return append([]Site{}, own...), nil
}

// addSite is for those who supervise at all sites: nobody else would see the new one.
func (s *Server) addSite(_ context.Context, visit Visit, in *addSiteIn) (*siteOut, error) {
	if !visit.Person.does(supervises, everywhere) {
		return nil, wrongSite()
	}
	site, err := s.parts.Gate.AddSite(visit, Site{Name: in.Body.Name, Place: in.Body.Place, Zone: in.Body.Zone})
	if err != nil {
		return nil, err
	}
	return &siteOut{site}, nil
}

func (s *Server) changeSite(_ context.Context, visit Visit, in *changeSiteIn) (*siteOut, error) {
	if !visit.Person.does(supervises, in.ID) {
		return nil, wrongSite()
	}
	site, err := s.parts.Gate.ChangeSite(visit, in.ID, SiteChange(in.Body))
	if err != nil {
		return nil, err
	}
	return &siteOut{site}, nil
}
