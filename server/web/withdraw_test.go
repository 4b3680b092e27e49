package web

import (
	"encoding/base64"
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// line is one more event of a phone, with a base.
func (p *phone) line(base, by, site string, kind record.Kind, body any) (id, line string) {
	p.t.Helper()
	p.n++
	id = fmt.Sprintf("018f0000-0000-7000-8000-00000b%06d", p.n)
	lines, err := p.log.Append([]journal.Draft{{ID: id, Time: "2026-03-01T08:00:00.000Z", Zone: "UTC", By: by, Base: base,
		About: journal.About{Site: site, Fixture: fixtureID, Of: findingID}, Kind: string(kind), Body: body}})
	if err != nil {
		p.t.Fatal(err)
	}
	return id, string(lines[0]) + "\n"
}

var aFace = record.Reason{Why: "a face"}

// photo is a picture's event of some bytes.
func photo(data string) record.Picture {
	return record.Picture{Hash: hashed(data), Bytes: len(data), Type: "image/png", Width: 4, Height: 3}
}

// verdicts pushes lines and gives the code of each.
func (p *plant) verdicts(token, lines string) (codes []string) {
	p.phone.t.Helper()
	for _, v := range into[exchange.Answer](p.phone.t, p.call("POST", exchange.PathPush, token, lines), 200).Answers {
		codes = append(codes, v.Code)
	}
	return codes
}

// A picture is withdrawn by who added it, whatever their duties, and by supervisors of its site.
func TestWhoMayWithdrawAPicture(t *testing.T) {
	for adder, may := range map[string]string{"p-tom": "p-tom p-ana p-sue p-all", "p-eli": "p-eli p-ana p-sue p-all", "p-sue": "p-ana p-sue p-all"} {
		for _, person := range hands {
			p := newPlant(t)
			first, second := newPhone(t), newPhone(t)
			second.n = 100
			p.gate.writers[first.log.ID()] = "d-" + adder
			event, added := first.line("", adder, siteA, record.PictureAdded, photo(png+adder))
			if codes := p.verdicts(strings.TrimPrefix(adder, "p-"), added); codes[0] != "" {
				t.Fatal(codes)
			}
			p.gate.writers[first.log.ID()] = "d-" + person.ID // all logs here have one id
			_, taken := second.line(event, person.ID, siteA, record.Withdrawn, aFace)
			want := ""
			if !person.at(siteA) {
				want = exchange.CodeWrongSite
			} else if !strings.Contains(may, person.ID) {
				want = codeNotYours
			}
			if codes := p.verdicts(person.Name, taken); codes[0] != want {
				t.Errorf("%s withdraws a picture of %s: %q, want %q", person.ID, adder, codes[0], want)
			}
		}
	}
}

// Picture and withdrawal may come in one batch, where two people share a phone.
func TestAWithdrawalInTheBatchOfItsPicture(t *testing.T) {
	for by, want := range map[string]string{"p-tom": "", "p-ada": codeNotYours} {
		p := newPlant(t)
		p.gate.people = append(p.gate.people, Person{ID: "p-ada", Name: "ada", Grants: Grants{siteA: {technician}}})
		p.gate.crew = map[string][]string{"d-p-tom": {"p-tom", "p-ada"}}
		event, added := p.phone.line("", "p-tom", siteA, record.PictureAdded, photo(png+"shared"))
		_, taken := p.phone.line(event, by, siteA, record.Withdrawn, aFace)
		if codes := p.verdicts("tom", added+taken); codes[0] != "" || codes[1] != want {
			t.Errorf("by %s: %q, want %q", by, codes, want)
		}
	}
}

func TestAPicturesWithdrawalSaysWhyToTheServerToo(t *testing.T) {
	p := newPlant(t)
	event, added := p.phone.line("", "p-tom", siteA, record.PictureAdded, photo(png+"unsaid"))
	_, silent := p.phone.line(event, "p-tom", siteA, record.Withdrawn, record.Reason{Why: " "})
	_, told := p.phone.line(event, "p-tom", siteA, record.Withdrawn, aFace)
	if codes := p.verdicts("tom", added+silent+told); strings.Join(codes, ",") != ","+record.Missing+"," {
		t.Errorf("%q", codes)
	}
}

// A withdrawn picture is served to nobody, taken from nobody, and called so; at another site it is not known at all.
func TestAWithdrawnPictureIsNeitherServedNorTaken(t *testing.T) {
	p := newPlant(t)
	data := png + "with a face"
	path := "/api/pictures/" + hashed(data)
	whole := fmt.Sprintf("%s?offset=0&size=%d", path, len(data))
	event, added := p.phone.line("", "p-tom", siteA, record.PictureAdded, photo(data))
	p.verdicts("tom", added)
	into[exchange.Part](t, p.call("PATCH", whole, "tom", data), 200)
	if w := p.call("GET", path, "tom", ""); w.Code != 200 || w.Header().Get("Cache-Control") != "no-store" {
		t.Errorf("%d %v", w.Code, w.Header())
	}
	_, taken := p.phone.line(event, "p-tom", siteA, record.Withdrawn, aFace)
	p.verdicts("tom", taken)
	if problem := wants(t, p.call("GET", path, "tom", ""), 410, exchange.CodeWithdrawn); problem.Detail == "" {
		t.Error("without words")
	}
	if w := p.call("HEAD", path, "tom", ""); w.Code != 410 {
		t.Errorf("HEAD: %d", w.Code)
	}
	wants(t, p.call("GET", path, "ted", ""), 404, "unknown-picture")
	wants(t, p.call("GET", path+"/part", "tom", ""), 410, exchange.CodeWithdrawn)
	wants(t, p.call("PATCH", whole, "tom", data), 410, exchange.CodeWithdrawn)
}

// A file of what a phone had not sent may hold a picture that was withdrawn meanwhile: the rest of it comes in.
func TestAnImportWithAWithdrawnPicture(t *testing.T) {
	p := newPlant(t)
	data, other := png+"with a face", png+"without"
	event, added := p.phone.line("", "p-tom", siteA, record.PictureAdded, photo(data))
	_, taken := p.phone.line(event, "p-tom", siteA, record.Withdrawn, aFace)
	p.verdicts("tom", added+taken)
	file := `{"jointwalk":"unsent","v":1}` + "\n"
	for _, content := range []string{data, other} {
		row, err := json.Marshal(exportPicture{Picture: hashed(content), Data: base64.StdEncoding.EncodeToString([]byte(content))})
		if err != nil {
			t.Fatal(err)
		}
		file += string(row) + "\n"
	}
	_, late := p.phone.line("", "p-tom", siteA, record.PictureAdded, photo(other))
	if told := into[HandedIn](t, p.call("POST", "/api/import", "tom", file+late), 200); told.Pictures != 1 || told.Applied != 1 {
		t.Errorf("%+v", told)
	}
	if _, err := p.parts.Pictures.Size(hashed(other)); err != nil {
		t.Error(err)
	}
}

// What a phone did not need of an old round it is told all the same when a picture of that round is withdrawn.
func TestPullsBringOldWithdrawals(t *testing.T) {
	p := newPlant(t)
	event, added := p.phone.line("", "p-tom", siteA, record.PictureAdded, photo(png+"old"))
	lines := added + p.phone.of(roundID, "p-tom", siteA, record.RoundEnded, record.RoundEnd{}) +
		p.phone.of(findingID, "p-tom", siteA, record.FindingMended, record.Mend{When: "later", Vented: true, Cause: "loose", Action: "tightened"})
	for range record.KeptRounds + 1 {
		lines += p.phone.tightRound("p-tom", siteA)
	}
	_, taken := p.phone.line(event, "p-tom", siteA, record.Withdrawn, aFace)
	for _, code := range p.verdicts("tom", lines+taken) {
		if code != "" {
			t.Fatal(code)
		}
	}
	body := p.call("GET", "/api/pull?site="+siteA, "tom", "").Body.String()
	if strings.Contains(body, hashed(png+"old")) || !strings.Contains(body, `"why":"a face"`) {
		t.Errorf("the old picture: %v, its withdrawal: %v", strings.Contains(body, hashed(png+"old")), strings.Contains(body, `"why":"a face"`))
	}
}

// tightRound is a round that saw nothing at the joint.
func (p *phone) tightRound(by, site string) string {
	p.t.Helper()
	id := fmt.Sprintf("018f0000-0000-7000-8000-0000000c%04d", p.n)
	start := record.RoundStart{Conditions: record.Conditions{Gas: "air", Pressure: record.Amount{Value: 500, Unit: "kPa"},
		Ambient: record.Amount{Value: 20, Unit: "degC"}, Solution: "film", Wetted: "after"}}
	look := record.Look{Round: id, Joint: jointID, Result: record.None, Seconds: 30, Stayed: true, Back: true}
	return p.of(id, by, site, record.RoundStarted, start) + p.of(strings.Replace(id, "c", "d", 1), by, site, record.LookMade, look) +
		p.of(id, by, site, record.RoundEnded, record.RoundEnd{})
}
