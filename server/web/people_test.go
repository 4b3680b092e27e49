package web

import (
	"strings"
	"testing"
	"time"
)

func TestPeople(t *testing.T) {
	b := newBench(t)
	people := into[[]Person](t, b.call("GET", "/api/people", "sue", ""), 200)
	if len(people) != 3 || people[1].Grants[siteA][0] != "technician" {
		t.Errorf("%+v", people)
	}
	if w := b.call("GET", "/api/invitations", "sue", ""); strings.TrimSpace(w.Body.String()) != "[]" {
		t.Errorf("an empty list is a list: %s", w.Body)
	}
}

func TestInvite(t *testing.T) {
	b := newBench(t)
	in := into[Invited](t, b.call("POST", "/api/invitations", "sue", `{"name":"Ana","grants":{"`+siteA+`":["technician"]}}`), 201)
	if in.Link != "http://localhost:8080/join#s3cret" || in.QR != "<svg>"+in.Link+"</svg>" || in.Code != "ABCD-EFGH" || !in.Expires.Equal(day.Add(10*time.Minute)) {
		t.Errorf("%+v", in)
	}
	for _, body := range []string{
		`{"name":"","grants":{"*":["technician"]}}`, `{"name":"Ana","grants":{}}`, `{"name":"Ana"}`,
	} {
		wants(t, b.call("POST", "/api/invitations", "sue", body), 422, "bad-input")
	}
}

// A supervisor of one site invites to that site only.
func TestInviteToOwnSitesOnly(t *testing.T) {
	b := newBench(t)
	b.gate.sessions["ben"] = Visit{Person: Person{ID: "p-ben", Grants: Grants{siteB: {"supervisor"}}}}
	for _, site := range []string{siteA, "*"} {
		wants(t, b.call("POST", "/api/invitations", "ben", `{"name":"Ana","grants":{"`+site+`":["technician"]}}`), 403, "wrong-site")
	}
	if w := b.call("POST", "/api/invitations", "ben", `{"name":"Ana","grants":{"`+siteB+`":["technician"]}}`); w.Code != 201 {
		t.Errorf("%d %s", w.Code, w.Body)
	}
	wants(t, b.call("PATCH", "/api/sites/"+siteA, "ben", `{"name":"Mine"}`), 403, "wrong-site")
}

func TestSites(t *testing.T) {
	b := newBench(t)
	if sites := into[[]Site](t, b.call("GET", "/api/sites", "tom", ""), 200); len(sites) != 1 || sites[0].ID != siteA {
		t.Errorf("%+v", sites)
	}
	site := into[Site](t, b.call("POST", "/api/sites", "sue", `{"name":"East plant","zone":"UTC"}`), 201)
	if site.ID == "" || site.Name != "East plant" {
		t.Errorf("%+v", site)
	}
	if site := into[Site](t, b.call("PATCH", "/api/sites/"+site.ID, "sue", `{"name":"Far east"}`), 200); site.Name != "Far east" || site.Zone != "UTC" {
		t.Errorf("%+v", site)
	}
	wants(t, b.call("PATCH", "/api/sites/none", "sue", `{"name":"x"}`), 404, "unknown-site")
	wants(t, b.call("POST", "/api/sites", "sue", `{"name":"East plant","zone":"Mars"}`), 422, "bad-zone")
	wants(t, b.call("POST", "/api/sites", "sue", `{"name":"East plant"}`), 422, "bad-input")
	wants(t, b.call("POST", "/api/sites", "sue", `{"name":"`+strings.Repeat("x", 101)+`","zone":"UTC"}`), 422, "bad-input")
}

func TestChangePerson(t *testing.T) {
	b := newBench(t)
	b.gate.sessions["ana"] = Visit{Person: Person{ID: "p-ana", Grants: Grants{siteA: {"supervisor"}}}}
	changed := into[Person](t, b.call("PATCH", "/api/people/p-tom", "ana", `{"grants":{"`+siteA+`":["technician","engineer"]}}`), 200)
	if changed.ID != "p-tom" || len(changed.Grants[siteA]) != 2 {
		t.Errorf("%+v", changed)
	}
	for _, site := range []string{siteB, "*"} { // not Ana's to give
		wants(t, b.call("PATCH", "/api/people/p-tom", "ana", `{"grants":{"`+site+`":["technician"]}}`), 403, "wrong-site")
	}
	// Somebody who works elsewhere too stays there as before: Ana speaks of her own site only.
	if changed := into[Person](t, b.call("PATCH", "/api/people/p-eva", "ana", `{"grants":{"`+siteA+`":["technician"]}}`), 200); len(changed.Grants[siteB]) != 1 || len(changed.Grants[siteA]) != 1 {
		t.Errorf("%+v", changed)
	}
	wants(t, b.call("PATCH", "/api/people/nobody", "sue", `{"grants":{"*":["technician"]}}`), 404, "unknown-person")
	wants(t, b.call("PATCH", "/api/people/p-tom", "sue", `{"grants":{}}`), 422, "bad-input")
}

// A supervisor erases the names of those who work at the supervisor's sites alone; all who are told of people see it.
func TestEraseName(t *testing.T) {
	b := newBench(t)
	b.gate.sessions["ana"] = Visit{Person: Person{ID: "p-ana", Grants: Grants{siteA: {"supervisor"}}}}
	b.gate.people = append(b.gate.people, Person{ID: "p-left", Name: "Left"})
	for _, id := range []string{"p-sue", "p-eva", "p-left"} { // who work elsewhere too, only there, or nowhere
		wants(t, b.call("POST", "/api/people/"+id+"/erase", "ana", ""), 403, "wrong-site")
	}
	if w := b.call("POST", "/api/people/p-left/erase", "sue", ""); w.Code != 204 {
		t.Errorf("by who supervises everywhere: %d %s", w.Code, w.Body)
	}
	wants(t, b.call("POST", "/api/people/nobody/erase", "ana", ""), 404, "unknown-person")
	if w := b.call("POST", "/api/people/p-tom/erase", "ana", ""); w.Code != 204 {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	for _, p := range into[Me](t, b.call("GET", "/api/me", "sue", ""), 200).People {
		if gone := p.ID == "p-tom" || p.ID == "p-left"; gone != (p.Name == "") {
			t.Errorf("%+v", p)
		}
	}
}

// Who invited somebody sees on which device it was taken, by the name that the other screen shows.
func TestWhatCameOfAnInvitation(t *testing.T) {
	b := newBench(t)
	if taking := into[Taking](t, b.call("GET", "/api/invitations/ABC", "tom", ""), 200); taking != (Taking{"used", "a phone"}) {
		t.Errorf("%+v", taking)
	}
	wants(t, b.call("GET", "/api/invitations/XYZ", "tom", ""), 404, "invitation-unknown")
	wants(t, b.call("GET", "/api/invitations/ABC", "eva", ""), 403, "not-allowed")
}
