// Package people knows who may come in and how: the first person's setup code,
// invitations, sessions, and the sites at which people work. There are no
// passwords. Secrets are kept as hashes only; every change writes an audit line
// in the same transaction.
package people

import (
	"encoding/json"
	"errors"
	"io"
	"strings"
	"sync"
	"time"
	"unicode"
	"unicode/utf8"

	"jointwalk/server/store"
)

// The duties that a person may hold, one or several.
const (
	Technician = "technician"
	Supervisor = "supervisor"
	Engineer   = "engineer"
)

// AllDuties are all of them.
func AllDuties() []string { return []string{Technician, Supervisor, Engineer} }

// EverySite among the sites of grants means all of them, later ones too.
const EverySite = "*"

// Person is somebody who works at sites. A person is never deleted; one without grants works nowhere any more.
type Person struct {
	ID     string    `json:"id"`
	Name   string    `json:"name"`
	Grants Grants    `json:"grants"`
	Made   time.Time `json:"made"`
	Erased time.Time `json:"erased,omitzero"` // when the name was erased: then it is "", and nobody comes in as this person; zero before
}

// Site is a plant or a customer's building. Zone is an IANA time zone.
type Site struct {
	ID    string `json:"id"`
	Name  string `json:"name"`
	Place string `json:"place"`
	Zone  string `json:"zone"`
}

// Visit is a person with a device, known by its session. Revoked: the device may hand in what it holds, to be set
// aside, and gets nothing any more. Crew are those who share the device, the person among them, nil where nobody does; then
// the person's grants are what one of them may do, and nobody of them supervises.
type Visit struct {
	Person  Person
	Device  Device
	Revoked bool
	Crew    []Person
}

// Fault is a refusal by its stable code.
type Fault struct{ Code string }

// Error gives the code; people read the catalogue's words.
func (f *Fault) Error() string { return "people: " + f.Code }

// The codes of a Fault.
const (
	NoSession         = "no-session"
	SetupCode         = "setup-code"    // not the setup code
	SetupDone         = "setup-done"    // there is somebody already
	SetupExpired      = "setup-expired" // start the server again for a new one
	InvitationUnknown = "invitation-unknown"
	InvitationExpired = "invitation-expired"
	InvitationUsed    = "invitation-used"
	InvitationBlocked = "invitation-blocked" // too many wrong tries
	BadName           = "bad-name"           // a name of 1 to 80 characters is needed
	BadDuty           = "bad-duty"
	BadSite           = "bad-site"
	BadZone           = "bad-zone"
	UnknownSite       = "unknown-site"
	UnknownPerson     = "unknown-person"
	PersonErased      = "person-erased" // the name was erased: for good
	UnknownDevice     = "unknown-device"
	SharedSupervisor  = "shared-supervisor" // who supervises has a device of their own
	SharedFull        = "shared-full"       // 12 people use the device
)

// The tables of rows.
const (
	tablePeople      = "people"
	tableDevices     = "devices"
	tableSessions    = "sessions"
	tableInvitations = "invitations"
	tableSites       = "sites"
	tableSelf        = "self"
	tableLogs        = "logs"
	tablePhones      = "phones"
	tableLost        = "lost"
)

// Gate is the way in. Its methods may be called at the same time.
type Gate struct {
	rows         store.Rows
	now          func() time.Time
	random       io.Reader
	installation string
	key          []byte // of receipts

	mu    sync.Mutex // guards setup
	setup setup
}

// New opens the gate over its rows. random is read by several at the same time. The installation's id and its key
// of receipts are made at the first start. While nobody is there a setup code is minted.
func New(rows store.Rows, now func() time.Time, random io.Reader) (*Gate, error) {
	g := &Gate{rows: rows, now: now, random: random}
	if err := g.findSelf(); err != nil {
		return nil, err
	}
	return g, g.mintSetup()
}

// People lists everybody by the time they came.
func (g *Gate) People() ([]Person, error) { return all[Person](g.rows, tablePeople) }

// Person gives one of them; known is false for an id that nobody has.
func (g *Gate) Person(id string) (p Person, known bool, err error) {
	err = g.rows.View(func(r store.RowReader) error { return get(r, tablePeople, id, &p) })
	if errors.Is(err, store.ErrNoRow) {
		return Person{}, false, nil
	}
	return p, err == nil, err
}

// change makes one audited change.
func (g *Gate) change(by, what, about string, do func(store.RowWriter) error) error {
	audit := store.Audit{At: g.now().UTC().Format(time.RFC3339), By: by, What: what, About: about}
	return g.rows.Change(audit, do)
}

func get(r store.RowReader, table, id string, into any) error {
	raw, err := r.Get(table, id)
	if err != nil {
		return err
	}
	return json.Unmarshal(raw, into)
}

func put(w store.RowWriter, table, id string, row any) error {
	raw, err := json.Marshal(row)
	if err != nil {
		return err
	}
	return w.Put(table, id, raw)
}

// orElse refuses with a code where there is no such row; any other error stays.
func orElse(err error, code string) error {
	if errors.Is(err, store.ErrNoRow) {
		return &Fault{code}
	}
	return err
}

// all reads a whole table in the order of its ids.
func all[T any](rows store.Rows, table string) ([]T, error) {
	list := []T{}
	err := rows.View(func(r store.RowReader) error {
		return r.Each(table, func(_ string, raw []byte) error {
			var row T
			if err := json.Unmarshal(raw, &row); err != nil {
				return err
			}
			list = append(list, row)
			return nil
		})
	})
	return list, err
}

// longestName is in characters.
const longestName = 80

// name trims a name and refuses an empty one, a too long one, and one with
// characters that cannot be seen or turn the text around them.
func name(text string) (string, error) {
	text = strings.Join(strings.Fields(text), " ")
	if text == "" || !utf8.ValidString(text) || utf8.RuneCountInString(text) > longestName || strings.ContainsFunc(text, hidden) {
		return "", &Fault{BadName}
	}
	return text, nil
}

// hidden holds for control characters and those that set the direction of text.
func hidden(c rune) bool {
	return unicode.IsControl(c) || unicode.Is(unicode.Bidi_Control, c) || c == '\ufeff'
}
