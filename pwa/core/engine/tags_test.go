package engine

import (
	"encoding/json"
	"testing"

	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

// A fixture is given a fresh tag, which the engine draws, or the label of another one; scanned, each finds what carries it now.
func TestATagIsGivenToAnotherFixture(t *testing.T) {
	p := newPhone(t, 1)
	p.belong("ann", plant)
	first, _, _ := p.station(plant)
	edit := func(fixture string, body string) {
		p.write(Draft{Kind: record.FixtureEdited, Site: plant, Fixture: fixture, Of: fixture, Body: json.RawMessage(body)})
	}
	shown := func(fixture string) (f summary.Fixture) {
		p.ask("fixture", summary.FixtureQuestion{ID: fixture}, &f)
		return f
	}
	found := func(tag string) string {
		var a summary.TagAnswer
		p.ask("tag", summary.TagQuestion{Text: tag}, &a)
		return a.Fixture
	}
	old := shown(first).Tag
	second := p.write(Draft{Kind: record.FixtureRegistered, Site: plant, Body: json.RawMessage(`{"name":"Second","tag":""}`)})[0].Fixture
	edit(second, `{"tag":"`+old+`"}`)
	if f := shown(first); f.Tag != old || f.TagOn != "Second" || found(old) != second {
		t.Errorf("%s on %q, finds %s", f.Tag, f.TagOn, found(old))
	}
	edit(first, `{"tag":""}`)
	f := shown(first)
	if f.Tag == old || f.Tag == "" || f.TagOn != "" || found(f.Tag) != first || len(f.Tags) != 2 || f.Tags[1].Code != old || f.Tags[0].Given.By != "ann" {
		t.Errorf("%+v", f)
	}
	p.start()
	if found(f.Tag) != first || found(old) != second {
		t.Errorf("after a start: %s, %s", found(f.Tag), found(old))
	}
}
