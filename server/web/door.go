package web

import (
	"context"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humaecho"
)

// Hello is what anybody may know of this server, and who the caller is.
type Hello struct {
	Version      string    `json:"version"`
	Installation string    `json:"installation"`
	NeedsSetup   bool      `json:"needsSetup" doc:"nobody is here yet: the setup link makes the first person"`
	Me           *Me       `json:"me" doc:"null without a session"`
	Now          time.Time `json:"now"`
	Secure       bool      `json:"secure" doc:"the server speaks https"`
	Trust        string    `json:"trust" doc:"where it says how to trust our certificate; empty without one of our own"`
}

// Me is the caller's person and device, with the names of what belongs to them.
type Me struct {
	Person       Self         `json:"person"`
	Device       Device       `json:"device"`
	Installation string       `json:"installation"`
	Sites        []OwnSite    `json:"sites" nullable:"false"`
	People       []PersonName `json:"people" nullable:"false"`
	Mates        []Mate       `json:"mates,omitempty" doc:"those who share this device, the caller among them; none where nobody does"`
}

// Self is the caller.
type Self struct {
	ID     string   `json:"id"`
	Name   string   `json:"name"`
	Duties []string `json:"duties" doc:"all, wherever: technician, supervisor, engineer"`
	// Everywhere: supervises at all sites, later ones too.
	Everywhere bool `json:"everywhere"`
}

// OwnSite is a site of the caller's, and what the caller does there.
type OwnSite struct {
	ID     string   `json:"id"`
	Name   string   `json:"name"`
	Place  string   `json:"place"`
	Zone   string   `json:"zone" doc:"IANA time zone"`
	Duties []string `json:"duties"`
}

// PersonName names a person by whom something was done.
type PersonName struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

type nothing struct{}

type helloOut struct{ Body Hello }

type meOut struct{ Body Me }

// entered is the answer to a setup or a pairing: the session's cookie and who one is now.
type entered struct {
	SetCookie http.Cookie `header:"Set-Cookie"`
	Body      Me
}

type setupIn struct {
	Body struct {
		Code    string `json:"code" minLength:"1" maxLength:"100"`
		Name    string `json:"name" minLength:"1" maxLength:"100"`
		Device  string `json:"device" minLength:"1" maxLength:"100"`
		Example bool   `json:"example,omitempty" doc:"load the example site"`
	}
}

type pairIn struct {
	Body struct {
		Code   string `json:"code" minLength:"1" maxLength:"100" doc:"from the link, or typed"`
		Device string `json:"device" minLength:"1" maxLength:"100"`
	}
}

func (s *Server) doorRoutes() {
	route(s, huma.Operation{OperationID: "hello", Method: http.MethodGet, Path: "/api/hello", Summary: "What this server is, and who calls"}, s.hello)
	orNull(s.api.OpenAPI().Components.Schemas.Map()["Hello"].Properties, "me")
	route(s, huma.Operation{OperationID: "me", Method: http.MethodGet, Path: "/api/me", Summary: "Who calls"}, s.me)
	guess := huma.Middlewares{s.slow}
	route(s, huma.Operation{OperationID: "setup", Method: http.MethodPost, Path: "/api/setup", Summary: "Make the first person", Middlewares: guess}, s.setup)
	route(s, huma.Operation{OperationID: "pair", Method: http.MethodPost, Path: "/api/pair", Summary: "Take an invitation", Middlewares: guess}, s.pair)
	route(s, huma.Operation{OperationID: "leave", Method: http.MethodPost, Path: "/api/leave", Summary: "End this session", DefaultStatus: http.StatusNoContent}, s.leave)
}

// orNull describes a property as null or what it was.
func orNull(properties map[string]*huma.Schema, name string) {
	properties[name] = &huma.Schema{AnyOf: []*huma.Schema{properties[name], {Type: "null"}}}
}

// slow refuses before anything is read when too many codes were tried from one address.
func (s *Server) slow(ctx huma.Context, next func(huma.Context)) {
	if err := s.tries.may(ctx.RemoteAddr()); err != nil {
		s.fail(err, humaecho.Unwrap(ctx))
		return
	}
	next(ctx)
}

func (s *Server) hello(ctx context.Context, _ Visit, _ *nothing) (*helloOut, error) {
	needs, err := s.parts.Gate.NeedsSetup()
	if err != nil {
		return nil, err
	}
	hello := Hello{Version: s.parts.Version, Installation: s.parts.Gate.Installation(), NeedsSetup: needs, Now: s.parts.Now().UTC(),
		Secure: s.parts.HTTPS, Trust: s.parts.Trust}
	if visit, ok := visitOf(ctx); ok {
		me, err := s.meOf(visit)
		if err != nil {
			return nil, err
		}
		hello.Me = me
	}
	return &helloOut{hello}, nil
}

func (s *Server) me(_ context.Context, visit Visit, _ *nothing) (*meOut, error) {
	me, err := s.meOf(visit)
	if err != nil {
		return nil, err
	}
	return &meOut{*me}, nil
}

func (s *Server) setup(ctx context.Context, _ Visit, in *setupIn) (*entered, error) {
	visit, token, err := s.parts.Gate.Setup(in.Body.Code, in.Body.Name, in.Body.Device)
	if err != nil {
		return nil, err
	}
	if in.Body.Example && s.parts.Example != nil {
		// The person is made and the code is spent: a failed example must not cost the way in.
		if err := s.parts.Example(ctx, visit); err != nil {
			s.parts.Log.Error("the example site was not loaded", "cause", err)
		}
	}
	return s.enter(ctx, visit, token)
}

func (s *Server) pair(ctx context.Context, _ Visit, in *pairIn) (*entered, error) {
	visit, token, err := s.parts.Gate.Pair(in.Body.Code, in.Body.Device)
	if err != nil {
		return nil, err
	}
	s.leaveBehind(ctx)
	return s.enter(ctx, visit, token)
}

// leaveBehind ends the session with which somebody comes who is given another: the browser keeps one cookie only.
func (s *Server) leaveBehind(ctx context.Context) {
	if token := tokenOf(ctx); token != "" {
		if err := s.parts.Gate.Leave(token); err != nil { // the invitation is spent: this must not cost the way in
			s.parts.Log.Error("a session that was left behind goes on", "cause", err, "request", requestID(ctx))
		}
	}
}

func (s *Server) enter(ctx context.Context, visit Visit, token string) (*entered, error) {
	me, err := s.meOf(visit)
	if err != nil {
		return nil, err
	}
	s.note(ctx, visit, "came in")
	return &entered{SetCookie: s.cookie(token), Body: *me}, nil
}

type left struct {
	SetCookie http.Cookie `header:"Set-Cookie"`
}

func (s *Server) leave(ctx context.Context, visit Visit, _ *nothing) (*left, error) {
	if err := s.parts.Gate.Leave(tokenOf(ctx)); err != nil {
		return nil, err
	}
	s.note(ctx, visit, "left")
	return &left{SetCookie: s.cookie("")}, nil
}

// meOf collects what a visit's device needs to know: its sites and the names of those who work there.
func (s *Server) meOf(visit Visit) (*Me, error) {
	sites, err := s.sitesOf(visit)
	if err != nil {
		return nil, err
	}
	people, err := s.parts.Gate.People()
	if err != nil {
		return nil, err
	}
	me := &Me{Person: Self{visit.Person.ID, visit.Person.Name, visit.Person.duties(), visit.Person.does(supervises, everywhere)}, Device: visit.Device, Installation: s.parts.Gate.Installation(),
		Sites: []OwnSite{}, People: []PersonName{}, Mates: visit.mates()}
	for _, site := range sites {
		me.Sites = append(me.Sites, OwnSite{site.ID, site.Name, site.Place, site.Zone, visit.Person.duties(site.ID)})
	}
	for _, p := range people {
		me.People = append(me.People, PersonName{p.ID, p.Name})
	}
	return me, nil
}
