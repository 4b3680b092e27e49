package example

import (
	"math/rand"
	"testing"
	"time"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

func scene() Scene {
	return Scene{
		Installation: "0197a1b0-0000-7000-8000-000000000001", Site: "site-a", Technician: "person-t", Engineer: "person-e",
		Now: time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC), Random: rand.New(rand.NewSource(1)),
	}
}

func book(t *testing.T) *record.Book {
	t.Helper()
	lines, err := Lines(scene())
	if err != nil {
		t.Fatal(err)
	}
	b := record.NewBook()
	for i, line := range lines {
		e, err := journal.Parse(line)
		if err != nil {
			t.Fatalf("line %d: %v", i, err)
		}
		if err := record.Check(e.Kind, e.Body, e.About, e.Base, b); err != nil {
			t.Fatalf("line %d, %s: %v", i, e.Kind, err)
		}
		b.Add(e)
	}
	return b
}

// Every line parses, every body is one that a person could have written at
// that moment, and the year is as long and as wide as promised.
func TestTheYearHoldsTogether(t *testing.T) {
	fixtures := book(t).Fixtures()
	if len(fixtures) != 3 {
		t.Fatalf("%d fixtures, want 3", len(fixtures))
	}
	for _, f := range fixtures {
		if n := len(f.Joints); n < 8 || n > 20 {
			t.Errorf("%s has %d joints, want 8 to 20", f.Name, n)
		}
		if len(f.Rounds) != months {
			t.Errorf("%s has %d rounds, want %d", f.Name, len(f.Rounds), months)
		}
		if f.OpenRound() != nil {
			t.Errorf("%s has an open round", f.Name)
		}
		first, _ := time.Parse(journal.TimeLayout, f.Rounds[0].Started.Time)
		if age := scene().Now.Sub(first); age < 350*24*time.Hour {
			t.Errorf("%s: first round %v ago, want a year", f.Name, age)
		}
	}
}

// The screens have something to show: a leak with its figure and its share, a
// repair that waits, a joint that was not reached.
func TestTheScreensHaveSomethingToShow(t *testing.T) {
	b := book(t)
	d := summary.NewDesk(b, summary.Names{Sites: []summary.SiteName{{ID: "site-a", Name: SiteName}}})
	home, err := d.Home(summary.HomeQuestion{})
	if err != nil {
		t.Fatal(err)
	}
	codes := map[string]bool{}
	for _, f := range home.Sites[0].Fixtures {
		for _, p := range f.Says {
			codes[p.Code] = true
		}
	}
	for _, want := range []string{summary.SayLeaksShare, summary.SayWaiting, summary.SayNotReached} {
		if !codes[want] {
			t.Errorf("no fixture says %s: %v", want, codes)
		}
	}
	findings, err := d.Findings(summary.FindingsQuestion{})
	if err != nil || len(findings.Findings) < 8 {
		t.Fatalf("%d findings, %v", len(findings.Findings), err)
	}
	for _, f := range findings.Findings {
		if f.Mark != summary.Burst && f.Figure == nil && f.State == "open" {
			t.Errorf("%s has no figure: %s", f.JointName, f.CannotSay)
		}
		whole, err := d.Finding(summary.FindingQuestion{ID: f.ID})
		if err != nil || !whole.Agrees || (whole.Shown == nil) != (f.Mark == summary.Burst || whole.Observation == nil) {
			t.Errorf("%s: shown %+v, agrees %v, %v", f.JointName, whole.Shown, whole.Agrees, err)
		}
	}
}

func TestNoRandomnessIsAnError(t *testing.T) {
	s := scene()
	s.Random = emptyReader{}
	if _, err := Lines(s); err == nil {
		t.Error("no randomness must be an error")
	}
}

type emptyReader struct{}

func (emptyReader) Read([]byte) (int, error) { return 0, errEmpty }

var errEmpty = &record.Fault{Code: "no-randomness"}
