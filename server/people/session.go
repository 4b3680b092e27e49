package people

import (
	"errors"
	"time"

	"jointwalk/server/store"
)

// sessionLife is how long a session holds. Capture on a phone goes on after it;
// only sending waits for a new one.
const sessionLife = 400 * 24 * time.Hour

// session is a row under the hash of its token.
type session struct {
	Person string    `json:"person"`
	Device string    `json:"device"`
	Made   time.Time `json:"made"`
}

// enter keeps a device and its session.
func enter(w store.RowWriter, v Visit, token string) error {
	if err := put(w, tableDevices, v.Device.ID, v.Device); err != nil {
		return err
	}
	return put(w, tableSessions, hash(token), session{Person: v.Person.ID, Device: v.Device.ID, Made: v.Device.Made})
}

// Session gives the visit of a token, or refuses with NoSession. One of a revoked device is still known.
func (g *Gate) Session(token string) (Visit, error) {
	var v Visit
	err := g.rows.View(func(r store.RowReader) error {
		var s session
		if err := get(r, tableSessions, hash(token), &s); err != nil {
			return orElse(err, NoSession)
		}
		if g.now().Sub(s.Made) > sessionLife {
			return &Fault{NoSession}
		}
		if err := get(r, tableDevices, s.Device, &v.Device); err != nil {
			return err
		}
		v.Revoked = !v.Device.Revoked.IsZero()
		return get(r, tablePeople, s.Person, &v.Person)
	})
	if err != nil {
		return Visit{}, err
	}
	return v, nil
}

// Leave ends a session. One that is not there is no error.
func (g *Gate) Leave(token string) error {
	v, err := g.Session(token)
	if err == nil {
		err = g.change(v.Person.ID, "session ended", v.Device.ID, func(w store.RowWriter) error {
			return orElse(w.Drop(tableSessions, hash(token)), NoSession)
		})
	}
	var fault *Fault
	if errors.As(err, &fault) && fault.Code == NoSession {
		return nil
	}
	return err
}
