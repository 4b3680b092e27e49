package web

import (
	"strings"
	"testing"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// at writes an event about any fixture.
func (p *phone) at(fixture, by, site string, kind record.Kind, body any) string {
	p.t.Helper()
	p.n++
	lines, err := p.log.Append([]journal.Draft{{ID: idOf(p.n), Time: "2026-03-01T08:00:00.000Z", Zone: "UTC", By: by,
		About: journal.About{Site: site, Fixture: fixture, Of: fixture}, Kind: string(kind), Body: body}})
	if err != nil {
		p.t.Fatal(err)
	}
	return string(lines[0]) + "\n"
}

// TestWhoRecordsRegistersABlankTag: a technician registers a blank tag with its joints and its program, in one push; under no other id
// than the tag's, nothing that is known at another site, and no program in the place of a supervisor's.
func TestWhoRecordsRegistersABlankTag(t *testing.T) {
	blank := "7K3MQ9XWTA" + string(record.CheckCharacter("7K3MQ9XWTA"))
	id := record.FixtureID(installation, blank)
	tagged := record.RegisteredBody{Name: "Rig 4", Tag: blank}
	joint, program := written[record.JointAdded], written[record.ProgramSet]
	type step struct {
		by, site, fixture string
		kind              record.Kind
		body              any
		want              string
	}
	for name, steps := range map[string][]step{
		"with all that is its, and once more": {
			{"p-tom", siteA, id, record.FixtureRegistered, tagged, ""}, {"p-tom", siteA, id, record.JointAdded, joint, ""}, {"p-tom", siteA, id, record.ProgramSet, program, ""},
			{"p-tom", siteA, id, record.ProgramSet, program, ""}, {"p-tom", siteA, id, record.FixtureRegistered, tagged, ""},
		},
		"of another id": {{"p-tom", siteA, id[:35] + "0", record.FixtureRegistered, tagged, "not-allowed"}, {"p-ana", siteA, id[:35] + "0", record.FixtureRegistered, tagged, ""}},
		"that is known at another site": {
			{"p-ben", siteB, id, record.FixtureRegistered, tagged, ""}, {"p-tom", siteA, id, record.FixtureRegistered, tagged, "not-allowed"},
			{"p-tom", siteA, id, record.JointAdded, joint, "not-allowed"}, {"p-ana", siteA, id, record.FixtureRegistered, tagged, ""},
		},
		"whose program a supervisor set": {
			{"p-tom", siteA, id, record.FixtureRegistered, tagged, ""}, {"p-ana", siteA, id, record.ProgramSet, program, ""}, {"p-tom", siteA, id, record.ProgramSet, program, "not-allowed"},
			{"p-tom", siteA, id, record.JointAdded, joint, ""}, {"p-mia", siteA, id, record.JointAdded, joint, ""}, {"p-eli", siteA, id, record.JointAdded, joint, "not-allowed"},
			{"p-tom", siteA, id, record.FixtureEdited, written[record.FixtureEdited], "not-allowed"}, {"p-tom", siteA, id, record.JointEdited, written[record.JointEdited], "not-allowed"},
		},
	} {
		p, phone := newPlant(t), newPhone(t)
		phone.n = 100
		for i, s := range steps {
			p.gate.writers[phone.log.ID()] = "d-" + s.by
			if v := into[exchange.Answer](t, p.call("POST", exchange.PathPush, "sue", phone.at(s.fixture, s.by, s.site, s.kind, s.body)), 200).Answers[0]; v.Code != s.want {
				t.Errorf("%s, step %d: %s of %s: %q, want %q", name, i, s.kind, s.by, v.Code, s.want)
			}
		}
	}
}

// TestBlankLabels: as many codes as were asked for, each good and unlike the others; no sheet without end.
func TestBlankLabels(t *testing.T) {
	p := newPlant(t)
	w := p.call("GET", "/api/tags/blank.pdf?n=36&size=50x30", "sue", "")
	words := strings.Fields(w.Body.String())
	if w.Code != 200 || w.Header().Get("Content-Type") != "application/pdf" || len(words) != 2+36 || words[0] != "50x30" {
		t.Fatalf("%d %v", w.Code, words)
	}
	seen := map[string]bool{}
	for _, code := range words[2:] {
		if got, problem := record.ParseTag(code); got != code || problem != "" || seen[code] {
			t.Errorf("%s: %s, again %v", code, problem, seen[code])
		}
		seen[code] = true
	}
	for _, n := range []string{"0", "-1", "217", "1e3", ""} {
		wants(t, p.call("GET", "/api/tags/blank.pdf?n="+n, "sue", ""), 422, "bad-request")
	}
	wants(t, p.call("GET", "/api/tags/blank.pdf?n=1", "tom", ""), 403, "not-allowed")
}
