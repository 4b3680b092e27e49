package people

import (
	"errors"
	"time"

	"jointwalk/server/store"
)

const day = 24 * time.Hour

// limit is how long a session holds: since the device was here last, and in all. Capture on a phone goes on after it; only
// sending waits for a new one.
type limit struct{ idle, all time.Duration }

// limits are those of each duty: the more somebody may change, the shorter. A phone may lie in a drawer for half a year.
// Judgement, no source.
var limits = map[string]limit{
	Technician: {180 * day, 400 * day},
	Engineer:   {120 * day, 400 * day},
	Supervisor: {60 * day, 200 * day},
}

// limitOf is the shortest of a person's duties.
func limitOf(duties []string) limit {
	l := limits[Technician]
	for _, duty := range duties {
		if own, known := limits[duty]; known {
			l = limit{min(l.idle, own.idle), min(l.all, own.all)}
		}
	}
	return l
}

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
		if err := get(r, tableDevices, s.Device, &v.Device); err != nil {
			return err
		}
		v.Revoked = !v.Device.Revoked.IsZero()
		if err := get(r, tablePeople, s.Person, &v.Person); err != nil {
			return err
		}
		v.Revoked = v.Revoked || !v.Person.Erased.IsZero()
		crew, err := crewOf(r, v.Device)
		if err != nil {
			return err
		}
		if err := g.holds(r, s, v.Person.Grants.Duties()); err != nil {
			return err
		}
		v = v.shared(crew)
		return nil
	})
	if err != nil {
		return Visit{}, err
	}
	return v, nil
}

// holds refuses with NoSession when a session is past its limits.
func (g *Gate) holds(r store.RowReader, s session, duties []string) error {
	var p phone
	if err := get(r, tablePhones, s.Device, &p); err != nil && !errors.Is(err, store.ErrNoRow) {
		return err
	}
	last := s.Made
	if seen, err := time.Parse(dayLayout, p.Seen); err == nil && seen.Add(day).After(last) {
		last = seen.Add(day) // the end of the day
	}
	if l, now := limitOf(duties), g.now(); now.Sub(s.Made) > l.all || now.Sub(last) > l.idle {
		return &Fault{NoSession}
	}
	return nil
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
