package engine

import (
	"strconv"
	"testing"

	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

// year is a phone with a site as a year leaves it: fixtures × rounds × joints looks.
func year(b *testing.B, fixtures, rounds, joints int) (p *phone, fixture string) {
	b.Helper()
	p = newPhone(b, 1)
	p.belong("ann", plant)
	for range fixtures {
		fixture = p.write(draft(record.FixtureRegistered, plant, "", record.RegisteredBody{Name: "Bench"}))[0].Fixture
		var ids []string
		for j := range joints {
			ids = append(ids, p.write(draft(record.JointAdded, plant, fixture,
				record.Joint{Name: strconv.Itoa(j), Kind: "compression", Circuit: "test", Order: float64(j)}))[0].Of)
		}
		for range rounds {
			round := p.write(draft(record.RoundStarted, plant, fixture, record.RoundStart{Conditions: conditions}))[0].Of
			var looks []Draft
			for _, joint := range ids {
				looks = append(looks, tight(plant, fixture, joint, round))
			}
			p.write(looks...)
		}
	}
	return p, fixture
}

// BenchmarkStart is a cold start over 10,000 events.
func BenchmarkStart(b *testing.B) {
	p, _ := year(b, 20, 30, 16)
	b.ReportMetric(float64(p.Standing().Unsent), "events")
	for b.Loop() {
		p.start()
	}
}

// BenchmarkWrite is one save: kept, folded, answered.
func BenchmarkWrite(b *testing.B) {
	p, fixture := year(b, 1, 10, 16)
	var f summary.Fixture
	p.ask("fixture", summary.FixtureQuestion{ID: fixture}, &f)
	for b.Loop() {
		p.write(tight(plant, fixture, f.Joints[0].ID, f.Rounds[0].ID))
	}
}

// BenchmarkAsk is each question of a screen, over 10,000 events.
func BenchmarkAsk(b *testing.B) {
	p, fixture := year(b, 20, 30, 16)
	var f summary.Fixture
	p.ask("fixture", summary.FixtureQuestion{ID: fixture}, &f)
	for question, args := range map[string]any{
		"home": summary.HomeQuestion{}, "fixture": summary.FixtureQuestion{ID: fixture},
		"round": summary.RoundQuestion{ID: f.Rounds[0].ID}, "findings": summary.FindingsQuestion{},
	} {
		b.Run(question, func(b *testing.B) {
			for b.Loop() {
				p.ask(question, args, nil)
			}
		})
	}
}
