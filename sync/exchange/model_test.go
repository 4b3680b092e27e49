package exchange

import (
	"encoding/json"
	"testing"

	"jointwalk/sync/journal"
	"jointwalk/sync/journal/badfile"
	"pgregory.net/rapid"
)

// world is a phone over files that may crash, a server, and a network that loses and delays.
type world struct {
	t      *testing.T
	k      *keeper
	files  []journal.File
	phone  *phone
	starts int
	next   int

	saved []journal.Line // acknowledged by the phone's log
	sent  int            // how many of them the phone counted as sent
	old   []flight       // answers on their way
	slice []byte         // a slice that may come again
}

// flight is an answer with the batch that it answers.
type flight struct {
	batch  Batch
	answer []byte
}

func newWorld(t *testing.T) *world {
	w := &world{t: t, k: newKeeper()}
	for range 6 {
		w.files = append(w.files, badfile.New(nil))
	}
	w.phone = newPhone(logA, w.files...)
	return w
}

func (w *world) save(rt *rapid.T) {
	n := rapid.IntRange(1, 3).Draw(rt, "events")
	w.saved = append(w.saved, must(w.phone.pool.Log().Append(drafts(w.next, w.next+n)))...)
	w.next += n
}

// other is another phone that writes to the same site.
func (w *world) other(rt *rapid.T) {
	lines := written(logB, rapid.IntRange(1, 8).Draw(rt, "of another phone"))
	must(receive(w.k, lines, Sender{Device: "device-2"}, noon, allowAll))
}

// post sends a batch; the answer is taken at once, later, or never.
func (w *world) post(rt *rapid.T) {
	batch := must(w.phone.outbox.Next())
	if batch.Empty() {
		return
	}
	if n := rapid.IntRange(1, len(batch.Lines)).Draw(rt, "size"); n < len(batch.Lines) {
		batch.Lines = batch.Lines[:n]
	}
	answer := push(w.t, w.k, batch.Body())
	switch rapid.IntRange(0, 2).Draw(rt, "answer") {
	case 0:
		must(w.phone.outbox.Answer(batch, answer))
	case 1:
		w.old = append(w.old, flight{batch, answer})
	}
}

func (w *world) late(rt *rapid.T) {
	if len(w.old) > 0 {
		f := rapid.SampledFrom(w.old).Draw(rt, "late answer")
		must(w.phone.outbox.Answer(f.batch, f.answer))
	}
}

func (w *world) pull(rt *rapid.T) {
	if w.slice == nil || rapid.IntRange(0, 3).Draw(rt, "again") > 0 {
		w.slice = must(pull(w.k, "site-1", w.phone.inbox.Cursor(), rapid.IntRange(1, 4).Draw(rt, "max")))
		return // it comes in later, perhaps twice
	}
	must(w.phone.inbox.Apply(w.slice))
}

func (w *world) crash(rt *rapid.T) {
	power := &badfile.Power{Left: rapid.IntRange(0, 5).Draw(rt, "left")}
	for _, f := range w.files {
		f.(*badfile.File).Power = power
	}
	if batch := must(w.phone.outbox.Next()); !batch.Empty() {
		w.phone.outbox.Answer(batch, push(w.t, w.k, batch.Body()))
	}
	w.phone.inbox.Apply(must(pull(w.k, "site-1", w.phone.inbox.Cursor(), 3)))
	keep := rapid.IntRange(0, 800).Draw(rt, "keep")
	for i, f := range w.files {
		w.files[i] = f.(*badfile.File).Crash(keep)
	}
	w.starts++
	w.sent = 0 // a note that was not flushed may be gone, no more than that
	w.phone = newPhone(uid(200+w.starts), w.files...)
}

// check: what counts as sent is at the server, nothing is there twice, and sent never shrinks in one life.
func (w *world) check(rt *rapid.T) {
	sent := len(w.saved) - w.phone.outbox.Unsent()
	if sent < w.sent {
		rt.Fatalf("sent went from %d to %d", w.sent, sent)
	}
	w.sent = sent
	for _, line := range w.saved[:sent] {
		e := must(journal.Parse(line))
		if w.k.held[e.Log][e.Seq] != journal.Hash(line) {
			rt.Fatalf("seq %d counts as sent and is not at the server", e.Seq)
		}
	}
	seen := map[string]bool{}
	for i, s := range w.k.feed["site-1"] {
		if hash := journal.Hash(s.Line); seen[hash] || s.Receipt.N != uint64(i+1) {
			rt.Fatalf("%d comes twice, or not in order", i)
		} else {
			seen[hash] = true
		}
	}
}

// quiet: with a network that works, both sides come to hold the same.
func (w *world) quiet(rt *rapid.T) {
	for batch := must(w.phone.outbox.Next()); !batch.Empty(); batch = must(w.phone.outbox.Next()) {
		must(w.phone.outbox.Answer(batch, push(w.t, w.k, batch.Body())))
	}
	for more := true; more; {
		more = must(w.phone.inbox.Apply(must(pull(w.k, "site-1", w.phone.inbox.Cursor(), 3)))).More
	}
	i, feed := 0, w.k.feed["site-1"]
	err := must(w.phone.pool.Site("site-1")).Each(func(p journal.Pair) bool {
		if i >= len(feed) || string(p.Line) != string(feed[i].Line) || p.Receipt != feed[i].Receipt {
			rt.Fatalf("pair %d differs", i)
		}
		i++
		return true
	})
	if err != nil || i != len(feed) || w.phone.outbox.Unsent() != 0 {
		rt.Fatalf("%v: %d of %d pairs, %d unsent", err, i, len(feed), w.phone.outbox.Unsent())
	}
	w.check(rt)
	if len(w.k.aside) != 0 {
		rt.Fatalf("set aside: %v", w.k.aside)
	}
}

// Lost, late and repeated answers, repeated slices and crashes: each event is at the server once, and back on the phone once.
func TestExchangeAgainstAModel(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		w := newWorld(t)
		rt.Repeat(map[string]func(*rapid.T){"save": w.save, "other": w.other, "post": w.post, "late": w.late, "pull": w.pull,
			"crash": w.crash, "quiet": w.quiet, "": w.check})
		w.quiet(rt)
	})
}

// Whatever comes as an answer, it is refused or acknowledges exactly the batch.
func FuzzAnswer(f *testing.F) {
	lines := written(logA, 2)
	batch := Batch{Lines: lines}
	good := must(json.Marshal(must(receive(newKeeper(), lines, sender, noon, allowAll))))
	for _, seed := range []string{string(good), "", "null", "{}", `{"answers":[],"now":"x"}`, `{"answers":[null,null],"now":"x"}`} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		l := must(journal.OpenLog(&journal.Memory{}, logA))
		must(l.Append(drafts(0, 3)))
		o := must(NewOutbox(l, &notes{}))
		out, err := o.Answer(batch, body)
		if err != nil {
			if journal.CodeOf(err) != CodeBadAnswer || o.Unsent() != 3 {
				t.Errorf("%v, %d unsent", err, o.Unsent())
			}
			return
		}
		if out.Applied+out.Duplicate+len(out.Aside) != 2 || o.Unsent() != 1 {
			t.Errorf("%+v, %d unsent", out, o.Unsent())
		}
	})
}

// Whatever comes as a slice, it is refused whole or kept whole.
func FuzzSlice(f *testing.F) {
	good := must(pull(filled(2), "site-1", "", 0))
	for _, seed := range []string{string(good), string(good[:50]), "", "\n", `{"cursor":"x","more":false}` + "\n", "null\n"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, body []byte) {
		n := &notes{}
		s := &shelf{notes: n}
		in := NewInbox("site-1", s, n)
		slice, err := in.Apply(body)
		if err != nil {
			if journal.CodeOf(err) != CodeBadPull || len(s.pairs) != 0 || in.Cursor() != "" {
				t.Errorf("%v, %d kept", err, len(s.pairs))
			}
			return
		}
		if slice.Cursor == "" || in.Cursor() != slice.Cursor || len(slice.Added) != len(s.pairs) {
			t.Errorf("%+v", slice)
		}
		for _, p := range s.pairs {
			if _, err := journal.Parse(p.Line); err != nil {
				t.Error(err)
			}
		}
	})
}

// Whatever is pushed and whatever a cursor says, the server answers each line and every answer can be read.
func FuzzReceive(f *testing.F) {
	for _, seed := range []string{texts(written(logA, 2)), "", "\n\n", "{}", "null\nx"} {
		f.Add([]byte(seed), "AAAA")
	}
	f.Fuzz(func(t *testing.T, body []byte, cursor string) {
		lines, err := SplitBatch(body)
		if err != nil {
			return
		}
		k := newKeeper()
		answer, err := receive(k, lines, sender, noon, allowAll)
		if err != nil || len(answer.Answers) != len(lines) {
			t.Fatalf("%v, %d answers to %d lines", err, len(answer.Answers), len(lines))
		}
		if _, err := parseAnswer(must(json.Marshal(answer))); err != nil {
			t.Error(err)
		}
		if _, _, err := parseSlice(must(pull(k, "site-1", cursor, 0))); err != nil {
			t.Error(err)
		}
	})
}
