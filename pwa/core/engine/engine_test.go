package engine

import (
	"encoding/json"
	"regexp"
	"strconv"
	"testing"
	"time"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

func TestWhatWasWrittenIsThereAfterAKill(t *testing.T) {
	p := newPhone(t, 1)
	p.belong("ann", plant)
	fixture, joint, round := p.station(plant)
	look := p.write(leaking(plant, fixture, joint, round))[0]
	var before, after summary.Fixture
	p.ask("fixture", summary.FixtureQuestion{ID: fixture}, &before)

	p.start()
	p.ask("fixture", summary.FixtureQuestion{ID: fixture}, &after)
	if a, b := asJSON(t, before), asJSON(t, after); a != b {
		t.Errorf("before the kill\n%s\nafter\n%s", a, b)
	}
	if len(after.Joints) != 1 || after.Joints[0].Finding != look.Of || after.OpenRound != round {
		t.Errorf("the finding %s of round %s is not on its joint: %+v", look.Of, round, after)
	}
	if s := p.Standing(); s.Unsent != 4 || s.Me == nil || s.Me.Person.ID != "ann" || s.Damage != 0 {
		t.Errorf("standing after the kill: %+v", s)
	}
}

func TestAWriteAskedTwiceIsKeptOnce(t *testing.T) {
	p := newPhone(t, 1)
	p.belong("ann", plant)
	fixture, joint, round := p.station(plant)
	w := Write{Zone: "UTC", IDs: []string{"0190a000-0000-7000-8000-0000000000e1"},
		Drafts: []Draft{tight(plant, fixture, joint, round)}}
	first, err := p.Write(w)
	if err != nil {
		t.Fatal(err)
	}
	for _, restart := range []bool{false, true} {
		if restart {
			p.start()
		}
		again, err := p.Write(w)
		if err != nil || asJSON(t, again) != asJSON(t, first) {
			t.Errorf("restarted %v: %v %v, first %v", restart, again, err, first)
		}
		if n := p.Standing().Unsent; n != 4 {
			t.Errorf("restarted %v: %d events, want 4", restart, n)
		}
	}
}

func TestManyWritesAreRememberedToABound(t *testing.T) {
	p := newPhone(t, 1)
	for i := range 5 * keepRecent {
		p.remember(journal.Line(strconv.Itoa(i)))
	}
	if n := len(p.recent); n < keepRecent || n > 2*keepRecent {
		t.Errorf("%d remembered", n)
	}
	if last := string(p.recent[len(p.recent)-1]); last != strconv.Itoa(5*keepRecent-1) {
		t.Errorf("the last is %s", last)
	}
}

func TestRefusedWritesKeepNothing(t *testing.T) {
	p := newPhone(t, 1)
	if _, err := p.try(draft(record.FixtureRegistered, plant, "", record.RegisteredBody{Name: "A"})); codeOf(err) != CodeNotPaired {
		t.Errorf("nobody's write: %v", err)
	}
	p.belong("ann", plant)
	fixture, joint, round := p.station(plant)
	held := p.Standing().Unsent
	cases := map[string]struct {
		drafts []Draft
		code   string
	}{
		"another's site":      {[]Draft{tight(annex, fixture, joint, round)}, CodeUnknownSite},
		"an unknown joint":    {[]Draft{tight(plant, fixture, "no such joint", round)}, record.UnknownNoun},
		"an unknown fixture":  {[]Draft{tight(plant, "no such fixture", joint, round)}, record.UnknownNoun},
		"a code of no list":   {[]Draft{draft(record.JointAdded, plant, fixture, record.Joint{Name: "8", Kind: "glue", Circuit: "test"})}, record.UnknownCode},
		"a kind of no table":  {[]Draft{draft("gossip", plant, fixture, struct{}{})}, record.UnknownKind},
		"a body of no object": {[]Draft{draft(record.FixtureRegistered, plant, "", 7)}, record.BadBody},
		"the second of two":   {[]Draft{tight(plant, fixture, joint, round), tight(plant, fixture, "", round)}, record.Missing},
		"nothing":             {nil, CodeBadCall},
	}
	for name, c := range cases {
		if _, err := p.try(c.drafts...); codeOf(err) != c.code {
			t.Errorf("%s: %v, want %s", name, err, c.code)
		}
	}
	if n := p.Standing().Unsent; n != held {
		t.Errorf("%d events kept of refused writes", n-held)
	}
}

func TestAFullDiskKeepsNothingAndTheNextWriteGoes(t *testing.T) {
	p := newPhone(t, 1)
	p.belong("ann", plant)
	fixture, joint, round := p.station(plant)
	p.fill(true)
	if _, err := p.try(tight(plant, fixture, joint, round)); codeOf(err) != journal.CodeStorageFull {
		t.Fatalf("on a full disk: %v", err)
	}
	p.fill(false)
	if place := p.write(tight(plant, fixture, joint, round))[0]; place.Seq != 4 {
		t.Errorf("the next event has seq %d, want 4", place.Seq)
	}
	p.start()
	if n := p.Standing().Unsent; n != 4 {
		t.Errorf("%d events after a restart, want 4", n)
	}
}

func TestOneWriteMayLeanOnItsOwnNouns(t *testing.T) {
	p := newPhone(t, 1)
	p.belong("ann", plant)
	fixture, joint, round := p.station(plant)
	seen := leaking(plant, fixture, joint, round)
	seen.Of = "0190a000-0000-7000-8000-0000000000f1"
	mend := draft(record.FindingMended, plant, fixture, record.Mend{When: "on-spot", Vented: true, Cause: "loose", Action: "tightened"})
	mend.Of = seen.Of
	again := tight(plant, fixture, joint, round)
	p.write(seen, mend, again)
	var finding summary.Finding
	p.ask("finding", summary.FindingQuestion{ID: seen.Of}, &finding)
	if finding.Card.Joint != joint {
		t.Errorf("finding %+v", finding)
	}
	mend.Body = json.RawMessage(`{"when":"never"}`)
	if _, err := p.try(seen, mend); codeOf(err) != record.UnknownCode {
		t.Errorf("a bad body that leans on its own write: %v", err)
	}
}

func TestAFixtureFollowsFromInstallationAndTag(t *testing.T) {
	one, two := newPhone(t, 1), newPhone(t, 2)
	one.belong("ann", plant)
	two.belong("bob", plant)
	place := one.write(draft(record.FixtureRegistered, plant, "", record.RegisteredBody{Name: "Bench 3"}))[0]
	var fixture summary.Fixture
	one.ask("fixture", summary.FixtureQuestion{ID: place.Fixture}, &fixture)
	if code, problem := record.ParseTag(fixture.Tag); problem != "" || code != fixture.Tag {
		t.Errorf("minted tag %q: %s", fixture.Tag, problem)
	}
	blank := draft(record.FixtureRegistered, plant, "", record.RegisteredBody{Name: "Bench three", Tag: fixture.Tag})
	if same := two.write(blank)[0]; same.Fixture != place.Fixture {
		t.Errorf("one tag, two fixtures: %s and %s", place.Fixture, same.Fixture)
	}
}

func TestNotesOutliveAKill(t *testing.T) {
	p := newPhone(t, 1)
	p.call("keep", Note{Key: "leak:7", Value: json.RawMessage(`{"count":"12"}`)}, nil)
	p.start()
	var note Note
	p.call("draft", Note{Key: "leak:7"}, &note)
	if string(note.Value) != `{"count":"12"}` {
		t.Errorf("kept draft: %s", note.Value)
	}
	p.call("drop", Note{Key: "leak:7"}, nil)
	var gone Note
	p.call("draft", Note{Key: "leak:7"}, &gone)
	if gone.Value != nil {
		t.Errorf("dropped draft: %s", gone.Value)
	}
}

func TestPicturesWaitUntilTheServerHasThem(t *testing.T) {
	p := newPhone(t, 1)
	note, err := p.KeepPicture([]byte("a picture of a joint"))
	if err != nil {
		t.Fatal(err)
	}
	p.start()
	var waiting Waiting
	p.call("unsent", Nothing{}, &waiting)
	if len(waiting.Pictures) != 1 || waiting.Pictures[0] != note || p.Standing().UnsentPictures != 1 {
		t.Fatalf("waiting: %+v, standing %+v", waiting, p.Standing())
	}
	if content, err := p.Picture(note.Hash); err != nil || string(content) != "a picture of a joint" {
		t.Errorf("picture: %q %v", content, err)
	}
	p.belong("ann", plant)
	newHall().sync(p)
	if n := p.Standing().UnsentPictures; n != 0 {
		t.Errorf("%d wait after the server has it", n)
	}
}

func TestTheDoorRefusesWhatItDoesNotKnow(t *testing.T) {
	p := newPhone(t, 1)
	for name, args := range map[string]any{"no-such-call": Nothing{}, "write": "not an object", "pushed": Body{Text: "{}"}} {
		if fault := through(t, p.Engine, name, args, nil); fault == nil || fault.Code != CodeBadCall {
			t.Errorf("%s: %v", name, fault)
		}
	}
	if fault := through(t, p.Engine, "ask", Ask{Question: "weather", Args: json.RawMessage("{}")}, nil); fault == nil || fault.Code != summary.UnknownQuestion {
		t.Errorf("an unknown question: %v", fault)
	}
	if fault := through(t, p.Engine, "ask", Ask{Question: "round", Args: json.RawMessage(`{"id":"none"}`)}, nil); fault == nil || fault.Code != summary.UnknownRound {
		t.Errorf("an unknown round: %v", fault)
	}
}

// The layout is RFC 9562, section 5.7: 48 bits of Unix time in ms, version 7, variant 10.
func TestUUIDv7(t *testing.T) {
	at := time.UnixMilli(0x017F22E279B0) // the time of the RFC's example, appendix A.6
	env := Env{Now: func() time.Time { return at }, Random: newPhone(t, 1).env.Random}
	form := regexp.MustCompile(`^017f22e2-79b0-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$`)
	seen := map[string]bool{}
	for range 100 {
		id, err := env.uuidv7()
		if err != nil || !form.MatchString(id) || seen[id] {
			t.Fatalf("%q %v", id, err)
		}
		seen[id] = true
	}
	env.Random = dry{}
	if _, err := env.uuidv7(); codeOf(err) != CodeNoRandomness {
		t.Errorf("without randomness: %v", err)
	}
}

func asJSON(t testing.TB, v any) string {
	t.Helper()
	raw, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	return string(raw)
}
