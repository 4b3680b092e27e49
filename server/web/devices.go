package web

import (
	"context"
	"maps"
	"net/http"
	"slices"
	"time"

	"github.com/danielgtaylor/huma/v2"
)

// Upkeep is what a supervisor should know of the installation.
type Upkeep struct {
	Copied     *time.Time    `json:"copied" doc:"when everything was last copied; null for never"`
	Devices    []KnownDevice `json:"devices" nullable:"false"`
	Lost       []LostLog     `json:"lost" nullable:"false" doc:"logs that ended before all of them came in"`
	Connection *Connection   `json:"connection" doc:"the certificate that phones come in by; null for plain http"`
}

type upkeepOut struct{ Body Upkeep }

type devicesOut struct {
	Body []KnownDevice `nullable:"false"`
}

type revokeIn struct {
	ID string `path:"id" maxLength:"64"`
}

func (s *Server) deviceRoutes() {
	route(s, huma.Operation{OperationID: "upkeep", Method: http.MethodGet, Path: "/api/upkeep", Summary: "Devices, logs that phones have lost, the age of the newest copy, the certificate"}, s.upkeep)
	schemas := s.api.OpenAPI().Components.Schemas.Map()
	orNull(schemas["Upkeep"].Properties, "copied")
	orNull(schemas["Upkeep"].Properties, "connection")
	orNull(schemas["Connection"].Properties, "certificate")
	orNull(schemas["Connection"].Properties, "authority")
	route(s, huma.Operation{OperationID: "devices", Method: http.MethodGet, Path: "/api/devices", Summary: "The caller's own devices"}, s.ownDevices)
	route(s, huma.Operation{OperationID: "revoke-device", Method: http.MethodPost, Path: "/api/devices/{id}/revoke", Summary: "Close a device: from now on it may only hand in what it holds", DefaultStatus: http.StatusNoContent}, s.revokeDevice)
}

// upkeep tells of the devices of those who work at a site where the caller supervises.
func (s *Server) upkeep(_ context.Context, visit Visit, _ *nothing) (*upkeepOut, error) {
	people, err := s.parts.Gate.People()
	if err != nil {
		return nil, err
	}
	near := map[string]bool{}
	for _, p := range people {
		near[p.ID] = visit.Person.near(p.Grants)
	}
	devices, err := s.parts.Gate.Devices()
	if err != nil {
		return nil, err
	}
	lost, err := s.parts.Gate.LostLogs()
	if err != nil {
		return nil, err
	}
	out := &upkeepOut{Upkeep{Devices: sift(devices, func(d KnownDevice) bool {
		return slices.ContainsFunc(d.People, func(id string) bool { return near[id] })
	}),
		Lost: sift(lost, func(l LostLog) bool { return near[l.Person] }), Connection: s.connection()}}
	if s.parts.Copied != nil {
		if at := s.parts.Copied(); !at.IsZero() {
			out.Body.Copied = &at
		}
	}
	return out, nil
}

// ownDevices are those that the caller brought in, on a shared device that one alone: whoever holds it sees no more.
func (s *Server) ownDevices(_ context.Context, visit Visit, _ *nothing) (*devicesOut, error) {
	devices, err := s.parts.Gate.Devices()
	if err != nil {
		return nil, err
	}
	return &devicesOut{sift(devices, func(d KnownDevice) bool {
		return d.ID == visit.Device.ID || visit.Crew == nil && d.Person == visit.Person.ID
	})}, nil
}

// revokeDevice closes a device that the caller brought in, or whose people work nowhere else than where the caller supervises.
func (s *Server) revokeDevice(_ context.Context, visit Visit, in *revokeIn) (*nothing, error) {
	device, err := s.deviceOf(in.ID)
	if err != nil {
		return nil, err
	}
	if visit.Crew != nil || device.Person != visit.Person.ID {
		if err := s.mayRevoke(visit.Person, device); err != nil {
			return nil, err
		}
	}
	return nil, s.parts.Gate.Revoke(visit, in.ID)
}

func (s *Server) mayRevoke(by Person, device KnownDevice) error {
	if !by.has(supervises) {
		return refuse(http.StatusForbidden, "not-allowed", "only a supervisor may do this for somebody else")
	}
	grants, err := s.grantsOf(device)
	if err == nil && !by.oversees(grants) {
		err = wrongSite()
	}
	return err
}

// deviceOf finds a device; one that nobody knows is nobody's.
func (s *Server) deviceOf(id string) (KnownDevice, error) {
	devices, err := s.parts.Gate.Devices()
	if i := slices.IndexFunc(devices, func(d KnownDevice) bool { return d.ID == id }); i >= 0 {
		return devices[i], err
	}
	return KnownDevice{}, err
}

// grantsOf are those of all who use a device.
func (s *Server) grantsOf(device KnownDevice) (Grants, error) {
	grants := Grants{}
	for _, id := range device.People {
		p, _, err := s.parts.Gate.Person(id)
		if err != nil {
			return nil, err
		}
		maps.Copy(grants, p.Grants)
	}
	return grants, nil
}
