// Package example invents a site to try the app with: a plant that makes
// irrigation valves and camp-stove regulators, three fixtures, and a year of
// rounds behind them. Everything in it is made up, numbers too; it is for the
// demo alone.
package example

import (
	"io"
	"time"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// SiteName and SitePlace are the invented site.
const (
	SiteName  = "Example plant"
	SitePlace = "Valve and regulator hall"
)

// Technician and Engineer name the invented people.
const (
	Technician = "Example technician"
	Engineer   = "Example engineer"
)

// Scene is what the story needs from outside: ids of the installation, the
// site and the two people, the time at which the year ends, and randomness for
// ids and tags.
type Scene struct {
	Installation string
	Site         string
	Technician   string
	Engineer     string
	Now          time.Time
	Random       io.Reader
}

// Lines writes the story as one log, oldest event first.
func Lines(s Scene) ([]journal.Line, error) {
	w, err := newWriter(s)
	if err != nil {
		return nil, err
	}
	for i, f := range fixtures {
		w.fixture(f, i)
	}
	return w.lines, w.err
}

// fixture writes a fixture and its year.
func (w *writer) fixture(f fixture, index int) {
	tag, err := record.MintTag(w.scene.Random)
	if err != nil {
		w.fail(err)
		return
	}
	w.at = w.scene.Now.AddDate(-1, 0, -7).Add(time.Duration(index) * time.Hour)
	w.about = journal.About{Site: w.scene.Site, Fixture: record.FixtureID(w.scene.Installation, tag)}
	w.write(record.FixtureRegistered, "", "", record.RegisteredBody{Name: f.name, Place: f.place, Tag: tag})
	program := w.write(record.ProgramSet, "", "", f.program)
	joints := make([]string, len(f.joints))
	for i, j := range f.joints {
		j.Order = float64(i + 1)
		joints[i] = w.id()
		w.write(record.JointAdded, joints[i], "", j)
	}
	for month := range months {
		w.at = w.scene.Now.AddDate(0, month-months, index).Add(-3 * time.Hour)
		w.round(f, program, joints, month)
	}
}

// months is how many rounds a fixture has behind it.
const months = 12

// round writes one round: a look at every joint, and what happened in it.
func (w *writer) round(f fixture, program string, joints []string, month int) {
	round := w.id()
	w.write(record.RoundStarted, round, "", record.RoundStart{Program: program, Conditions: f.conditions})
	for i, joint := range joints {
		w.at = w.at.Add(20 * time.Second)
		event, found := f.incidents[at{month, i}]
		if !found {
			w.write(record.LookMade, w.id(), "", quiet(round, joint))
			continue
		}
		w.incident(event, round, joint)
	}
	w.at = w.at.Add(2 * time.Minute)
	w.write(record.RoundEnded, round, "", record.RoundEnd{PutBack: record.PutBacks})
}

func quiet(round, joint string) record.Look {
	return record.Look{Round: round, Joint: joint, Result: record.None, Seconds: 60, Stayed: true, Back: true}
}

// incident writes a look that is not quiet, with its repair and its review.
func (w *writer) incident(in incident, round, joint string) {
	look := in.look
	look.Round, look.Joint, look.Stayed, look.Back = round, joint, true, look.Result != record.Partly
	if look.Observation != nil {
		look.Shown = w.shown(round, joint, look.Observation)
	}
	id := w.id()
	w.write(record.LookMade, id, "", look)
	if in.mend != nil {
		w.at = w.at.Add(4 * time.Minute)
		w.write(record.FindingMended, id, "", *in.mend)
	}
	if in.mend != nil && in.mend.When == "on-spot" {
		w.at = w.at.Add(2 * time.Minute)
		second := quiet(round, joint)
		second.Second = id
		w.write(record.LookMade, w.id(), "", second)
	}
	if in.review != nil {
		w.by = w.scene.Engineer
		w.at = w.at.Add(time.Minute)
		w.write(record.FindingReviewed, id, "", *in.review)
		w.by = w.scene.Technician
	}
}
