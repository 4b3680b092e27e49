package exchange

import (
	"bytes"
	"encoding/json"
	"net/url"
	"strings"
	"testing"

	"jointwalk/sync/journal"
	"jointwalk/sync/journal/badfile"
)

// filled is a store with n events of logB in site-1.
func filled(n int) *keeper {
	k := newKeeper()
	must(receive(k, written(logB, n), sender, noon, allowAll))
	return k
}

func TestPullInSlices(t *testing.T) {
	k, p := filled(5), newPhone(logA)
	var got []journal.Pair
	for rounds := 1; ; rounds++ {
		s, err := p.inbox.Apply(must(pull(k, "site-1", p.inbox.Cursor(), 2)))
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, s.Added...)
		if s.Cursor != p.inbox.Cursor() || s.Cursor == "" {
			t.Errorf("%+v", s)
		}
		if !s.More {
			if rounds != 3 {
				t.Errorf("%d rounds", rounds)
			}
			break
		}
	}
	for i, pair := range got {
		if want := k.feed["site-1"][i]; !bytes.Equal(pair.Line, want.Line) || pair.Receipt != want.Receipt {
			t.Errorf("%d: %+v", i, pair.Receipt)
		}
	}
	if len(got) != 5 || p.pool.Log().Tick() != 5 {
		t.Errorf("%d events, tick %d", len(got), p.pool.Log().Tick())
	}
	before := must(json.Marshal(p.pool.State().Keys("")))
	s, err := p.inbox.Apply(must(pull(k, "site-1", p.inbox.Cursor(), 2)))
	if err != nil || len(s.Added) != 0 || s.More || string(before) != string(must(json.Marshal(p.pool.State().Keys("")))) {
		t.Errorf("an idle pull: %+v %v", s, err)
	}
}

func TestTheFormOfASlice(t *testing.T) {
	k := filled(1)
	body := string(must(pull(k, "site-1", "", 0)))
	want := string(k.feed["site-1"][0].Line) + "\n" +
		`{"n":1,"at":"2026-03-04T12:00:00.000Z","offset":-90000,"from":"device-1","seal":"` + k.feed["site-1"][0].Receipt.Seal + `"}` + "\n" +
		`{"cursor":"_AcHl44P1NAm.1","more":false}` + "\n"
	if body != want {
		t.Errorf("got  %s\nwant %s", body, want)
	}
	if empty := string(must(pull(newKeeper(), "site-1", "", 0))); len(empty) > 100 || strings.Count(empty, "\n") != 1 {
		t.Error(empty)
	}
}

func TestOwnEventsComeBackWithTheirReceipts(t *testing.T) {
	k, p := filled(2), newPhone(logA)
	own := must(p.pool.Log().Append(drafts(10, 12)))
	batch := must(p.outbox.Next())
	must(p.outbox.Answer(batch, push(t, k, batch.Body())))
	s, err := p.inbox.Apply(must(pull(k, "site-1", "", 0)))
	if err != nil || len(s.Added) != 4 {
		t.Fatalf("%+v %v", s, err)
	}
	for i, pair := range s.Added[2:] {
		if !bytes.Equal(pair.Line, own[i]) || pair.Receipt.N != uint64(3+i) {
			t.Errorf("%d: %+v", i, pair.Receipt)
		}
	}
}

func TestASliceTwiceAddsNothing(t *testing.T) {
	k, p := filled(3), newPhone(logA)
	body := must(pull(k, "site-1", "", 0))
	must(p.inbox.Apply(body))
	s, err := p.inbox.Apply(body)
	if err != nil || len(s.Added) != 0 || must(p.pool.Site("site-1")).Len() != 3 {
		t.Errorf("%+v %v", s, err)
	}
}

func TestACursorThatDoesNotBelongBeginsAnew(t *testing.T) {
	k := filled(3)
	cursor := func(i, s string, n uint64) string {
		return place{i, s, n}.cursor()
	}
	for c, events := range map[string]int{"": 3, "?": 3, "AAAA": 3, cursor("other", "site-1", 2): 3, cursor("first", "site-2", 2): 3,
		cursor("first", "site-1", 2)[:13]: 3, cursor("first", "site-1", 2) + "x": 3, cursor("first", "site-1", 2)[13:]: 3,
		cursor("first", "site-1", 2): 1, cursor("first", "site-1", 99): 0} {
		if got := strings.Count(string(must(pull(k, "site-1", c, 0))), "\n"); got != 2*events+1 {
			t.Errorf("%q: %d lines", c, got)
		}
	}
}

func TestPullBounds(t *testing.T) {
	k := newKeeper()
	l := must(journal.OpenLog(&journal.Memory{}, logB))
	long := drafts(0, 60)
	for i := range long {
		long[i].Body = map[string]string{"x": strings.Repeat("y", 15000)}
	}
	must(receive(k, must(l.Append(long)), sender, noon, allowAll))
	p, n := newPhone(logA), 0
	for more := true; more; n++ {
		body := must(pull(k, "site-1", p.inbox.Cursor(), 1<<30))
		if len(body) > MaxSliceBytes+1000 {
			t.Errorf("%d bytes", len(body))
		}
		more = must(p.inbox.Apply(body)).More
	}
	if n != 2 || must(p.pool.Site("site-1")).Len() != 60 {
		t.Errorf("%d slices", n)
	}
	k.fail = errFull
	if _, err := pull(k, "site-1", "", 0); err != errFull {
		t.Error(err)
	}
}

func TestSlicesAreReadStrictly(t *testing.T) {
	k, p := filled(2), newPhone(logA)
	good := string(must(pull(k, "site-1", "", 0)))
	rows := strings.SplitAfter(good, "\n")
	join := func(rows ...string) string { return strings.Join(rows, "") }
	for name, body := range map[string]string{
		"empty": "", "page": "<html>\n", "one byte less": good[:len(good)-1], "no end": join(rows[:4]...), "no receipt": join(rows[0], rows[2], rows[3], rows[4]),
		"cut after a pair": join(rows[:2]...), "cut in a line": good[:100], "end first": join(rows[4], rows[0], rows[1]), "twice": good + good,
		"empty line": "\n" + good, "n does not grow": join(rows[0], rows[3], rows[2], rows[1], rows[4]), "receipt first": join(rows[1], rows[0], rows[4]),
		"no cursor": join(rows[0], rows[1], `{"more":false}`+"\n"), "no more": join(rows[0], rows[1], `{"cursor":"x"}`+"\n"),
		"bad event": join("{}\n", rows[1], rows[4]),
	} {
		if s, err := p.inbox.Apply([]byte(body)); journal.CodeOf(err) != CodeBadPull || must(p.pool.Site("site-1")).Len() != 0 || p.inbox.Cursor() != "" {
			t.Errorf("%s was taken: %+v %v", name, s, err)
		}
	}
	if _, err := p.inbox.Apply([]byte(strings.Replace(good, `"more"`, `"later":1,"more"`, 1))); err != nil {
		t.Errorf("an unknown field: %v", err)
	}
}

// shelf is a Shelf that can fail and lose, and sees whether the cursor was there before the pairs.
type shelf struct {
	notes *notes
	fail  bool
	pairs []journal.Pair
	mark  string
	early bool
}

func (s *shelf) Append(pairs []journal.Pair) ([]journal.Pair, error) {
	if s.fail {
		return nil, errFull
	}
	s.early = s.early || len(s.notes.values) > 0
	s.pairs = append(s.pairs, pairs...)
	return pairs, nil
}
func (s *shelf) Len() int     { return len(s.pairs) }
func (s *shelf) Mark() string { return s.mark }

func TestTheCursorMovesAfterThePairs(t *testing.T) {
	body := must(pull(filled(2), "site-1", "", 0))
	n := &notes{}
	s := &shelf{notes: n, fail: true}
	in := NewInbox("site-1", s, n)
	if _, err := in.Apply(body); err != errFull || in.Cursor() != "" {
		t.Error("the cursor moved though the pairs were not kept")
	}
	s.fail, n.fail = false, true
	if _, err := in.Apply(body); err != errFull || in.Cursor() != "" || s.Len() != 2 {
		t.Error("a cursor that could not be kept")
	}
	s.pairs, n.fail = nil, false
	if _, err := in.Apply(body); err != nil || in.Cursor() == "" || s.early {
		t.Error("the cursor was there before the pairs")
	}
}

func TestAnIdlePullWritesNothing(t *testing.T) {
	k, n := filled(2), &notes{}
	in := NewInbox("site-1", &shelf{notes: n}, n)
	must(in.Apply(must(pull(k, "site-1", "", 0))))
	n.fail = true
	if _, err := in.Apply(must(pull(k, "site-1", in.Cursor(), 0))); err != nil {
		t.Errorf("the same cursor was written again: %v", err)
	}
}

// When the shelf has less than it had, or is another one, the old cursor would pass over what was lost.
func TestALostShelfIsPulledAgain(t *testing.T) {
	k, n := filled(3), &notes{}
	s := &shelf{notes: n, mark: "a"}
	in := NewInbox("site-1", s, n)
	must(in.Apply(must(pull(k, "site-1", "", 0))))
	kept := in.Cursor()
	s.pairs = s.pairs[:2]
	if in.Cursor() != "" {
		t.Error("a pair was lost and the cursor is believed")
	}
	s.pairs = s.pairs[:3]
	if in.Cursor() != kept {
		t.Error("nothing was lost and the cursor is not believed")
	}
	s.mark = "b"
	if in.Cursor() != "" {
		t.Error("another shelf and the cursor is believed")
	}
	s.mark = "a"
	if in.Forget() != nil || in.Cursor() != "" {
		t.Error("Forget")
	}
	n.Put(map[string]json.RawMessage{"cursor:site-1": json.RawMessage("7")})
	if in.Cursor() != "" {
		t.Error("a cursor out of nothing")
	}
}

// The power goes at each call of an Apply: after the restart the pull goes on and all is there once.
func TestApplyDiesAtEachCall(t *testing.T) {
	k := filled(4)
	for left := 0; ; left++ {
		var files []journal.File
		power := &badfile.Power{Left: 1 << 30}
		for range 6 {
			files = append(files, &badfile.File{Power: power})
		}
		p := newPhone(logA, files...)
		must(p.inbox.Apply(must(pull(k, "site-1", "", 2))))
		power.Left = left
		_, err := p.inbox.Apply(must(pull(k, "site-1", p.inbox.Cursor(), 2)))
		for keep := 0; keep < 1000; keep += 37 {
			var after []journal.File
			for _, f := range files {
				after = append(after, f.(*badfile.File).Crash(keep))
			}
			again := newPhone(logB, after...)
			for more := true; more; {
				more = must(again.inbox.Apply(must(pull(k, "site-1", again.inbox.Cursor(), 2)))).More
			}
			i := 0
			err := must(again.pool.Site("site-1")).Each(func(pair journal.Pair) bool {
				if i >= 4 || !bytes.Equal(pair.Line, k.feed["site-1"][i].Line) {
					t.Fatalf("power for %d calls, %d bytes: pair %d", left, keep, i)
				}
				i++
				return true
			})
			if err != nil || i != 4 {
				t.Fatalf("power for %d calls, %d bytes: %d pairs, %v", left, keep, i, err)
			}
		}
		if err == nil {
			return
		}
	}
}

// net/url is the reference: what it reads back is what was written.
func TestEscapeReadsBack(t *testing.T) {
	every := make([]byte, 256)
	for i := range every {
		every[i] = byte(i)
	}
	for _, value := range []string{"", "site-1.2_~", "a b&c=d+e%f#g?h/i;j", "Werk Süd", string(every)} {
		back, err := url.ParseQuery("site=" + escape(value) + "&cursor=x")
		if err != nil || back.Get("site") != value || back.Get("cursor") != "x" || len(back) != 2 {
			t.Errorf("%q as %s reads back as %v, %v", value, escape(value), back, err)
		}
	}
}
