package record

import (
	"encoding/json"
	"fmt"
	"slices"
	"testing"

	"jointwalk/sync/journal"
)

// story writes events of one fixture for the tests, with ticks in the order
// of writing.
type story struct {
	t      *testing.T
	events []journal.Event
	tick   uint64
	log    string
	seq    uint64
	by     string
	prefix string // of event ids
}

const fixtureID = "00000000-0000-5000-8000-00000000000f"

func newStory(t *testing.T) *story {
	s := &story{t: t, log: "log-a", by: "person-a", prefix: "a"}
	s.write(FixtureRegistered, "", RegisteredBody{Name: "Valve body rig", Place: "Hall 2", Tag: "4K7Q2M9XTC" + string(CheckCharacter("4K7Q2M9XTC"))})
	s.write(JointAdded, "j1", Joint{Name: "Port nut", Kind: "compression", Circuit: "test", Order: 1})
	s.write(JointAdded, "j2", Joint{Name: "Rear clamp", Kind: "rod-seal", Circuit: "clamp", Order: 2})
	s.round("r1")
	return s
}

// write adds an event and returns its id.
func (s *story) write(kind Kind, of string, body any) string {
	return s.writeBase(kind, of, "", body)
}

func (s *story) writeBase(kind Kind, of, base string, body any) string {
	s.t.Helper()
	raw, err := json.Marshal(body)
	if err != nil {
		s.t.Fatal(err)
	}
	if err := CheckBody(string(kind), Version, raw); err != nil {
		s.t.Fatalf("%s: %v", kind, err)
	}
	s.tick++
	s.seq++
	id := fmt.Sprintf("%s%d", s.prefix, s.tick)
	s.events = append(s.events, journal.Event{
		V: Version, ID: id, Log: s.log, Seq: s.seq, Tick: s.tick, By: s.by,
		Time:  fmt.Sprintf("2026-03-01T10:%02d:00.000Z", s.tick),
		About: journal.About{Site: "site-a", Fixture: fixtureID, Of: of}, Kind: string(kind), Base: base, Body: raw,
	})
	return id
}

// elsewhere goes on in another log from what was written so far.
func (s *story) elsewhere(log, by string) *story {
	return &story{t: s.t, events: slices.Clone(s.events), tick: s.tick, log: log, by: by, prefix: log[len("log-"):]}
}

func (s *story) round(id string) {
	s.write(RoundStarted, id, RoundStart{Conditions: Conditions{
		Gas: "air", Pressure: Amount{200, "kPa"}, Ambient: Amount{23, "degC"}, Solution: "film", Wetted: "after",
	}})
}

func (s *story) look(of, round, joint string, result Result) string {
	look := Look{Round: round, Joint: joint, Result: result, Seconds: 30, Stayed: true, Back: true}
	if result == NotReached {
		look.Why = "hidden"
	}
	if result == Leaks {
		look.Observation = train(12)
	}
	return s.write(LookMade, of, look)
}

func train(count int) *Observation {
	return &Observation{Medium: "film", How: "ten", Count: count, Seconds: 20, Size: Size{As: "diameter", Diameter: &Amount{3, "mm"}}}
}

func (s *story) second(of, finding, round string, result Result) string {
	return s.write(LookMade, of, Look{Round: round, Joint: "j1", Result: result, Seconds: 60, Stayed: true, Back: true, Second: finding})
}

func (s *story) mend(finding, when string) string {
	return s.write(FindingMended, finding, Mend{When: when, Vented: true, Cause: "loose", Action: "tightened"})
}

// fixture folds the events as written.
func (s *story) fixture() *FixtureState {
	s.t.Helper()
	b := NewBook()
	for _, e := range s.events {
		b.Add(e)
	}
	f := b.Fixture(fixtureID)
	if f == nil {
		s.t.Fatal("no fixture")
	}
	return f
}
