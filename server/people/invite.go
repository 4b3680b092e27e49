package people

import (
	"encoding/json"
	"errors"
	"strings"
	"time"

	"jointwalk/server/store"
)

const (
	invitationLife = 10 * time.Minute
	invitationKept = 24 * time.Hour // after its end, so that it can say why it is refused
	wrongTries     = 5
	handleTries    = 1000 // draws; 32,768 handles for those invited within a day
)

// errNoHandle comes when thousands were invited within a day.
var errNoHandle = errors.New("people: no free handle for an invitation")

// invitation is a row under its handle, the three characters that both the
// link's secret and the typed code begin with. Both are kept as hashes.
type invitation struct {
	Person  string    `json:"person,omitempty"` // who is here already, for one more device; "" for somebody new
	New     string    `json:"new,omitempty"`    // the id that somebody new will have
	Name    string    `json:"name"`
	Grants  Grants    `json:"grants"`
	By      string    `json:"by"`
	Link    string    `json:"link"`
	Typed   string    `json:"typed"`
	Expires time.Time `json:"expires"`
	Wrong   int       `json:"wrong"`
	Used    bool      `json:"used"`
	Device  string    `json:"device,omitempty"` // the name of the device that took it
}

// Invitation is a new way in, shown once.
type Invitation struct {
	Handle  string // by which Invited tells what came of it; no secret
	Secret  string // for the link
	Code    string // for typing, in two groups
	Expires time.Time
}

// What can have come of an invitation.
const (
	Waiting = "waiting"
	Used    = "used"
	Expired = "expired"
	Blocked = "blocked"
)

// Answered is what came of an invitation, and the name of the device that took it.
type Answered struct {
	By     string
	Grants Grants
	State  string
	Device string
}

// Pending is an invitation that waits.
type Pending struct {
	Name    string
	Grants  Grants
	Expires time.Time
}

// Invite makes an invitation for one person, good once and for ten minutes.
func (g *Gate) Invite(by, person string, grants Grants) (Invitation, error) {
	person, err := name(person)
	if err != nil {
		return Invitation{}, err
	}
	grants = Grants{}.with(grants)
	if len(grants) == 0 {
		return Invitation{}, &Fault{BadDuty}
	}
	if err := g.checkGrants(grants); err != nil {
		return Invitation{}, err
	}
	id, err := g.newID()
	if err != nil {
		return Invitation{}, err
	}
	what := "invited: " + strings.Join(differences(nil, grants), ", ")
	return g.offer(what, invitation{New: id, Name: person, Grants: grants, By: by})
}

// InviteDevice makes an invitation for one more device of a person, good once and for ten minutes. Errors: UnknownPerson,
// PersonErased.
func (g *Gate) InviteDevice(by, person string) (Invitation, error) {
	p, known, err := g.Person(person)
	if err != nil {
		return Invitation{}, err
	}
	if !known {
		return Invitation{}, &Fault{UnknownPerson}
	}
	if !p.Erased.IsZero() {
		return Invitation{}, &Fault{PersonErased}
	}
	return g.offer("device invited", invitation{Person: p.ID, Name: p.Name, Grants: p.Grants, By: by})
}

// offer keeps an invitation under a new handle. The audit names whom it is for by the id that is theirs or will be.
func (g *Gate) offer(what string, row invitation) (Invitation, error) {
	row.Expires = g.now().UTC().Add(invitationLife)
	made := Invitation{Expires: row.Expires}
	err := g.change(row.By, what, row.Person+row.New, func(w store.RowWriter) error {
		handle, err := g.freeHandle(w)
		if err != nil {
			return err
		}
		if made.Secret, err = g.under(handle, linkLength); err != nil {
			return err
		}
		if made.Code, err = g.under(handle, typedLength); err != nil {
			return err
		}
		made.Handle, row.Link, row.Typed = handle, hash(made.Secret), hash(made.Code)
		return put(w, tableInvitations, handle, row)
	})
	if err != nil {
		return Invitation{}, err
	}
	made.Code = made.Code[:5] + "-" + made.Code[5:]
	return made, nil
}

// under draws a secret and puts the handle before it.
func (g *Gate) under(handle string, length int) (string, error) {
	secret, err := g.secret(length)
	return handle + secret, err
}

// freeHandle forgets invitations long past and draws a handle that is free.
func (g *Gate) freeHandle(w store.RowWriter) (string, error) {
	taken := map[string]bool{}
	var past []string
	err := w.Each(tableInvitations, func(handle string, raw []byte) error {
		var row invitation
		if err := json.Unmarshal(raw, &row); err != nil {
			return err
		}
		taken[handle] = true
		if g.now().Sub(row.Expires) > invitationKept {
			past = append(past, handle)
		}
		return nil
	})
	for _, handle := range past {
		err = errors.Join(err, w.Drop(tableInvitations, handle))
	}
	for try := 0; err == nil && try < handleTries; try++ {
		handle, drawn := g.secret(handleLength)
		if drawn != nil || !taken[handle] {
			return handle, drawn
		}
	}
	return "", errors.Join(err, errNoHandle)
}

// Pair takes an invitation by its link's secret or its typed code and makes
// the person, unless it is for one who is here, the device and a session. Whether the code opens is settled
// inside the transaction, so that many tries at once are no more than one after
// another.
func (g *Gate) Pair(code, device string) (Visit, string, error) {
	if _, err := name(device); err != nil {
		return Visit{}, "", err
	}
	code = plain(code)
	row, err := g.pointedAt(code)
	if err != nil {
		return Visit{}, "", err
	}
	if !row.opens(code) {
		return Visit{}, "", g.wrongTry(code)
	}
	use := func(w store.RowWriter) error { return g.use(w, code, device) }
	if row.Person != "" {
		return g.another(row.Person, device, use)
	}
	return g.newcomer(row.New, row.Name, device, row.Grants, use)
}

// pointedAt finds the invitation under the handle that a code begins with.
func (g *Gate) pointedAt(code string) (invitation, error) {
	var row invitation
	if len(code) < handleLength {
		return row, &Fault{InvitationUnknown}
	}
	err := g.rows.View(func(r store.RowReader) error { return get(r, tableInvitations, code[:handleLength], &row) })
	return row, orElse(err, InvitationUnknown)
}

// opens compares in constant time.
func (i invitation) opens(code string) bool {
	given := hash(code)
	link, typed := same(given, i.Link), same(given, i.Typed)
	return link || typed
}

// use takes the invitation that a code opens for a device, or says why it may not.
func (g *Gate) use(w store.RowWriter, code, device string) error {
	var row invitation
	if err := get(w, tableInvitations, code[:handleLength], &row); err != nil {
		return orElse(err, InvitationUnknown)
	}
	switch {
	case row.Wrong >= wrongTries:
		return &Fault{InvitationBlocked}
	case !row.opens(code):
		return &Fault{InvitationUnknown}
	case row.Used:
		return &Fault{InvitationUsed}
	case g.now().After(row.Expires), row.Person == "" && len(row.Grants) == 0: // one of an earlier build says what it grants otherwise
		return &Fault{InvitationExpired}
	}
	row.Used, row.Device = true, device
	return put(w, tableInvitations, code[:handleLength], row)
}

// wrongTry counts a wrong code against the invitation it points at.
func (g *Gate) wrongTry(code string) error {
	handle := code[:handleLength]
	err := g.change("", "wrong code tried", handle, func(w store.RowWriter) error {
		var row invitation
		if err := get(w, tableInvitations, handle, &row); err != nil {
			return orElse(err, InvitationUnknown)
		}
		if row.Wrong >= wrongTries {
			return &Fault{InvitationBlocked}
		}
		row.Wrong++
		return put(w, tableInvitations, handle, row)
	})
	if err != nil {
		return err
	}
	return &Fault{InvitationUnknown}
}

// Invited tells what came of an invitation, up to a day after its end. Error: InvitationUnknown.
func (g *Gate) Invited(handle string) (Answered, error) {
	var row invitation
	err := g.rows.View(func(r store.RowReader) error { return get(r, tableInvitations, handle, &row) })
	if err != nil {
		return Answered{}, orElse(err, InvitationUnknown)
	}
	told := Answered{By: row.By, Grants: row.Grants, State: Waiting, Device: row.Device}
	switch {
	case row.Used:
		told.State = Used
	case row.Wrong >= wrongTries:
		told.State = Blocked
	case g.now().After(row.Expires):
		told.State = Expired
	}
	return told, nil
}

// Pending lists the invitations that can still be taken.
func (g *Gate) Pending() ([]Pending, error) {
	rows, err := all[invitation](g.rows, tableInvitations)
	waiting := []Pending{}
	for _, row := range rows {
		if !row.Used && row.Wrong < wrongTries && !g.now().After(row.Expires) {
			waiting = append(waiting, Pending{Name: row.Name, Grants: row.Grants, Expires: row.Expires})
		}
	}
	return waiting, err
}
