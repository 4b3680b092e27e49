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

// Calculate is a calculation of package call by name, with its arguments.
type Calculate struct {
	Name string         `json:"name"`
	In   map[string]any `json:"in"`
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
	// Mates are those who share this device, nil where nobody does. Person is then the one who holds it now, and Sites are that
	// person's.
	Mates []Mate `json:"mates,omitempty"`
}

// Mate is one of those who share a device, and what they do where: site id, or "*" for all → duties.
type Mate struct {
	ID     string              `json:"id"`
	Name   string              `json:"name"`
	Duties []string            `json:"duties"`
	Grants map[string][]string `json:"grants"`
}

// Hold says who holds a shared device from now on, by id.
type Hold struct {
	Person string `json:"person"`
}

// Person is a person with duties ("technician", "supervisor", "engineer").
type Person struct {
	ID     string   `json:"id"`
	Name   string   `json:"name"`
	Duties []string `json:"duties,omitempty"`
	// Everywhere: supervises at all sites, later ones too.
	Everywhere bool `json:"everywhere,omitempty"`
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
	// Duties are what the person does there; none where an earlier server said it for all sites alike.
	Duties []string `json:"duties,omitempty"`
}

// Standing is how the phone's own copy stands, and how it stands towards the server. Damage counts the bad
// stretches found in the files at the start, Lost the files that were missing. Times are RFC 3339, "" for none.
type Standing struct {
	Unsent         int      `json:"unsent"`
	Oldest         string   `json:"oldest"` // when the oldest of them was recorded
	UnsentPictures int      `json:"unsentPictures"`
	OldestPicture  string   `json:"oldestPicture"`
	Asides         int      `json:"asides"` // events that the server keeps apart
	Damage         int      `json:"damage"`
	Lost           int      `json:"lost"`
	Me             *Me      `json:"me"`
	Log            string   `json:"log"`           // id of the log that is written now
	Reach          string   `json:"reach"`         // unknown, reached, offline
	SignedOut      bool     `json:"signedOut"`     // the server knows no session of this device
	Revoked        bool     `json:"revoked"`       // capture is closed
	TooOld         string   `json:"tooOld"`        // "", app, server
	Server         string   `json:"server"`        // its version, "" before it answered
	ClockOffsetMs  *int64   `json:"clockOffsetMs"` // the device's clock minus the server's; null before it answered
	LostLog        *LostLog `json:"lostLog"`       // an earlier log of this device that ended unsent
	Problem        string   `json:"problem,omitempty"`
	Synced         string   `json:"synced,omitempty"` // when all was last sent and fetched
	Paused         bool     `json:"paused,omitempty"` // a person stopped it: nothing is fetched, and no picture sent
	Doing          *Doing   `json:"doing,omitempty"`  // left out while nothing takes long
}

// Doing is how far the exchange is with one of its long parts.
type Doing struct {
	What string  `json:"what"` // send, fetch, pictures, photos
	Done int     `json:"done"`
	Of   int     `json:"of"`   // 0 where nobody knows
	Gone float64 `json:"gone"` // Done with the part of the next one that is done
}

// LostLog is a log that this device once told of as going up to Told, of which the server has what goes up to Upto.
type LostLog struct {
	Log  string `json:"log"`
	Told uint64 `json:"told"`
	Upto uint64 `json:"upto"`
}

// Begin asks for a turn; Whole for one that also fetches, Resume for one that goes on after a stop.
type Begin struct {
	Whole  bool `json:"whole"`
	Resume bool `json:"resume,omitempty"`
}

// Taken is what a reply brought: Changed asks screens to ask again, Fault is the code that ended the turn early.
type Taken struct {
	Changed bool   `json:"changed"`
	Fault   string `json:"fault,omitempty"`
}

// Body carries what the server answered, as text. Site names what it is about.
type Body struct {
	Site string `json:"site,omitempty"`
	Text string `json:"text"`
}

// From says how many unsent events were exported already.
type From struct {
	After int `json:"after"`
}

// Exported is a part of what is unsent, one event a line. More asks to go on from Next.
type Exported struct {
	Lines string `json:"lines"`
	Next  int    `json:"next"`
	More  bool   `json:"more"`
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

// Wait is the time until the next turn should begin by itself.
type Wait struct {
	Ms int64 `json:"ms"`
}
