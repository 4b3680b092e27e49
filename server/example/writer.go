package example

import (
	"encoding/binary"
	"io"
	"time"

	"github.com/google/uuid"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

// writer appends events to a log in memory. The first failure stays.
type writer struct {
	scene Scene
	log   *journal.Log
	lines []journal.Line
	book  *record.Book // what stands so far, as a phone would hold it
	at    time.Time
	by    string
	about journal.About
	err   error
}

func newWriter(s Scene) (*writer, error) {
	w := &writer{scene: s, book: record.NewBook(), by: s.Technician, at: s.Now.AddDate(-1, 0, -7)}
	id := w.id()
	if w.err != nil {
		return nil, w.err
	}
	log, err := journal.OpenLog(&journal.Memory{}, id)
	w.log = log
	return w, err
}

func (w *writer) fail(err error) {
	if w.err == nil {
		w.err = err
	}
}

// id is a UUIDv7 of the story's time (RFC 9562, 5.7).
func (w *writer) id() string {
	var u uuid.UUID
	if _, err := io.ReadFull(w.scene.Random, u[:]); err != nil {
		w.fail(err)
	}
	var ms [8]byte
	binary.BigEndian.PutUint64(ms[:], uint64(w.at.UnixMilli()))
	copy(u[:6], ms[2:])
	u[6] = 0x70 | u[6]&0x0f
	u[8] = 0x80 | u[8]&0x3f
	return u.String()
}

// write appends one event and returns its id.
func (w *writer) write(kind record.Kind, of, base string, body any) string {
	if w.err != nil {
		return ""
	}
	about := w.about
	about.Of = of
	id := w.id()
	lines, err := w.log.Append([]journal.Draft{{
		ID: id, Time: w.at.UTC().Format(journal.TimeLayout), Zone: "UTC", By: w.by,
		About: about, Kind: string(kind), V: record.Version, Base: base, Body: body,
	}})
	if err != nil {
		w.fail(err)
		return ""
	}
	w.lines = append(w.lines, lines...)
	for _, line := range lines {
		event, err := journal.Parse(line)
		if err != nil {
			w.fail(err)
		}
		w.book.Add(event)
	}
	return id
}

// shown is what would have stood on the phone's screen for an observation.
func (w *writer) shown(round, joint string, o *record.Observation) *record.Shown {
	desk := summary.Desk{Book: w.book, Names: summary.Names{Sites: []summary.SiteName{{ID: w.scene.Site}}}}
	answer, err := desk.Estimate(summary.EstimateQuestion{Round: round, Joint: joint, Observation: *o})
	if err != nil {
		w.fail(err)
	}
	return answer.Shown
}
