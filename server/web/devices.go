package web

import (
	"context"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
)

// Upkeep is what a supervisor should know of the installation.
type Upkeep struct {
	Copied  *time.Time    `json:"copied" doc:"when everything was last copied; null for never"`
	Devices []KnownDevice `json:"devices" nullable:"false"`
	Lost    []LostLog     `json:"lost" nullable:"false" doc:"logs that ended before all of them came in"`
}

type upkeepOut struct{ Body Upkeep }

type revokeIn struct {
	ID string `path:"id" maxLength:"64"`
}

func (s *Server) deviceRoutes() {
	route(s, supervisor, huma.Operation{OperationID: "upkeep", Method: http.MethodGet, Path: "/api/upkeep", Summary: "Devices, logs that phones have lost, the age of the newest copy"}, s.upkeep)
	orNull(s.api.OpenAPI().Components.Schemas.Map()["Upkeep"].Properties, "copied")
	route(s, supervisor, huma.Operation{OperationID: "revoke-device", Method: http.MethodPost, Path: "/api/devices/{id}/revoke", Summary: "Close a device: from now on it may only hand in what it holds", DefaultStatus: http.StatusNoContent}, s.revokeDevice)
}

func (s *Server) upkeep(context.Context, Visit, *nothing) (*upkeepOut, error) {
	devices, err := s.parts.Gate.Devices()
	if err != nil {
		return nil, err
	}
	lost, err := s.parts.Gate.LostLogs()
	if err != nil {
		return nil, err
	}
	out := &upkeepOut{Upkeep{Devices: append([]KnownDevice{}, devices...), Lost: append([]LostLog{}, lost...)}}
	if s.parts.Copied != nil {
		if at := s.parts.Copied(); !at.IsZero() {
			out.Body.Copied = &at
		}
	}
	return out, nil
}

func (s *Server) revokeDevice(_ context.Context, visit Visit, in *revokeIn) (*nothing, error) {
	return nil, s.parts.Gate.Revoke(visit, in.ID)
}
