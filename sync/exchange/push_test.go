package exchange

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
	"time"

	"jointwalk/sync/journal"
)

func TestPush(t *testing.T) {
	k, p := newKeeper(), newPhone(logA)
	lines := must(p.pool.Log().Append(drafts(0, 3)))
	batch := must(p.outbox.Next())
	if string(batch.Body()) != texts(lines) || p.outbox.Unsent() != 3 {
		t.Fatalf("%d unsent, %s", p.outbox.Unsent(), batch.Body())
	}
	out, err := p.outbox.Answer(batch, push(t, k, batch.Body()))
	if err != nil || out.Applied != 3 || out.Duplicate+len(out.Aside) != 0 || out.Forked || out.Now != "2026-03-04T12:00:00.000Z" {
		t.Fatalf("%+v %v", out, err)
	}
	if p.outbox.Unsent() != 0 || !must(p.outbox.Next()).Empty() || p.outbox.Acked()[logA] != 3 {
		t.Error("acknowledged events are still unsent")
	}
	for i, s := range k.feed["site-1"] {
		if !bytes.Equal(s.Line, lines[i]) || s.Receipt != sealedReceipt(lines[i], uint64(i+1)) {
			t.Errorf("%d: %+v", i, s.Receipt)
		}
	}
}

// sealedReceipt is what the server gives for the n-th line of this sender.
func sealedReceipt(line journal.Line, n uint64) Receipt {
	r := Receipt{At: "2026-03-04T12:00:00.000Z", Offset: -90000, From: "device-1"}
	r.Seal, r.N = sealed(journal.Hash(line), r), n
	return r
}

// The answer is lost: the same batch goes again, is answered with duplicates, and counts as sent.
func TestALostAnswer(t *testing.T) {
	k, p := newKeeper(), newPhone(logA)
	must(p.pool.Log().Append(drafts(0, 3)))
	batch := must(p.outbox.Next())
	push(t, k, batch.Body())
	again := must(p.outbox.Next())
	if !bytes.Equal(batch.Body(), again.Body()) {
		t.Fatal("another batch the second time")
	}
	out, err := p.outbox.Answer(again, push(t, k, again.Body()))
	if err != nil || out.Duplicate != 3 || out.Applied != 0 || p.outbox.Unsent() != 0 || len(k.feed["site-1"]) != 3 {
		t.Errorf("%+v %v, %d unsent, %d in the feed", out, err, p.outbox.Unsent(), len(k.feed["site-1"]))
	}
}

// An answer that comes late, after more was acknowledged, takes nothing back.
func TestAckedOnlyGrows(t *testing.T) {
	k, p := newKeeper(), newPhone(logA)
	must(p.pool.Log().Append(drafts(0, 2)))
	early := must(p.outbox.Next())
	late := push(t, k, early.Body())
	must(p.pool.Log().Append(drafts(2, 5)))
	all := must(p.outbox.Next())
	must(p.outbox.Answer(all, push(t, k, all.Body())))
	must(p.outbox.Answer(early, late))
	if p.outbox.Acked()[logA] != 5 || p.outbox.Unsent() != 0 {
		t.Errorf("%v", p.outbox.Acked())
	}
}

func TestAckedOutlivesARestart(t *testing.T) {
	files := make([]journal.File, 6)
	for i := range files {
		files[i] = &journal.Memory{}
	}
	k, p := newKeeper(), newPhone(logA, files...)
	must(p.pool.Log().Append(drafts(0, 3)))
	batch := must(p.outbox.Next())
	must(p.outbox.Answer(batch, push(t, k, batch.Body())))
	must(p.pool.Log().Append(drafts(3, 4)))
	p = newPhone(logB, files...)
	if p.outbox.Unsent() != 1 || len(must(p.outbox.Next()).Lines) != 1 {
		t.Errorf("%d unsent", p.outbox.Unsent())
	}
}

func TestNotesThatFailLeaveTheBatchUnsent(t *testing.T) {
	k, n := newKeeper(), &notes{fail: true}
	l := must(journal.OpenLog(&journal.Memory{}, logA))
	must(l.Append(drafts(0, 2)))
	o := must(NewOutbox(l, n))
	batch := must(o.Next())
	if _, err := o.Answer(batch, push(t, k, batch.Body())); err != errFull || o.Unsent() != 2 {
		t.Errorf("%v, %d unsent", err, o.Unsent())
	}
	n.fail = false
	if out, err := o.Answer(batch, push(t, k, batch.Body())); err != nil || out.Duplicate != 2 || o.Unsent() != 0 {
		t.Errorf("%+v %v", out, err)
	}
}

func TestDamagedNotesSendAllAgain(t *testing.T) {
	l := must(journal.OpenLog(&journal.Memory{}, logA))
	must(l.Append(drafts(0, 2)))
	for _, raw := range []string{"7", "null", `{"x":-1}`} {
		o := must(NewOutbox(l, &notes{values: map[string]json.RawMessage{"acked": json.RawMessage(raw)}}))
		if o.Unsent() != 2 {
			t.Errorf("%s: %d unsent", raw, o.Unsent())
		}
		batch := must(o.Next())
		must(o.Answer(batch, push(t, newKeeper(), batch.Body())))
	}
}

func TestOneBadEventBlocksNothing(t *testing.T) {
	k := newKeeper()
	lines := written(logA, 4)
	lines[1] = journal.Line(`{"v":1}`)
	lines[2] = append(lines[2], make([]byte, journal.MaxLine)...)
	answer := must(receive(k, lines, sender, noon, allowAll))
	want := []Verdict{{logA, 1, Applied, ""}, {"", 0, Aside, journal.CodeBadLine}, {"", 0, Aside, journal.CodeLineTooLong}, {logA, 4, Applied, ""}}
	for i, v := range answer.Answers {
		if v != want[i] {
			t.Errorf("%d: %+v", i, v)
		}
	}
	if answer.Upto[logA] != 1 || len(answer.Upto) != 1 || len(k.aside) != 2 {
		t.Errorf("%+v", answer)
	}
}

func TestWhatIsNotAllowedIsSetAsideAndAcknowledged(t *testing.T) {
	k, p := newKeeper(), newPhone(logA)
	must(p.pool.Log().Append(drafts(0, 3)))
	batch := must(p.outbox.Next())
	allow := func(e journal.Event) string {
		if e.Seq == 2 {
			return "not-on-site"
		}
		return ""
	}
	answer := must(receive(k, batch.Lines, sender, noon, allow))
	out, err := p.outbox.Answer(batch, must(json.Marshal(answer)))
	if err != nil || out.Applied != 2 || len(out.Aside) != 1 || out.Aside[0] != (Verdict{logA, 2, Aside, "not-on-site"}) || out.Forked || p.outbox.Unsent() != 0 {
		t.Errorf("%+v %v", out, err)
	}
}

// What the server could not parse is told to the phone under the event's own number.
func TestUnreadableVerdictIsMatchedByPlace(t *testing.T) {
	p := newPhone(logA)
	must(p.pool.Log().Append(drafts(0, 1)))
	batch := must(p.outbox.Next())
	out, err := p.outbox.Answer(batch, []byte(`{"answers":[{"log":"","seq":0,"is":"aside","code":"bad-line"}],"upto":{},"now":"x"}`))
	if err != nil || len(out.Aside) != 1 || out.Aside[0] != (Verdict{logA, 1, Aside, "bad-line"}) || p.outbox.Unsent() != 0 {
		t.Errorf("%+v %v", out, err)
	}
}

// A restored phone writes another seq 1: the server sets it aside, the phone begins a new log, and both histories are there.
func TestAFork(t *testing.T) {
	k := newKeeper()
	must(receive(k, written(logA, 2), sender, noon, allowAll))
	p := newPhone(logA)
	must(p.pool.Log().Append(drafts(50, 51)))
	batch := must(p.outbox.Next())
	out, err := p.outbox.Answer(batch, push(t, k, batch.Body()))
	if err != nil || !out.Forked || len(k.aside) != 1 {
		t.Fatalf("%+v %v", out, err)
	}
	p.pool.Log().Renew(logB)
	must(p.pool.Log().Append(drafts(51, 53)))
	batch = must(p.outbox.Next())
	if out, err = p.outbox.Answer(batch, push(t, k, batch.Body())); err != nil || out.Applied != 2 || p.outbox.Unsent() != 0 {
		t.Errorf("%+v %v", out, err)
	}
	if len(k.feed["site-1"]) != 4 || p.outbox.Acked()[logB] != 2 {
		t.Errorf("%d in the feed", len(k.feed["site-1"]))
	}
}

func TestAServerErrorKeepsAll(t *testing.T) {
	k := newKeeper()
	k.fail = errFull
	if _, err := receive(k, written(logA, 1), sender, noon, allowAll); err != errFull {
		t.Error(err)
	}
}

func TestReceiveNothing(t *testing.T) {
	answer := must(receive(newKeeper(), nil, Sender{Device: "d"}, noon, allowAll))
	if got := string(must(json.Marshal(answer))); got != `{"answers":[],"upto":{},"now":"2026-03-04T12:00:00.000Z"}` {
		t.Error(got)
	}
}

func TestASenderWithoutAClockHasNoOffset(t *testing.T) {
	k := newKeeper()
	must(receive(k, written(logA, 1), Sender{Device: "d"}, noon.In(time.FixedZone("x", 3600)), allowAll))
	if r := k.feed["site-1"][0].Receipt; r.Offset != 0 || r.At != "2026-03-04T12:00:00.000Z" {
		t.Errorf("%+v", r)
	}
}

func TestReceiveWithoutADevicePanics(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("a push without a device was taken: its receipts could not be read")
		}
	}()
	receive(newKeeper(), written(logA, 1), Sender{}, noon, allowAll)
}

// What both sides agreed on: a change here leaves phones behind that are not updated.
func TestBoundsAreThoseAgreed(t *testing.T) {
	if MaxBatch != 200 || MaxBatchBytes != 256<<10 || journal.MaxLine != 16<<10 {
		t.Error(MaxBatch, MaxBatchBytes, journal.MaxLine)
	}
}

func TestSplitBatch(t *testing.T) {
	if got := must(SplitBatch([]byte("a\n\nb\n"))); texts(got) != "a\nb\n" {
		t.Error(texts(got))
	}
	if _, err := SplitBatch(bytes.Repeat([]byte("a\n"), MaxBatch+1)); journal.CodeOf(err) != CodeTooMuch {
		t.Error(err)
	}
	if _, err := SplitBatch(make([]byte, MaxBatchBytes+journal.MaxLine+1)); journal.CodeOf(err) != CodeTooMuch {
		t.Error(err)
	}
}

// Every batch that an outbox makes is one that the server takes.
func TestBatchesFit(t *testing.T) {
	p := newPhone(logA)
	long := drafts(0, 60)
	for i := range long {
		long[i].Body = map[string]string{"x": strings.Repeat("y", 15000)}
	}
	must(p.pool.Log().Append(long))
	must(p.pool.Log().Append(drafts(60, 360)))
	k, most, rounds := newKeeper(), 0, 0 // 17 + 17 + 17, 9 long and 191 short, 109
	for batch := must(p.outbox.Next()); !batch.Empty(); batch = must(p.outbox.Next()) {
		if len(batch.Body()) > MaxBatchBytes {
			t.Errorf("%d bytes", len(batch.Body()))
		}
		must(p.outbox.Answer(batch, push(t, k, batch.Body())))
		most, rounds = max(most, len(batch.Lines)), rounds+1
	}
	if len(k.feed["site-1"]) != 360 || most != MaxBatch || rounds != 5 {
		t.Errorf("%d in the feed, %d at most, %d rounds", len(k.feed["site-1"]), most, rounds)
	}
}

func TestAnswersAreReadStrictly(t *testing.T) {
	p := newPhone(logA)
	must(p.pool.Log().Append(drafts(0, 1)))
	batch := must(p.outbox.Next())
	good := string(push(t, newKeeper(), batch.Body()))
	for name, body := range map[string]string{
		"empty": "", "page": "<html>", "null": "null", "no answers": `{"upto":{},"now":"x"}`, "cut": good[:len(good)-1], "twice": good + good,
		"none":     strings.Replace(good, good[strings.Index(good, "[")+1:strings.Index(good, "]")], "", 1),
		"one more": strings.Replace(good, "]", `,{"log":"`+logA+`","seq":2,"is":"applied"}]`, 1),
		"is":       strings.Replace(good, "applied", "taken", 1), "seq": strings.Replace(good, `"seq":1`, `"seq":2`, 1),
		"log": strings.Replace(good, logA, logB, 1), "code": strings.Replace(good, `"applied"`, `"applied","code":"x"`, 1),
		"no code": strings.Replace(good, "applied", "aside", 1), "now": strings.Replace(good, "2026-03-04T12:00:00.000Z", "", 1),
		"unread": strings.Replace(strings.Replace(good, logA, "", 1), `"seq":1`, `"seq":0`, 1),
	} {
		if out, err := p.outbox.Answer(batch, []byte(body)); journal.CodeOf(err) != CodeBadAnswer || p.outbox.Unsent() != 1 {
			t.Errorf("%s was taken: %+v %v", name, out, err)
		}
	}
	later := strings.Replace(good, `"now"`, `"later":{},"now"`, 1)
	if _, err := p.outbox.Answer(batch, []byte(later)); err != nil {
		t.Errorf("an unknown field: %v", err)
	}
}

// The server's frontier alone acknowledges nothing: it may speak of another history.
func TestUptoIsNotBelieved(t *testing.T) {
	p := newPhone(logA)
	must(p.pool.Log().Append(drafts(0, 2)))
	batch := must(p.outbox.Next())
	batch.Lines = batch.Lines[:1]
	body := `{"answers":[{"log":"` + logA + `","seq":1,"is":"duplicate"}],"upto":{"` + logA + `":99},"now":"x"}`
	if _, err := p.outbox.Answer(batch, []byte(body)); err != nil || p.outbox.Unsent() != 1 {
		t.Errorf("%v, %d unsent", err, p.outbox.Unsent())
	}
}

func TestBackoff(t *testing.T) {
	var b Backoff
	for i, want := range []time.Duration{1, 2, 4, 8, 16, 32, 64, 128, 150, 150} {
		low := b
		if got := low.Failed(0); got != want*time.Second {
			t.Errorf("try %d, jitter 0: %v, want %v s", i, got, int(want))
		}
		if got := b.Failed(0.999999); got < want*time.Second || got > min(2*want*time.Second, MaxWait) {
			t.Errorf("try %d, jitter 1: %v", i, got)
		}
	}
	for range 1000 {
		if got := b.Failed(0.5); got < MinWait || got > MaxWait {
			t.Fatal(got)
		}
	}
	b.Succeeded()
	if got := b.Failed(0); got != time.Second {
		t.Error(got)
	}
}
