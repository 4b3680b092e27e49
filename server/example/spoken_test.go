package example

import (
	"bytes"
	"encoding/json"
	"reflect"
	"testing"

	"jointwalk/sync/journal"
	"jointwalk/sync/lightjson"
	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

// standard is what encoding/json writes with nothing escaped for HTML.
func standard(t *testing.T, value any) string {
	t.Helper()
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(value); err != nil {
		t.Fatal(err)
	}
	return string(bytes.TrimSuffix(b.Bytes(), []byte("\n")))
}

// alike holds what lightjson writes and reads of a value against encoding/json.
func alike(t *testing.T, value any) {
	t.Helper()
	want := standard(t, value)
	got, err := lightjson.Marshal(value)
	if err != nil || string(got) != want {
		t.Fatalf("%T is written as\n%s (%v), by the standard library as\n%s", value, got, err, want)
	}
	read, wanted := reflect.New(reflect.TypeOf(value)), reflect.New(reflect.TypeOf(value))
	if err := json.Unmarshal([]byte(want), wanted.Interface()); err != nil {
		t.Fatal(err)
	}
	if err := lightjson.Unmarshal(got, read.Interface()); err != nil || !reflect.DeepEqual(read.Interface(), wanted.Interface()) {
		t.Fatalf("%T is read (%v) as\n%+v, by the standard library as\n%+v", value, err, read.Elem(), wanted.Elem())
	}
}

// TestTheYearIsSpokenAsTheStandardLibrarySpeaks: every body of the year, every state and every answer about it.
func TestTheYearIsSpokenAsTheStandardLibrarySpeaks(t *testing.T) {
	lines, err := Lines(scene())
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range lines {
		e, err := journal.Parse(line)
		if err != nil {
			t.Fatal(err)
		}
		alike(t, e)
		body := record.Blank(record.Kind(e.Kind))
		if err := json.Unmarshal(e.Body, body); err != nil {
			t.Fatal(err)
		}
		alike(t, body)
	}
	b := book(t)
	asked := 0
	ask := func(question string, in any) any {
		answer, err := summary.Ask(summary.NewDesk(b, summary.Names{Sites: []summary.SiteName{{ID: "site-a", Name: SiteName}}}), question, []byte(standard(t, in)))
		if err != nil {
			t.Fatal(question, err)
		}
		alike(t, answer)
		asked++
		return answer
	}
	ask("home", summary.HomeQuestion{})
	for _, f := range b.Fixtures() {
		alike(t, f)
		ask("tag", summary.TagQuestion{Text: f.Tag})
		ask("fixture", summary.FixtureQuestion{ID: f.ID})
		ask("round", summary.RoundQuestion{ID: f.Rounds[0].ID})
	}
	for _, card := range ask("findings", summary.FindingsQuestion{}).(summary.Findings).Findings {
		ask("finding", summary.FindingQuestion{ID: card.ID})
	}
	if asked < 20 {
		t.Errorf("%d questions asked, want findings among them", asked)
	}
}
