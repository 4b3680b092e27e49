package main

import (
	"fmt"
	"io"
	"math"
	"math/rand/v2"
	"time"

	"github.com/google/uuid"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

const (
	jointsEach = 12
	leakOneIn  = 12 // looks, of which one leaks
)

// fixture is what is looked at.
type fixture struct {
	id     string
	joints []string
}

// author writes as a technician's phone does: rounds over the joints of fixtures, mostly nothing seen.
type author struct {
	person, site, installation string
	fixtures                   []fixture
	log                        *journal.Log
	bytes                      io.Reader
	chance                     *rand.Rand
	at                         time.Time
	lines                      []journal.Line
}

// newAuthor begins a log. The same seed makes the same ids.
func newAuthor(w *world, person string, seed uint64) (*author, error) {
	var key [32]byte
	for i := range 8 {
		key[i] = byte(seed >> (8 * i))
	}
	a := &author{person: person, site: w.site, installation: w.installation, fixtures: w.fixtures, bytes: rand.NewChaCha8(key),
		chance: rand.New(rand.NewPCG(seed, 1)), at: time.Date(2026, 3, 2, 6, 0, 0, 0, time.UTC)}
	id, err := a.id()
	if err != nil {
		return nil, err
	}
	a.log, err = journal.OpenLog(&journal.Memory{}, id)
	if err == nil {
		a.log.Witness(w.tick)
	}
	return a, err
}

// id is a UUIDv7 of the story's time.
func (a *author) id() (string, error) {
	u, err := uuid.NewRandomFromReader(a.bytes)
	ms := a.at.UnixMilli()
	for i := range 6 {
		u[i] = byte(ms >> (8 * (5 - i)))
	}
	u[6] = 0x70 | u[6]&0x0f
	return u.String(), err
}

// write keeps drafts of one moment.
func (a *author) write(kind record.Kind, fixture, of string, body any) error {
	id, err := a.id()
	if err != nil {
		return err
	}
	a.at = a.at.Add(time.Duration(900+a.chance.IntN(60_000)) * time.Millisecond)
	lines, err := a.log.Append([]journal.Draft{{ID: id, Time: a.at.Format(journal.TimeLayout), Zone: "Europe/Madrid", By: a.person,
		About: journal.About{Site: a.site, Fixture: fixture, Of: of}, Kind: string(kind), V: record.Version, Body: body}})
	a.lines = append(a.lines, lines...)
	return err
}

// register writes a fixture with its joints.
func (a *author) register(n int) (fixture, error) {
	tag, err := record.MintTag(a.bytes)
	if err != nil {
		return fixture{}, err
	}
	f := fixture{id: record.FixtureID(a.installation, tag)}
	err = a.write(record.FixtureRegistered, f.id, f.id, record.RegisteredBody{Name: fmt.Sprintf("Station %d", n), Place: "Hall 2", Tag: tag})
	for j := 0; j < jointsEach && err == nil; j++ {
		var joint string
		if joint, err = a.id(); err != nil {
			break
		}
		f.joints = append(f.joints, joint)
		err = a.write(record.JointAdded, f.id, joint, record.Joint{Name: fmt.Sprintf("Fitting %d", j+1), Kind: "push-to-connect", Circuit: "test",
			Tube: &record.Amount{Value: 6, Unit: "mm"}, Order: float64(j)})
	}
	return f, err
}

// round writes one pass over a fixture.
func (a *author) round(f fixture) error {
	round, err := a.id()
	if err != nil {
		return err
	}
	err = a.write(record.RoundStarted, f.id, round, record.RoundStart{Conditions: record.Conditions{Gas: "air", Pressure: record.Amount{Value: 500, Unit: "kPa"},
		Ambient: record.Amount{Value: 21.5, Unit: "degC"}, Solution: "film", Wetted: "after", Setup: "master part in, clamp closed"}})
	for j := 0; j < len(f.joints) && err == nil; j++ {
		err = a.look(f, f.joints[j], round)
	}
	if err != nil {
		return err
	}
	return a.write(record.RoundEnded, f.id, round, record.RoundEnd{PutBack: []string{"settings", "blanks", "guard"}})
}

func (a *author) look(f fixture, joint, round string) error {
	look := record.Look{Round: round, Joint: joint, Result: record.None, Seconds: float64(20 + a.chance.IntN(100)), Stayed: true, Back: a.chance.IntN(3) > 0}
	leaks := a.chance.IntN(leakOneIn) == 0
	if leaks {
		count, seconds := 3+a.chance.IntN(30), float64(5+a.chance.IntN(30))
		look.Result, look.Wiped = record.Leaks, "came-back"
		look.Observation = &record.Observation{Medium: "film", How: "window", Count: count, Seconds: seconds,
			Size: record.Size{As: "tube", Share: 0.5, Tube: &record.Amount{Value: 6, Unit: "mm"}}}
		median := float64(count) / seconds * 5.9e-7
		look.Shown = &record.Shown{Median: rounded(median), Low: rounded(median / 3.1), High: rounded(median * 2.9)}
	}
	id, err := a.id()
	if err != nil {
		return err
	}
	if err := a.write(record.LookMade, f.id, id, look); err != nil || !leaks {
		return err
	}
	return a.write(record.FindingMended, f.id, id, record.Mend{When: "on-spot", Vented: true, Cause: "loose", Action: "tightened"})
}

// rounded is to four digits, as it stands on the screen.
func rounded(x float64) float64 {
	scale := math.Pow(10, 3-math.Floor(math.Log10(x)))
	return math.Round(x*scale) / scale
}

// some writes rounds until there are so many lines more, and gives those.
func (a *author) some(n int) ([]journal.Line, error) {
	for len(a.lines) < n {
		if err := a.round(a.fixtures[a.chance.IntN(len(a.fixtures))]); err != nil {
			return nil, err
		}
	}
	lines := a.lines[:n]
	a.lines = a.lines[n:]
	return lines, nil
}
