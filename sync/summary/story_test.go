package summary

import (
	"encoding/json"
	"fmt"
	"testing"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// The worked station of the tests: an invented fixture with figures worked by
// hand (air, +200 kPa, 23 °C, 200 cm³, limit 2.00 std cm³/min at 0 °C,
// allowance 10 %). Its values are derived, not published: a consistency check.
type story struct {
	t       *testing.T
	book    *record.Book
	tick    uint64
	program string
	by, log string
	seq     uint64
	events  []journal.Event
}

const (
	siteID    = "site-a"
	fixtureID = "fixture-a"
	tagCode   = "4K7Q2M9XTC"
)

func newStory(t *testing.T) *story {
	s := &story{t: t, book: record.NewBook(), by: "person-a", log: "log-a"}
	s.write(record.FixtureRegistered, "", record.RegisteredBody{Name: "Worked station", Tag: tagCode + string(record.CheckCharacter(tagCode))})
	s.program = s.write(record.ProgramSet, "", workedProgram())
	for i, name := range []string{"Port nut", "Upper seal", "Rear clamp"} {
		circuit := []string{"test", "test", "clamp"}[i]
		s.write(record.JointAdded, fmt.Sprintf("j%d", i+1), record.Joint{Name: name, Kind: "compression", Circuit: circuit, Tube: mm(6), Order: float64(i)})
	}
	return s
}

func workedProgram() record.Program {
	return record.Program{
		Gas: "air", Pressure: record.Amount{Value: 200, Unit: "kPa"}, Volume: record.Amount{Value: 200, Unit: "cm3"},
		Fill: 5, Stabilise: 10, Test: 10, LimitRate: &record.Rate{Value: 2, Unit: "std cm3/min", Ref: "0C"},
		ShowUnit: "std cm3/min", ShowRef: "0C", Allowance: 0.1,
	}
}

func worked() record.Conditions {
	return record.Conditions{Gas: "air", Pressure: record.Amount{Value: 200, Unit: "kPa"}, Ambient: record.Amount{Value: 23, Unit: "degC"}, Solution: "film", Wetted: "after"}
}

func mm(value float64) *record.Amount { return &record.Amount{Value: value, Unit: "mm"} }

// joint7 is joint 7 of the worked station: 12 intervals in 20.0 s, 3.0 mm.
func joint7() *record.Observation {
	return &record.Observation{Medium: "film", How: "ten", Count: 12, Seconds: 20, Size: record.Size{As: "diameter", Diameter: mm(3)}}
}

func (s *story) write(kind record.Kind, of string, body any) string {
	return s.writeBase(kind, of, "", body)
}

func (s *story) writeBase(kind record.Kind, of, base string, body any) string {
	s.t.Helper()
	raw, err := json.Marshal(body)
	if err != nil {
		s.t.Fatal(err)
	}
	about := journal.About{Site: siteID, Fixture: fixtureID, Of: of}
	if err := record.Check(string(kind), raw, about, base, s.book); err != nil {
		s.t.Fatalf("%s: %v", kind, err)
	}
	s.tick++
	s.seq++
	id := fmt.Sprintf("event-%d", s.tick)
	s.events = append(s.events, journal.Event{
		V: 1, ID: id, Log: s.log, Seq: s.seq, Tick: s.tick, By: s.by, Kind: string(kind), Base: base, Body: raw,
		Time: fmt.Sprintf("2026-03-01T10:%02d:00.000Z", s.tick), About: about,
	})
	s.book.Add(s.events[len(s.events)-1])
	return id
}

func (s *story) round(id string, c record.Conditions) {
	s.write(record.RoundStarted, id, record.RoundStart{Program: s.program, Conditions: c})
}

func (s *story) look(of, joint string, look record.Look) string {
	look.Round, look.Joint, look.Stayed = "r1", joint, true
	look.Back = look.Result != record.Partly
	return s.write(record.LookMade, of, look)
}

func (s *story) desk() *Desk {
	return NewDesk(s.book, Names{Sites: []SiteName{{siteID, "Plant"}}, People: map[string]string{"person-a": "Somebody"}})
}

// must is the answer without its error.
func must[A any](t *testing.T) func(A, error) A {
	return func(answer A, err error) A {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return answer
	}
}

// leaking is the worked station with joint 7's leak seen in round r1.
func leaking(t *testing.T) *story {
	s := newStory(t)
	s.round("r1", worked())
	s.look("l1", "j1", record.Look{Result: record.Leaks, Seconds: 20, Observation: joint7()})
	return s
}
