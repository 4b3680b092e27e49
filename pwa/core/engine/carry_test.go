package engine

import (
	"strings"
	"testing"

	"jointwalk/sync/exchange"
	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

func TestTwoPhonesAndAServerComeToOneStory(t *testing.T) {
	h := newHall()
	one, two := newPhone(t, 1), newPhone(t, 2)
	one.belong("ann", plant)
	two.belong("bob", plant)
	fixture, joint, round := one.station(plant)
	h.sync(one)
	h.sync(two)
	two.write(leaking(plant, fixture, joint, round))
	one.write(tight(plant, fixture, joint, round))
	for range 2 {
		h.sync(two)
		h.sync(one)
	}
	var seen [2]summary.Round
	for i, p := range []*phone{one, two} {
		p.ask("round", summary.RoundQuestion{ID: round}, &seen[i])
		if s := p.Standing(); s.Unsent != 0 || s.Asides != 0 {
			t.Errorf("phone %d: %+v", i, s)
		}
		seen[i].Started.Name = "" // each phone knows only its own people here
		seen[i].Others, seen[i].Findings = nil, nil
	}
	if a, b := asJSON(t, seen[0]), asJSON(t, seen[1]); a != b {
		t.Errorf("one saw\n%s\nthe other\n%s", a, b)
	}
	two.start()
	var after summary.Round
	two.ask("round", summary.RoundQuestion{ID: round}, &after)
	if len(after.Findings) != 1 {
		t.Errorf("after a restart: %+v", after)
	}
}

func TestALostAnswerCostsNothing(t *testing.T) {
	h := newHall()
	p := newPhone(t, 1)
	p.belong("ann", plant)
	p.station(plant)
	h.sync(p)
	fixture, _, _ := p.station(plant)
	p.call("begin", Begin{}, nil)
	request, _ := p.Next()
	if _, err := h.answer(p, request, &exchange.Outcome{}); err != nil {
		t.Fatal(err)
	}
	p.start() // killed before the answer came
	if sent := h.sync(p); sent.Applied+sent.Duplicate != 3 {
		t.Errorf("sent again: %+v", sent)
	}
	if n := len(h.sites[plant]); n != 6 {
		t.Errorf("the server holds %d events, want 6", n)
	}
	var home summary.Home
	p.ask("home", summary.HomeQuestion{}, &home)
	if len(home.Sites) != 1 || len(home.Sites[0].Fixtures) != 2 {
		t.Errorf("home without %s: %+v", fixture, home)
	}
}

func TestWhatTheServerSetsAsideIsTold(t *testing.T) {
	h := newHall()
	h.refuses = string(record.RoundStarted)
	p := newPhone(t, 1)
	p.belong("ann", plant)
	p.station(plant)
	if sent := h.sync(p); sent.Applied != 2 || len(sent.Aside) != 1 {
		t.Errorf("sent: %+v", sent)
	}
	p.start()
	if s := p.Standing(); s.Asides != 1 || s.Unsent != 0 {
		t.Errorf("standing: %+v", s)
	}
}

func TestAForkedPhoneBeginsAnotherLog(t *testing.T) {
	h := newHall()
	one := newPhone(t, 1)
	one.belong("ann", plant)
	fixture, joint, round := one.station(plant)
	h.sync(one)
	twin := &phone{t: t, env: one.env, starts: 1, told: one.told}
	for _, f := range one.files {
		copied := *f
		twin.files = append(twin.files, &copied)
	}
	for _, f := range twin.files { // bytes of their own
		size, _ := f.Size()
		raw := make([]byte, size)
		if _, err := f.ReadAt(raw, 0); err != nil && size > 0 {
			t.Fatal(err)
		}
		*f = flawed{}
		if _, err := f.WriteAt(raw, 0); err != nil {
			t.Fatal(err)
		}
	}
	twin.start()
	first := one.write(tight(plant, fixture, joint, round))[0]
	h.sync(one)
	second := twin.write(leaking(plant, fixture, joint, round))[0]
	if first.Log != second.Log || first.Seq != second.Seq {
		t.Fatalf("no fork: %+v %+v", first, second)
	}
	h.sync(twin)
	if third := twin.write(tight(plant, fixture, joint, round))[0]; third.Log == second.Log || third.Seq != 1 {
		t.Errorf("after the fork: %+v", third)
	}
	if sent := h.sync(twin); sent.Applied != 1 {
		t.Errorf("the new log: %+v", sent)
	}
}

func TestASiteThatIsNoLongerOursIsForgotten(t *testing.T) {
	h := newHall()
	one, two := newPhone(t, 1), newPhone(t, 2)
	one.belong("ann", plant, annex)
	one.station(plant)
	one.station(annex)
	h.sync(one)
	two.belong("bob", plant, annex)
	two.station(plant) // two's own work there comes back too
	h.sync(two)
	for _, restart := range []bool{false, true} {
		two.belong("bob", annex)
		if restart {
			two.start()
		} else if n := len(two.book.Fixtures()); n != 1 {
			t.Errorf("%d fixtures are still held", n)
		}
		var home summary.Home
		two.ask("home", summary.HomeQuestion{}, &home)
		if len(home.Sites) != 1 || home.Sites[0].ID != annex || len(home.Sites[0].Fixtures) != 1 {
			t.Errorf("restarted %v: %+v", restart, home)
		}
		if held := two.pool.Sites(); len(held) != 1 {
			t.Errorf("restarted %v: files for %v", restart, held)
		}
		two.belong("bob", plant, annex)
		h.sync(two)
		two.ask("home", summary.HomeQuestion{}, &home)
		if len(home.Sites) != 2 || len(home.Sites[0].Fixtures) != 2 {
			t.Errorf("restarted %v, and the site came back: %+v", restart, home)
		}
	}
}

func TestARevokedPhoneClosesCapture(t *testing.T) {
	h := newHall()
	p := newPhone(t, 1)
	p.belong("ann", plant)
	fixture, joint, round := p.station(plant)
	h.sync(p)
	p.call("begin", Begin{Whole: true}, nil)
	p.Next()
	p.Took(exchange.Reply{Status: 403, Body: []byte(`{"code":"revoked"}`)})
	for r, some := p.Next(); some; r, some = p.Next() { // it sends all that it holds once more
		body, err := h.answer(p, r, &exchange.Outcome{})
		if err != nil || r.Path != exchange.PathPush {
			t.Fatalf("%s: %v", r.Path, err)
		}
		p.Took(exchange.Reply{Status: 200, Body: body})
	}
	if _, err := p.try(tight(plant, fixture, joint, round)); codeOf(err) != exchange.CodeRevoked {
		t.Errorf("a look was kept: %v", err)
	}
	var home summary.Home
	p.ask("home", summary.HomeQuestion{}, &home)
	if s := p.Standing(); !s.Revoked || len(home.Sites[0].Fixtures) != 0 {
		t.Errorf("%+v still shows %+v", s, home)
	}
}

func TestStandingTellsOfTheServer(t *testing.T) {
	h := newHall()
	p := newPhone(t, 1)
	if s := p.Standing(); s.Reach != "unknown" || s.ClockOffsetMs != nil || s.TooOld != "" || s.LostLog != nil || s.Log == "" {
		t.Errorf("at the start: %+v", s)
	}
	p.belong("ann", plant)
	p.station(plant)
	if s := p.Standing(); s.Oldest == "" || s.Unsent != 3 {
		t.Errorf("unsent: %+v", s)
	}
	h.sync(p)
	if s := p.Standing(); s.Reach != "reached" || s.ClockOffsetMs == nil || s.Synced == "" || s.Oldest != "" {
		t.Errorf("after a turn: %+v", s)
	}
}

func TestExportAndOlderGoThroughTheDoor(t *testing.T) {
	h := newHall()
	one, two := newPhone(t, 1), newPhone(t, 2)
	one.belong("ann", plant)
	one.station(plant)
	var part Exported
	one.call("export", From{}, &part)
	if strings.Count(part.Lines, "\n") != 3 || part.Next != 3 || part.More {
		t.Errorf("%+v", part)
	}
	h.sync(one)
	two.belong("bob", plant)
	var body []byte
	for _, pair := range h.sites[plant] {
		body = exchange.AppendPair(body, pair)
	}
	var taken Taken
	two.call("older", Body{Site: plant, Text: string(body)}, &taken)
	var home summary.Home
	two.ask("home", summary.HomeQuestion{}, &home)
	if !taken.Changed || len(home.Sites[0].Fixtures) != 1 {
		t.Errorf("%+v %+v", taken, home)
	}
	if fault := through(t, two.Engine, "older", Body{Site: annex, Text: string(body)}, nil); fault == nil || fault.Code != CodeUnknownSite {
		t.Errorf("a site that is not ours: %v", fault)
	}
	two.call("check", Nothing{}, nil)
}

func TestTheWaitIsTold(t *testing.T) {
	h := newHall()
	p := newPhone(t, 1)
	p.belong("ann", plant)
	h.sync(p)
	var wait Wait
	if p.call("wait", Nothing{}, &wait); wait.Ms != 60_000 {
		t.Errorf("%d ms after a turn that went through", wait.Ms)
	}
}

// A person stops the first pull, and it goes on where it was when they ask for it.
func TestAStopThroughTheDoor(t *testing.T) {
	h := newHall()
	other, p := newPhone(t, 1), newPhone(t, 2)
	other.belong("ann", plant)
	other.station(plant)
	other.station(plant)
	h.sync(other)
	p.belong("bob", plant)
	p.call("begin", Begin{Whole: true}, nil)
	for range 2 {
		request, _ := p.Next()
		body, err := h.answer(p, request, &exchange.Outcome{})
		if err != nil {
			t.Fatal(err)
		}
		p.Took(exchange.Reply{Status: 200, Body: body})
	}
	if d := p.Standing().Doing; d == nil || d.What != exchange.Fetching || d.Done == 0 || d.Of <= d.Done {
		t.Fatalf("%+v", d)
	}
	held := p.Standing().Doing.Done
	p.call("stop", Nothing{}, nil)
	p.call("begin", Begin{Whole: true}, nil)
	if request, some := p.Next(); some {
		t.Errorf("asks %s after a stop", request.Path)
	}
	if s := p.Standing(); !s.Paused || s.Doing != nil {
		t.Errorf("%+v", s)
	}
	p.call("begin", Begin{Whole: true, Resume: true}, nil)
	if s := p.Standing(); s.Paused {
		t.Errorf("%+v", s)
	}
	h.sync(p)
	var home summary.Home
	p.ask("home", summary.HomeQuestion{}, &home)
	if all := len(h.sites[plant]); held >= all || len(home.Sites[0].Fixtures) != 2 {
		t.Errorf("%d of %d came before the stop, then %d fixtures", held, all, len(home.Sites[0].Fixtures))
	}
}
