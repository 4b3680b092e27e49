package engine

import (
	"encoding/json"

	"jointwalk/sync/record"
)

// Draft is an event that a screen wants kept. Fixture may be left out for
// fixture-registered, Of for what begins a noun: both are then minted. Base is
// the event that an edit or amendment starts from.
type Draft struct {
	Kind    record.Kind     `json:"kind"`
	Site    string          `json:"site"`
	Fixture string          `json:"fixture,omitempty"`
	Of      string          `json:"of,omitempty"`
	Base    string          `json:"base,omitempty"`
	Body    json.RawMessage `json:"body"`
}

// Write asks for drafts to be kept together, all or none. IDs are the ids of
// the events to be, one a draft, minted by the caller: the same write asked
// again after the engine died is answered and not kept twice. Zone is the
// device's time zone, an IANA name.
type Write struct {
	Drafts []Draft  `json:"drafts"`
	IDs    []string `json:"ids"`
	Zone   string   `json:"zone"`
}

// Written says under which event id and for which noun a draft was kept.
type Written struct {
	ID      string `json:"id"`
	Of      string `json:"of"`
	Fixture string `json:"fixture"`
	Log     string `json:"log"`
	Seq     uint64 `json:"seq"`
}

// Kept answers Write, in the order of the drafts.
type Kept struct {
	Written []Written `json:"written"`
}

// Ask is a question of package summary by name, with its arguments.
type Ask struct {
	Question string          `json:"question"`
	Args     json.RawMessage `json:"args"`
}

// Note is what a screen wants remembered under a key: a draft that is no event
// yet.
type Note struct {
	Key   string          `json:"key"`
	Value json.RawMessage `json:"value,omitempty"`
}

// Me is who this device belongs to, as the server last said: kept, so that a
// cold start without a network knows person, sites and names.
type Me struct {
	Person       Person   `json:"person"`
	Device       Device   `json:"device"`
	Installation string   `json:"installation"`
	Sites        []Site   `json:"sites"`
	People       []Person `json:"people"`
}

// Person is a person with duties ("technician", "supervisor", "engineer").
type Person struct {
	ID     string   `json:"id"`
	Name   string   `json:"name"`
	Duties []string `json:"duties,omitempty"`
	Sites  []string `json:"sites,omitempty"`
}

// Device is a device by id and the name that its person gave it.
type Device struct {
	ID   string `json:"id"`
	Name string `json:"name"`
}

// Site is a site that the person works at.
type Site struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Place string `json:"place,omitempty"`
	Zone  string `json:"zone,omitempty"`
}

// Standing is how the phone's own copy stands. Asides counts the events that
// the server set aside, Damage the bad stretches found in the files at the
// start, Lost the files that were missing.
type Standing struct {
	Unsent         int `json:"unsent"`
	UnsentPictures int `json:"unsentPictures"`
	Asides         int `json:"asides"`
	Damage         int `json:"damage"`
	Lost           int `json:"lost"`
	Me             *Me `json:"me"`
}

// Push is the next batch to send: Body is "" when all was sent. Clock goes
// into the clock header beside it.
type Push struct {
	Body  string `json:"body"`
	Clock string `json:"clock"`
}

// Sent is what the server's answer to a push meant.
type Sent struct {
	Applied   int `json:"applied"`
	Duplicate int `json:"duplicate"`
	Aside     int `json:"aside"`
}

// Pull is where to go on with a site.
type Pull struct {
	Site   string `json:"site"`
	Cursor string `json:"cursor"`
}

// Pulls are the sites to pull.
type Pulls struct {
	Pulls []Pull `json:"pulls"`
}

// Body carries what the server answered, as text. Site names what was pulled.
type Body struct {
	Site string `json:"site,omitempty"`
	Text string `json:"text"`
}

// Pulled is what one slice brought. More asks to go on at once.
type Pulled struct {
	Added int  `json:"added"`
	More  bool `json:"more"`
}

// PictureNote names a picture by its SHA-256.
type PictureNote struct {
	Hash  string `json:"hash"`
	Bytes int    `json:"bytes"`
}

// Waiting are the pictures not yet sent.
type Waiting struct {
	Pictures []PictureNote `json:"pictures"`
}

// Nothing is the argument or answer of a call that has none.
type Nothing struct{}

// Failed tells of a failed try; Jitter is random, in [0, 1).
type Failed struct {
	Jitter float64 `json:"jitter"`
}

// Wait is the time to wait before the next try.
type Wait struct {
	Ms int64 `json:"ms"`
}

// Known says who this device belongs to, null when to nobody.
type Known struct {
	Me *Me `json:"me"`
}
