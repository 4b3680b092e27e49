package web

import (
	"fmt"
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"

	"jointwalk/sync/exchange"
	"jointwalk/sync/record"
)

const (
	jointID   = "018f0000-0000-7000-8000-0000000000e1"
	roundID   = "018f0000-0000-7000-8000-0000000000d1"
	findingID = "018f0000-0000-7000-8000-0000000000b1"
)

// plant is a bench with people of each duty at site A alone, at site B alone and everywhere, one who does this here and that there, a fixture with a finding and a
// picture at site A, and one event of there set aside.
type plant struct {
	*bench
	phone *phone
}

// hands are who tries: their names say duty and site.
var hands = []Person{
	{ID: "p-tom", Name: "tom", Grants: Grants{siteA: {"technician"}}},
	{ID: "p-ana", Name: "ana", Grants: Grants{siteA: {"supervisor"}}},
	{ID: "p-eli", Name: "eli", Grants: Grants{siteA: {"engineer"}}},
	{ID: "p-ted", Name: "ted", Grants: Grants{siteB: {"technician"}}},
	{ID: "p-ben", Name: "ben", Grants: Grants{siteB: {"supervisor"}}},
	{ID: "p-eva", Name: "eva", Grants: Grants{siteB: {"engineer"}}},
	{ID: "p-sue", Name: "sue", Grants: Grants{everywhere: {"supervisor"}}},
	{ID: "p-mia", Name: "mia", Grants: Grants{siteA: {"technician"}, siteB: {"supervisor", "engineer"}}},
	{ID: "p-all", Name: "all", Grants: Grants{siteA: {"technician", "supervisor", "engineer"}, siteB: {"technician", "supervisor", "engineer"}}},
}

func newPlant(t *testing.T) *plant {
	t.Helper()
	b, p := newBench(t, func(parts *Parts) { parts.Beat = time.Hour }), newPhone(t)
	b.gate.people = slices.Clone(hands)
	for _, h := range hands {
		b.gate.sessions[h.Name] = Visit{Person: h, Device: Device{"d-" + h.ID, "phone of " + h.Name}}
	}
	start := record.RoundStart{Conditions: record.Conditions{Gas: "air", Pressure: record.Amount{Value: 500, Unit: "kPa"},
		Ambient: record.Amount{Value: 20, Unit: "degC"}, Solution: "film", Wetted: "after"}}
	lines := p.register("p-sue", siteA) +
		p.of(jointID, "p-sue", siteA, record.JointAdded, record.Joint{Name: "Fitting 9", Kind: "compression", Circuit: "test"}) +
		p.of(roundID, "p-tom", siteA, record.RoundStarted, start) +
		p.of(findingID, "p-tom", siteA, record.LookMade, record.Look{Round: roundID, Joint: jointID, Result: record.Gross, Stayed: true, Back: true}) +
		p.of(findingID, "p-tom", siteA, record.PictureAdded, record.Picture{Hash: hashed(png), Bytes: len(png), Type: "image/png", Width: 4, Height: 3}) +
		p.of(findingID, "p-tom", siteA, record.FindingReviewed, record.Review{Verdict: "accept"}) // no engineer: set aside
	answer := into[exchange.Answer](t, b.call("POST", exchange.PathPush, "tom", lines), 200)
	if len(b.events.pairs) != 5 || len(b.events.asides) != 1 {
		t.Fatalf("%+v", answer)
	}
	if w := b.call("PATCH", fmt.Sprintf("/api/pictures/%s?offset=0&size=%d", hashed(png), len(png)), "tom", png); w.Code != 200 {
		t.Fatal(w.Body)
	}
	return &plant{b, p}
}

// marks are what only those who work at site A may read.
var marks = []string{"North plant", fixtureID, findingID, "Fitting 9", "Válvula 3", hashed(png)}

// samples ask each route for something of site A, or for what is everybody's. The first word is the method.
var samples = map[string]func(p *plant) (path, body string){
	"GET /api/me":     plain("/api/me", ""),
	"POST /api/leave": plain("/api/leave", ""),
	"GET /api/sites":  plain("/api/sites", ""),

	"POST /api/mates":           plain("/api/mates", `{"code":"good"}`),
	"POST /api/mates/:id/leave": plain("/api/mates/p-mia/leave", ""),

	"POST /api/ask/home":      plain("/api/ask/home", "{}"),
	"POST /api/ask/findings":  plain("/api/ask/findings", "{}"),
	"POST /api/ask/conflicts": plain("/api/ask/conflicts", "{}"),
	"POST /api/ask/tag":       plain("/api/ask/tag", `{"text":"`+tagCode+string(record.CheckCharacter(tagCode))+`"}`),
	"POST /api/ask/fixture":   plain("/api/ask/fixture", `{"id":"`+fixtureID+`"}`),
	"POST /api/ask/round":     plain("/api/ask/round", `{"id":"`+roundID+`"}`),
	"POST /api/ask/finding":   plain("/api/ask/finding", `{"id":"`+findingID+`"}`),
	"POST /api/ask/watch":     plain("/api/ask/watch", `{"round":"`+roundID+`","joints":["`+jointID+`"],"back":true}`),
	"POST /api/ask/measure":   plain("/api/ask/measure", `{"picture":{"hash":"`+strings.Repeat("a", 64)+`","width":1600,"height":1200,"long":{"value":85.6,"unit":"mm"},"short":{"value":53.98,"unit":"mm"},"marks":[{"x":300,"y":300},{"x":1156,"y":300},{"x":1156,"y":840},{"x":300,"y":840}],"rim":[{"x":775,"y":600},{"x":825,"y":600},{"x":800,"y":575},{"x":800,"y":625}]}}`),
	"POST /api/ask/estimate":  plain("/api/ask/estimate", `{"round":"`+roundID+`","joint":"`+jointID+`","observation":{"medium":"film","how":"window","count":8,"seconds":20,"size":{"as":"diameter","diameter":{"value":3,"unit":"mm"}}}}`),
	calcRow:                   plain("/api/calc/seal-force", `{"pressure":200000,"diameter":0.04}`),

	"POST /api/meet": func(*plant) (string, string) {
		return exchange.PathMeet, `{"speaks":` + fmt.Sprint(exchange.Speaks) + `,"app":"7"}`
	},
	"POST /api/frontiers": plain("/api/frontiers", "{}"),
	"POST /api/push":      foreign("/api/push", ""),
	"POST /api/fill":      plain("/api/fill", ""),
	"POST /api/import":    foreign("/api/import", `{"jointwalk":"unsent","v":1}`+"\n"),
	"GET /api/pull":       plain("/api/pull?all=1&site="+siteA, ""),
	"GET /api/older":      plain("/api/older?fixture="+fixtureID, ""),

	"GET /api/pictures/:hash":         plain("/api/pictures/"+hashed(png), ""),
	"HEAD /api/pictures/:hash":        plain("/api/pictures/"+hashed(png), ""),
	"GET /api/pictures/:hash/part":    plain("/api/pictures/"+hashed(png)+"/part", ""),
	"PATCH /api/pictures/:hash":       plain(fmt.Sprintf("/api/pictures/%s?offset=0&size=%d", hashed(png), len(png)), png),
	"GET /api/fixtures/:id/label.pdf": plain("/api/fixtures/"+fixtureID+"/label.pdf?size=40x20", ""),
	"GET /api/card.pdf":               plain("/api/card.pdf", ""),
	"GET /api/tags/blank.pdf":         plain("/api/tags/blank.pdf?n=3&size=40x40", ""),

	"GET /api/asides":               plain("/api/asides", ""),
	"POST /api/asides/:hash/accept": func(p *plant) (string, string) { return "/api/asides/" + p.events.asides[0].Hash + "/accept", "" },
	"POST /api/asides/:hash/settle": func(p *plant) (string, string) {
		return "/api/asides/" + p.events.asides[0].Hash + "/settle", `{"how":"dismissed"}`
	},

	"GET /api/people":              plain("/api/people", ""),
	"PATCH /api/people/:id":        plain("/api/people/p-tom", `{"grants":{"`+siteA+`":["engineer"]}}`),
	"POST /api/people/:id/devices": plain("/api/people/p-tom/devices", ""),
	"POST /api/people/:id/erase":   plain("/api/people/p-tom/erase", ""),
	"POST /api/people/:id/revoke":  plain("/api/people/p-tom/revoke", ""),
	"GET /api/invitations":         plain("/api/invitations", ""),
	"GET /api/invitations/:id":     plain("/api/invitations/ABC", ""),
	"POST /api/invitations":        plain("/api/invitations", `{"name":"New","grants":{"`+siteA+`":["technician"]}}`),
	"POST /api/sites":              plain("/api/sites", `{"name":"East plant","zone":"UTC"}`),
	"PATCH /api/sites/:id":         plain("/api/sites/"+siteA, `{"name":"North plant 2"}`),
	"GET /api/upkeep":              plain("/api/upkeep", ""),
	"GET /api/devices":             plain("/api/devices", ""),
	"POST /api/devices/:id/revoke": plain("/api/devices/d-p-tom/revoke", ""),
}

func plain(path, body string) func(*plant) (string, string) {
	return func(*plant) (string, string) { return path, body }
}

// foreign brings a line of Tom's about site B, where he does not work: whoever brings it, it is judged by whose it is.
func foreign(path, head string) func(*plant) (string, string) {
	return func(p *plant) (string, string) {
		name := "Valve 5"
		return path, head + p.phone.write("p-tom", siteB, string(record.FixtureEdited), record.FixtureEdit{Name: &name})
	}
}

// refusal is what the matrix says that a person is told; "" for nothing.
func refusal(row string, p Person) (status int, code string) {
	r := rights[row]
	switch {
	case r.reach == own && p.ID == "p-tom":
		return 0, ""
	case (r.need == supervisor || r.reach == own) && !p.has(supervises):
		return http.StatusForbidden, "not-allowed"
	case row == "POST /api/sites" && !p.does(supervises, everywhere), (r.need == supervisor && r.reach == named || r.reach == own) && !p.does(supervises, siteA):
		return http.StatusForbidden, "wrong-site"
	case r.need == supervisor && r.reach == hidden && !p.does(supervises, siteA):
		return http.StatusNotFound, ""
	case p.at(siteA):
		return 0, ""
	case r.reach == named:
		return http.StatusForbidden, "wrong-site"
	case r.reach == hidden:
		return http.StatusNotFound, ""
	}
	return 0, ""
}

// TestRights tries each row of the matrix as each person.
func TestRights(t *testing.T) {
	for row, r := range rights {
		if r.need == anyone || row == "GET /api/stream" { // TestStreamTellsOfOwnSites
			continue
		}
		sample, known := samples[row]
		if !known {
			t.Errorf("%s has no sample", row)
			continue
		}
		for _, person := range append(hands, Person{}) {
			t.Run(row+" as "+person.Name, func(t *testing.T) { try(t, newPlant(t), row, sample, person) })
		}
	}
}

func try(t *testing.T, p *plant, row string, sample func(*plant) (string, string), person Person) {
	method, _, _ := strings.Cut(row, " ")
	path, body := sample(p)
	before := len(p.events.pairs)
	w := p.call(method, path, person.Name, body)
	status, code := refusal(row, person)
	if person.ID == "" {
		status, code = http.StatusUnauthorized, "no-session"
	}
	switch {
	case status == 0 && w.Code >= 300 && !asideOfAnother(row, person):
		t.Errorf("%d %s", w.Code, w.Body)
	case status != 0 && (w.Code != status || method != http.MethodHead && !strings.Contains(w.Body.String(), code)):
		t.Errorf("%d %s, want %d %s", w.Code, w.Body, status, code)
	}
	if rights[row].reach == judged && row != "POST /api/fill" && len(p.events.pairs) != before {
		t.Error("an event about a site at which its person does not work was taken")
	}
	if !person.at(siteA) {
		secret(t, row, path+body, w)
	}
	if !person.does(supervises, siteA) && slices.Contains([]string{"GET /api/people", "GET /api/upkeep", "GET /api/invitations"}, row) && strings.Contains(w.Body.String(), "p-tom") {
		t.Errorf("%s tells of people where somebody does not supervise", row)
	}
}

// asideOfAnother: what was set aside is known to its owner and to the supervisors of its site, and to nobody else there.
func asideOfAnother(row string, p Person) bool {
	return row == "POST /api/asides/:hash/settle" && p.ID != "p-tom" && !p.does(supervises, siteA)
}

// secret holds that an answer tells nothing of site A that was not asked with.
func secret(t *testing.T, row, asked string, w *httptest.ResponseRecorder) {
	t.Helper()
	for _, mark := range marks {
		if strings.Contains(w.Body.String(), mark) && !strings.Contains(asked, mark) {
			t.Errorf("%s tells of %s", row, mark)
		}
	}
}

// TestRightsAreComplete: the server does not start with a route that has no row, or a row that is no route.
func TestRightsAreComplete(t *testing.T) {
	b := newBench(t)
	if err := b.checkRights(); err != nil {
		t.Fatal(err)
	}
	b.echo.GET("/api/forgotten", b.getPicture)
	if err := b.checkRights(); err == nil || !strings.Contains(err.Error(), "GET /api/forgotten") {
		t.Errorf("a route without a row: %v", err)
	}
	b = newBench(t)
	rights["GET /api/gone"] = right{session, nowhere}
	defer delete(rights, "GET /api/gone")
	if err := b.checkRights(); err == nil || !strings.Contains(err.Error(), "GET /api/gone") {
		t.Errorf("a row without a route: %v", err)
	}
	for row := range samples {
		if _, known := rights[row]; !known {
			t.Errorf("%s is a sample of no row", row)
		}
	}
}

// written is a body of each kind that its checks let through.
var written = map[record.Kind]any{
	record.FixtureRegistered: record.RegisteredBody{Name: "Valve 6", Tag: tagCode + string(record.CheckCharacter(tagCode))},
	record.FixtureEdited:     map[string]any{"name": "Valve 6"},
	record.FixtureMoved:      record.Move{Site: siteA},
	record.ProgramSet: record.Program{Name: "Seat", Gas: "air", Pressure: record.Amount{Value: 200, Unit: "kPa"}, Volume: record.Amount{Value: 120, Unit: "mL"},
		Fill: 5, Stabilise: 5, Test: 10, Vent: 1, LimitDrop: &record.Amount{Value: 50, Unit: "Pa"}, ShowUnit: "Pa.m3/s", ShowRef: "20C", Allowance: 0.1},
	record.JointAdded:      record.Joint{Name: "Fitting 10", Kind: "compression", Circuit: "test"},
	record.JointEdited:     map[string]any{"name": "Fitting 11"},
	record.JointRetired:    record.Reason{},
	record.RoundStarted:    map[string]any{"conditions": record.Conditions{Gas: "air", Pressure: record.Amount{Value: 500, Unit: "kPa"}, Ambient: record.Amount{Value: 20, Unit: "degC"}, Solution: "film", Wetted: "after"}},
	record.RoundEnded:      record.RoundEnd{},
	record.LookMade:        record.Look{Round: roundID, Joint: jointID, Result: record.None, Seconds: 60, Stayed: true, Back: true},
	record.LookAmended:     map[string]any{"note": "seen from behind"},
	record.FindingMended:   record.Mend{When: "on-spot", Vented: true, Cause: "loose", Action: "tightened"},
	record.Withdrawn:       record.Reason{},
	record.PictureAdded:    record.Picture{Hash: hashed(png), Bytes: 24, Type: "image/png", Width: 4, Height: 3},
	record.FindingReviewed: record.Review{Verdict: "accept"},
	record.NoteAdded:       record.Noted{Text: "The nut is reached from below."},
}

// TestKindsAreWrittenByTheirDuties tries each kind of event as each person at site A.
func TestKindsAreWrittenByTheirDuties(t *testing.T) {
	for _, kind := range record.Kinds() {
		duties, listed := writers[kind]
		body, known := written[kind]
		if !listed || !known {
			t.Errorf("%s has no row of duties, or no body here", kind)
			continue
		}
		p := newPlant(t)
		for _, person := range hands {
			phone := newPhone(t)
			p.gate.writers[phone.log.ID()] = "d-" + person.ID
			line := phone.of(findingID, person.ID, siteA, kind, body)
			answer := into[exchange.Answer](t, p.call("POST", exchange.PathPush, person.Name, line), 200).Answers[0]
			want := ""
			if !person.at(siteA) {
				want = exchange.CodeWrongSite
			} else if !slices.ContainsFunc(duties, func(duty string) bool { return person.does(duty, siteA) }) {
				want = "not-allowed"
			} else if kind == record.LookAmended && person.ID == "p-mia" { // the look is Tom's
				want = codeNotYours
			} else if kind == record.ProgramSet && person.ID == "p-mia" { // Ana set one before
				want = "not-allowed"
			}
			if answer.Code != want {
				t.Errorf("%s by %s: %q, want %q", kind, person.Name, answer.Code, want)
			}
		}
	}
}
