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

// A blank tag is registered where nobody can be asked, with joints and a program that starts from the registration; the tag then finds it,
// after a start too. Registered again, it is the same fixture.
func TestABlankTagIsRegistered(t *testing.T) {
	p := newPhone(t, 1)
	p.belong("ann", plant)
	tag := "0123456789" + string(record.CheckCharacter("0123456789"))
	found := func() (a summary.TagAnswer) {
		p.ask("tag", summary.TagQuestion{Text: tag}, &a)
		return a
	}
	if a := found(); a.Problem != summary.TagUnknown || a.Code != tag {
		t.Fatalf("%+v", a)
	}
	made := p.write(Draft{Kind: record.FixtureRegistered, Site: plant, Body: json.RawMessage(`{"name":"Rig","tag":"` + tag + `"}`)})[0]
	if made.Fixture != record.FixtureID(p.me.Installation, tag) {
		t.Errorf("%+v", made)
	}
	about := Draft{Site: plant, Fixture: made.Fixture}
	joint, program := about, about
	joint.Kind, joint.Body = record.JointAdded, json.RawMessage(`{"name":"Nut 1","kind":"compression","circuit":"test","order":1}`)
	program.Kind, program.Base, program.Body = record.ProgramSet, made.ID, json.RawMessage(`{"name":"Air","gas":"air","pressure":{"value":2,"unit":"bar"},"volume":{"value":50,"unit":"cm3"},"fill":1,"stabilise":1,"test":5,"vent":1,"limitDrop":{"value":50,"unit":"Pa"},"showUnit":"Pa.m3/s","showRef":"20C","allowance":0.1}`)
	p.write(joint)
	p.write(program)
	again := p.write(Draft{Kind: record.FixtureRegistered, Site: plant, Body: json.RawMessage(`{"name":"Rig","tag":"` + tag + `"}`)})[0]
	p.start()
	var f summary.Fixture
	p.ask("fixture", summary.FixtureQuestion{ID: made.Fixture}, &f)
	if a := found(); a.Fixture != made.Fixture || again.Fixture != made.Fixture || len(f.Joints) != 1 || f.Program == nil || len(f.Conflicts) != 0 {
		t.Errorf("%+v %+v", a, f)
	}
}
