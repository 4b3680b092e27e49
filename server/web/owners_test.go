package web

import (
	"fmt"
	"testing"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// back takes an event back.
func (p *phone) back(by, event string) string {
	p.t.Helper()
	p.n++
	lines, err := p.log.Append([]journal.Draft{{ID: idOf(p.n), Time: "2026-03-01T08:00:00.000Z", Zone: "UTC", By: by, Base: event,
		About: journal.About{Site: siteA, Fixture: fixtureID, Of: findingID}, Kind: string(record.Withdrawn), Body: record.Reason{Why: "wrong"}}})
	if err != nil {
		p.t.Fatal(err)
	}
	return string(lines[0]) + "\n"
}

func idOf(n int) string { return fmt.Sprintf("018f0000-0000-7000-8000-%012d", n) }

// The entries of a plant, by the order in which they were written.
const (
	jointEntry = 2 // Sue's
	lookEntry  = 4 // Tom's
)

// TestOnlyOnesOwnIsCorrected: who wrote an entry corrects it and takes it back, and a supervisor of its site does.
func TestOnlyOnesOwnIsCorrected(t *testing.T) {
	amend := func(p *phone, by string) string {
		return p.of(findingID, by, siteA, record.LookAmended, map[string]any{"note": "seen from behind"})
	}
	takes := func(n int) func(*phone, string) string {
		return func(p *phone, by string) string { return p.back(by, idOf(n)) }
	}
	for what, write := range map[string]func(*phone, string) string{"corrects Tom's look": amend, "takes Tom's look back": takes(lookEntry), "takes Sue's joint back": takes(jointEntry)} {
		for by, own := range map[string]bool{"p-tom": what != "takes Sue's joint back", "p-mia": false, "p-ana": true, "p-sue": true, "p-all": true} {
			p, other := newPlant(t), newPhone(t)
			other.n = 100
			p.gate.writers[other.log.ID()] = "d-" + by
			want := ""
			if !own {
				want = codeNotYours
			}
			if v := into[exchange.Answer](t, p.call("POST", exchange.PathPush, "sue", write(other, by)), 200).Answers[0]; v.Code != want {
				t.Errorf("%s %s: %+v, want %q", by, what, v, want)
			}
		}
	}
}

// What is undone before it was sent comes in one push, and an engineer undoes a review of their own.
func TestUndoneBeforeItWasSent(t *testing.T) {
	for by, write := range map[string]func(*phone) string{
		"p-mia": func(p *phone) string {
			return p.of(findingID[:35]+"9", "p-mia", siteA, record.LookMade, record.Look{Round: roundID, Joint: jointID, Result: record.None, Seconds: 60, Stayed: true, Back: true})
		},
		"p-eli": func(p *phone) string {
			return p.of(findingID, "p-eli", siteA, record.FindingReviewed, record.Review{Verdict: "accept"})
		},
	} {
		p, other := newPlant(t), newPhone(t)
		other.n = 100
		p.gate.writers[other.log.ID()] = "d-" + by
		lines := write(other)
		lines += other.back(by, idOf(101))
		for _, v := range into[exchange.Answer](t, p.call("POST", exchange.PathPush, "sue", lines), 200).Answers {
			if v.Is != exchange.Applied {
				t.Errorf("%s: %+v", by, v)
			}
		}
	}
}

// The photo of a fixture shows whether a tag is on the right one: it is for supervisors, pictures of findings are for all.
func TestPhotosOfFixturesAreForSupervisors(t *testing.T) {
	for by, want := range map[string]string{"p-tom": "not-allowed", "p-eli": "not-allowed", "p-mia": "not-allowed", "p-ana": "", "p-sue": ""} {
		for of, code := range map[string]string{fixtureID: want, findingID: ""} {
			p, other := newPlant(t), newPhone(t)
			other.n = 100
			p.gate.writers[other.log.ID()] = "d-" + by
			line := other.of(of, by, siteA, record.PictureAdded, record.Picture{Hash: hashed(png), Bytes: len(png), Type: "image/png", Width: 4, Height: 3})
			if v := into[exchange.Answer](t, p.call("POST", exchange.PathPush, "sue", line), 200).Answers[0]; v.Code != code {
				t.Errorf("%s of %s: %+v", by, of, v)
			}
		}
	}
}
