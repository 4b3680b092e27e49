package exchange

import (
	"encoding/json"
	"slices"
	"testing"

	"jointwalk/sync/journal"
)

// restore gives the office back a copy of its store that holds the first n events.
func (o *office) restore(n int) {
	kept := newKeeper()
	for _, s := range o.feed["site-1"][:n] {
		e := must(journal.Parse(s.Line))
		kept.put(Incoming{Line: s.Line, Event: e, Hash: journal.Hash(s.Line), Receipt: s.Receipt})
	}
	o.keeper = kept
	o.renew("second")
}

func TestARestoredServerGetsBackWhatItLost(t *testing.T) {
	o := newOffice()
	one, two := newHand(t), newHand(t)
	two.ids = 500
	two.start(false)
	one.turn(o, true).save(0, 4)
	one.turn(o, true)
	two.turn(o, true) // the second phone only pulls
	before := texts(lines(o))
	receipts := o.feed["site-1"]
	o.restore(1)
	two.turn(o, true)
	if after := texts(lines(o)); after != before {
		t.Errorf("from a phone that only pulled:\n%s\nwant\n%s", after, before)
	}
	for i, s := range o.feed["site-1"] {
		if s.Receipt != receipts[i].Receipt {
			t.Errorf("receipt %d: %+v, was %+v", i, s.Receipt, receipts[i].Receipt)
		}
	}
	two.turn(o, true)
	wantSeen(t, o, PathMeet)
	if s := one.turn(o, true).Standing(); s.Unsent != 0 || len(o.feed["site-1"]) != 4 {
		t.Errorf("the writer: %+v", s)
	}
}

func lines(o *office) (all []journal.Line) {
	for _, s := range o.feed["site-1"] {
		all = append(all, s.Line)
	}
	return all
}

func TestTheWriterSendsAgainAndSaysSoMeanwhile(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true).save(0, 4)
	h.turn(o, true)
	o.restore(1)
	o.refuse[PathPush] = Reply{}
	if s := h.turn(o, true).Standing(); s.Unsent != 3 {
		t.Errorf("%+v: it must not call sent what the server lost", s)
	}
	h.start(false)
	if s := h.Standing(); s.Unsent != 3 {
		t.Errorf("after a restart: %+v", s)
	}
	delete(o.refuse, PathPush)
	if s := h.turn(o, true).Standing(); s.Unsent != 0 || len(o.feed["site-1"]) != 4 {
		t.Errorf("%+v", s)
	}
}

// Cut off between comparing and filling, the phone begins anew: the store is known only when all was handed in.
func TestACutFillBeginsAnew(t *testing.T) {
	o := newOffice()
	one, two := newHand(t), newHand(t)
	two.ids = 500
	two.start(false)
	one.turn(o, true).save(0, 4)
	one.turn(o, true)
	two.turn(o, true)
	o.restore(0)
	o.refuse[PathFill] = Reply{}
	two.turn(o, true)
	two.start(false)
	delete(o.refuse, PathFill)
	if two.turn(o, true); len(o.feed["site-1"]) != 4 {
		t.Errorf("%d events", len(o.feed["site-1"]))
	}
}

func TestPicturesAreOfferedAgainAfterARestore(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true).save(0, 1)
	content := []byte("a picture")
	if err := h.pool.Pictures().Add(journal.Hash(content), content, "2026-03-04T12:00:00.000Z"); err != nil {
		t.Fatal(err)
	}
	h.turn(o, true)
	o.pictures = map[string]*partial{}
	o.restore(1)
	if h.turn(o, true); !o.whole(content) {
		t.Error("the picture is gone")
	}
}

// Nobody but the server can make its seal: a pair without it is judged as any line is.
func TestAForgedReceiptIsNotTheServersWord(t *testing.T) {
	o := newOffice()
	line := written(logB, 1)[0]
	real := sealedReceipt(line, 1)
	for name, forge := range map[string]func(*Receipt){
		"none": func(r *Receipt) { r.Seal = "" }, "other": func(r *Receipt) { r.Seal = "00" + r.Seal[2:] }, "from": func(r *Receipt) { r.From = "device-1x" },
		"at": func(r *Receipt) { r.At = "2026-03-04T12:00:00.001Z" }, "offset": func(r *Receipt) { r.Offset++ },
	} {
		r := real
		forge(&r)
		a := must(o.hall.Fill(AppendPair(nil, journal.Pair{Line: line, Receipt: r}), Sender{Device: "device-2"}))
		if a.Answers[0].Is != Aside || a.Answers[0].Code != CodeUnknownLog {
			t.Errorf("%s: %+v", name, a.Answers)
		}
	}
	revoked := must(o.hall.Fill(AppendPair(nil, journal.Pair{Line: line, Receipt: real}), Sender{Device: "device-2", Revoked: true}))
	if revoked.Answers[0].Code != CodeRevoked {
		t.Errorf("%+v", revoked.Answers)
	}
	if a := must(o.hall.Fill(AppendPair(nil, journal.Pair{Line: line, Receipt: real}), Sender{Device: "device-2"})); a.Answers[0].Is != Applied {
		t.Errorf("its own word: %+v", a.Answers)
	}
}

func TestFillIsReadStrictly(t *testing.T) {
	o := newOffice()
	pair := string(AppendPair(nil, journal.Pair{Line: written(logB, 1)[0], Receipt: Receipt{N: 1, At: "2026-03-04T12:00:00.000Z", From: "d"}}))
	for name, body := range map[string]string{"cut": pair[:len(pair)-1], "one line": pair[:len(pair)/2] + "\n", "garbage": "{}\n{}\n"} {
		if _, err := o.hall.Fill([]byte(body), sender); journal.CodeOf(err) != CodeBadPull {
			t.Errorf("%s: %v", name, err)
		}
	}
	if a, err := o.hall.Fill(nil, sender); err != nil || len(a.Answers) != 0 {
		t.Errorf("%+v %v", a, err)
	}
}

func TestOldPairsAreKeptOnDemand(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true)
	one := written(logB, 3)
	must(receive(o.keeper, one, sender, noon, allowAll))
	o.hall.Skip = skipping(func(line journal.Line) bool { return must(journal.Parse(line)).Seq == 2 })
	if h.turn(o, true); len(h.added) != 2 {
		t.Errorf("%d events, one is old", len(h.added))
	}
	h.turn(o, true)
	wantSeen(t, o, PathMeet)
	var body []byte
	for _, s := range o.feed["site-1"] {
		body = AppendPair(body, s)
	}
	added, err := h.Older("site-1", body)
	if err != nil || len(added) != 1 {
		t.Errorf("%d events, %v", len(added), err)
	}
	h.start(false)
	h.turn(o, true)
	wantSeen(t, o, PathMeet)
	if _, err := h.Older("site-1", []byte("garbage\n")); journal.CodeOf(err) != CodeBadPull {
		t.Error(err)
	}
}

func TestAWholeFeedThatIsSkippedStillMovesTheCursor(t *testing.T) {
	o := newOffice()
	must(receive(o.keeper, written(logB, 9), sender, noon, allowAll))
	o.hall.Skip = skipping(func(journal.Line) bool { return true })
	body := must(o.hall.Pull("site-1", "", 2))
	var end sliceEnd
	if json.Unmarshal(body, &end) != nil || *end.More || end.Skipped != 9 {
		t.Errorf("%s", body)
	}
	if news, behind, err := o.hall.news([]string{"site-1"}, map[string]string{"site-1": end.Cursor}); news != nil || behind != 0 || err != nil {
		t.Errorf("%v %d %v", news, behind, err)
	}
}

// skipping is a Hall's Skip by single lines.
func skipping(skip func(journal.Line) bool) func([]Stored) ([]bool, error) {
	return func(page []Stored) ([]bool, error) {
		skips := make([]bool, len(page))
		for i, p := range page {
			skips[i] = skip(p.Line)
		}
		return skips, nil
	}
}

// What cannot be told from what a phone needs is not left out: the pull fails, and is tried again.
func TestAPullFailsWhereSkipDoes(t *testing.T) {
	o := newOffice()
	must(receive(o.keeper, written(logB, 3), sender, noon, allowAll))
	o.hall.Skip = func([]Stored) ([]bool, error) { return nil, errFull }
	if body, err := o.hall.Pull("site-1", "", 2); err != errFull || body != nil {
		t.Errorf("%q %v", body, err)
	}
}

// What came into a feed out of a file that was found again may be all that is left of it: the phone asks the server once whether
// it lacks any of it, however well it knows the store.
func TestWhatWasFoundAgainIsComparedOnce(t *testing.T) {
	o, h := newOffice(), newHand(t)
	h.turn(o, true).save(0, 3)
	if h.turn(o, true); slices.Contains(o.seen, PathFrontiers) {
		t.Fatalf("compared without need: %v", o.seen)
	}
	if err := h.pool.State().Set(journal.KeyMerged, true); err != nil {
		t.Fatal(err)
	}
	h.start(false)
	if h.turn(o, true); !slices.Contains(o.seen, PathFrontiers) || h.fault != "" || h.Standing().Unsent != 0 {
		t.Errorf("carried %v, %s, %d unsent", o.seen, h.fault, h.Standing().Unsent)
	}
	if _, still := h.pool.State().Get(journal.KeyMerged); still {
		t.Error("it will be compared again and again")
	}
	h.start(false)
	if h.turn(o, true); slices.Contains(o.seen, PathFrontiers) {
		t.Errorf("compared again: %v", o.seen)
	}
}
