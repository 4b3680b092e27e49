package web

import (
	"context"
	"io"
	"io/fs"
	"log/slog"
	"time"

	"jointwalk/sync/exchange"
)

// Parts is what the server is made of; main wires it.
type Parts struct {
	Version  string
	Public   string // the public address, without a slash at its end: in links and on tags
	Trust    string // the address of the page that says how to trust our certificate; "" without one
	HTTPS    bool   // the app is served, or stands behind, https
	App      fs.FS  // the built app
	Gate     Gate
	Events   Events
	Pictures Pictures
	Watch    Watch
	Paper    Paper
	Example  func(context.Context, Visit) error // loads the example site; nil: there is none
	Copied   func() time.Time                   // when the newest nightly copy was made, zero for none
	Now      func() time.Time
	Log      *slog.Logger
	Beat     time.Duration // between two signs of life on a stream; 0 means 20 s
}

// Person is somebody who works at sites.
type Person struct {
	ID     string   `json:"id"`
	Name   string   `json:"name"`
	Duties []string `json:"duties" doc:"technician, supervisor, engineer"`
	Sites  []string `json:"sites" doc:"ids, or * for all"`
}

// Device is a phone or a browser of a person.
type Device struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Site is a plant or a customer's building.
type Site struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Place string `json:"place"`
	Zone  string `json:"zone" doc:"IANA time zone"`
}

// SiteChange is what a change of a site changes; nil leaves as it is.
type SiteChange struct{ Name, Place, Zone *string }

// Visit is who calls: a person with a device, known by its session.
type Visit struct {
	Person Person
	Device Device
}

// Invitation is a new way in for one person, once.
type Invitation struct {
	Secret  string // for the link
	Code    string // for typing, grouped
	Expires time.Time
}

// Pending is an invitation that waits.
type Pending struct {
	Name    string    `json:"name"`
	Duties  []string  `json:"duties"`
	Sites   []string  `json:"sites"`
	Expires time.Time `json:"expires"`
}

// Gate knows people, devices and sites. It refuses with a *Refusal; any other error means that it broke.
type Gate interface {
	Installation() string
	NeedsSetup() (bool, error)
	// Setup makes the first person with all duties at all sites, and a session, whose token goes into the cookie.
	Setup(code, name, device string) (Visit, string, error)
	// Pair takes an invitation, by its secret or its typed code.
	Pair(code, device string) (Visit, string, error)
	// Session gives the visit of a token, or refuses with "no-session".
	Session(token string) (Visit, error)
	Leave(token string) error
	Invite(by Visit, name string, duties, sites []string) (Invitation, error)
	Pending() ([]Pending, error)
	People() ([]Person, error)
	Sites() ([]Site, error)
	AddSite(by Visit, site Site) (Site, error)
	ChangeSite(by Visit, id string, change SiteChange) (Site, error)
}

// Refusal is a no with its reason: a code of the gate or of a store.
type Refusal struct {
	Code  string
	Cause error
}

// Error gives the code and the cause.
func (r *Refusal) Error() string {
	if r.Cause == nil {
		return r.Code
	}
	return r.Code + ": " + r.Cause.Error()
}

// Unwrap gives the cause.
func (r *Refusal) Unwrap() error { return r.Cause }

// Events is the store of events: what push and pull need.
type Events interface {
	exchange.Keeper
	exchange.Feed
}

// Pictures keeps bytes by their SHA-256. Size refuses with "unknown-picture" what it does not hold; Put
// refuses with "wrong-hash" bytes that have another one.
type Pictures interface {
	Put(hash string, body io.Reader) error
	Get(hash string) (io.ReadCloser, error)
	Size(hash string) (int64, error)
}

// Changed says that a site's feed has grown up to N.
type Changed struct {
	Site string `json:"site"`
	N    uint64 `json:"n"`
}

// Watch tells of changes after they are kept. A slow reader may miss some but never the last.
type Watch interface {
	Subscribe(sites ...string) (<-chan Changed, func())
}

// Paper draws: a label as PDF in a size named like "50x30", and a QR code as SVG.
type Paper interface {
	Label(w io.Writer, code, name, link, size string, at time.Time) error
	SVG(text string) (string, error)
	Link(public, code string) string
}
