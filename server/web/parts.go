package web

import (
	"context"
	"io"
	"io/fs"
	"log/slog"
	"time"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// Parts is what the server is made of; main wires it.
type Parts struct {
	Version    string
	Public     string   // the public address, without a slash at its end: in links and on tags
	Names      []string // by which this machine is reached besides, in lower case
	Trust      string   // the address of the page that says how to trust our certificate; "" without one
	HTTPS      bool     // the app is served, or stands behind, https
	App        fs.FS    // the built app
	Gate       Gate
	Events     Events
	Pictures   Pictures
	Album      Album
	Watch      Watch
	Paper      Paper
	Seal       func(hash string, r exchange.Receipt) string // marks receipts, see exchange.Hall
	Example    func(context.Context, Visit) error           // loads the example site; nil: there is none
	Copied     func() time.Time                             // when the newest nightly copy was made, zero for none; nil: none are made
	Connection func() *Connection                           // the certificate; nil, or giving nil: plain http
	Now        func() time.Time
	Log        *slog.Logger
	Beat       time.Duration // between two signs of life on a stream; 0 means 4 s
	times      times         // shorter ones for tests; none means the usual
}

// Grants says what a person does where: site id, or * for all → duties.
type Grants map[string][]string

// Person is somebody who works at sites.
type Person struct {
	ID     string `json:"id"`
	Name   string `json:"name" doc:"empty once it was erased"`
	Grants Grants `json:"grants" doc:"site id, or * for all: technician, supervisor, engineer"`
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
	Person  Person
	Device  Device
	Revoked bool // the device may only hand in what it holds
	// Crew are those who share the device, the person among them, nil where nobody does. The person's grants are then what one
	// of them may do, save for supervising.
	Crew []Person
}

// KnownDevice is a device as supervisors see it.
type KnownDevice struct {
	ID      string    `json:"id"`
	Name    string    `json:"name"`
	Person  string    `json:"person" doc:"id of the person who brought it in"`
	People  []string  `json:"people" nullable:"false" doc:"ids of all who use it"`
	Made    time.Time `json:"made"`
	Seen    string    `json:"seen" doc:"the day it was last here, YYYY-MM-DD; empty when never"`
	Revoked bool      `json:"revoked"`
}

// LostLog is a log that ended before all of it came in: a phone lost its storage.
type LostLog struct {
	Device string    `json:"device" doc:"its id"`
	Name   string    `json:"name" doc:"the device's name"`
	Person string    `json:"person" doc:"id of the person who uses it"`
	Log    string    `json:"log"`
	Told   uint64    `json:"told" doc:"how far the phone once said that it goes"`
	Upto   uint64    `json:"upto" doc:"how far the server has it"`
	At     time.Time `json:"at" doc:"when the phone came with another log"`
}

// Invitation is a new way in for one person, once.
type Invitation struct {
	Handle  string // by which Invited tells what came of it
	Secret  string // for the link
	Code    string // for typing, grouped
	Expires time.Time
}

// Answered is what came of an invitation: "waiting", "used", "expired" or "blocked", and the name of the device that took it.
type Answered struct {
	By     string
	Grants Grants
	State  string
	Device string
}

// Pending is an invitation that waits.
type Pending struct {
	Name    string    `json:"name"`
	Grants  Grants    `json:"grants"`
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
	// Join lets one more person use the device of a session, by their invitation, and names them; Part ends that.
	Join(token, code string) (person string, err error)
	Part(token, person string) error
	// Shared says whether several people use a device.
	Shared(device string) (bool, error)
	// Session gives the visit of a token, or refuses with "no-session".
	Session(token string) (Visit, error)
	Leave(token string) error
	Invite(by Visit, name string, grants Grants) (Invitation, error)
	// InviteDevice invites somebody who is here with one more device.
	InviteDevice(by Visit, person string) (Invitation, error)
	// Invited tells what came of an invitation.
	Invited(handle string) (Answered, error)
	Pending() ([]Pending, error)
	People() ([]Person, error)
	// Person gives one of them; known is false for an id that nobody has.
	Person(id string) (p Person, known bool, err error)
	// ChangePerson changes what somebody does at the sites named, no duties take one away; somebody must be left who
	// supervises everywhere.
	ChangePerson(by Visit, id string, change Grants) (Person, error)
	// Erase takes somebody's name away for good and closes their devices; somebody must be left who supervises everywhere.
	Erase(by Visit, id string) error
	Sites() ([]Site, error)
	AddSite(by Visit, site Site) (Site, error)
	ChangeSite(by Visit, id string, change SiteChange) (Site, error)
	// Register is Meet, Writer, Enrolled and At.
	exchange.Register
	Devices() ([]KnownDevice, error)
	LostLogs() ([]LostLog, error)
	// RevokeAll does what Revoke does to all devices of a person, and takes back what invites one more.
	RevokeAll(by Visit, person string) error
	// Revoke lets a device only hand in what it holds, from now on and for good.
	Revoke(by Visit, device string) error
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
	// Fixture gives all events about a fixture in the order of arrival.
	Fixture(id string) ([]exchange.Stored, error)
	// Asides gives at most most of those set aside with N > after, in the order they came.
	Asides(after uint64, most int) ([]Aside, error)
	// Accept lets one in as it is; Settle leaves it out for good. Both refuse with "unknown-aside".
	Accept(hash string, s Settlement) error
	Settle(hash string, s Settlement) error
}

// Aside is a line that was taken, kept, and left out of every feed.
type Aside struct {
	N       uint64
	Hash    string
	Code    string // why
	Log     string // "" for a line that is no event
	Line    journal.Line
	Receipt exchange.Receipt
	Settled bool
}

// Settlement says what became of one that was set aside, and by whom.
type Settlement struct {
	How string // "accepted", "amended" or "dismissed"
	By  string // person id, "" for the server itself
	At  time.Time
}

// Pictures keeps bytes by their SHA-256. Size refuses with "unknown-picture" what it does not hold; Put
// refuses with "wrong-hash" bytes that have another one. All refuse with "withdrawn" a picture that was withdrawn.
type Pictures interface {
	Put(hash string, body io.Reader) error
	Get(hash string) (io.ReadCloser, error)
	Size(hash string) (int64, error)
	// Part is how much of a picture on its way is here, Extend adds a chunk; see exchange.Part.
	Part(hash string) (have int64, whole bool, err error)
	Extend(hash string, offset, size int64, body io.Reader) (have int64, whole bool, err error)
}

// Album knows who added which picture.
type Album interface {
	// AddedBy is the person who added a picture by an event about a fixture; known is false for an event that is in no feed or
	// adds none.
	AddedBy(fixture, event string) (person string, known bool, err error)
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
	// Blank draws a sheet of labels that no fixture carries yet, by their codes.
	Blank(w io.Writer, public string, codes []string, size string, at time.Time) error
	// Card draws a scale card, to lie beside a bubble in a picture.
	Card(w io.Writer, at time.Time) error
	SVG(text string) (string, error)
	Link(public, code string) string
}
