package exchange

import (
	"encoding/json"
	"testing"

	"jointwalk/sync/journal"
)

// Whatever comes back, in whatever part of a turn, the phone goes on, ends its turn, and calls nothing sent that the server has
// not got.
func FuzzTook(f *testing.F) {
	for _, seed := range []string{"", "{}", "null", "<html>", `{"code":"revoked"}`, `{"code":"app-too-old"}`, `{"upto":{}}`, `{"have":9,"whole":true}`,
		`{"speaks":2,"incarnation":"x","mark":"m","now":"2026-03-04T12:00:00.000Z","me":{"device":{"id":"d"},"sites":[{"id":"site-1"}]}}`,
		`{"answers":[{"log":"` + logA + `","seq":1,"is":"applied"}],"upto":{},"now":"x"}`} {
		for _, status := range []int{0, 200, 401, 403, 404, 426, 500} {
			f.Add(status, []byte(seed), uint8(2))
		}
	}
	f.Fuzz(func(t *testing.T, status int, body []byte, at uint8) {
		o, h := newOffice(), newHand(t)
		h.turn(o, true).save(0, 3)
		content := []byte("a picture")
		if err := h.pool.Pictures().Add(journal.Hash(content), content, "2026-03-04T12:00:00.000Z"); err != nil {
			t.Fatal(err)
		}
		h.Begin(true)
		for n := 0; n < 60; n++ {
			r, some := h.Next()
			if !some {
				break
			}
			if n == int(at%8) {
				h.carry(Reply{Status: status, Body: body})
				continue
			}
			h.carry(o.answer(r))
		}
		if h.Phone.turn != nil {
			t.Fatal("a turn without end")
		}
		h.start(false)
		delivered(t, o, h)
	})
}

// delivered: what is not unsent, nor known to be set aside, is at the server after another turn at the latest.
func delivered(t *testing.T, o *office, h *hand) {
	t.Helper()
	sent := 3 - h.Standing().Unsent
	if at := len(o.feed["site-1"]) + h.Standing().Asides; at < sent {
		t.Errorf("%d called sent, %d at the server", sent, at)
	}
}

// Whatever a phone says of itself, the server answers it or refuses it, and what it answers can be read.
func FuzzGreeting(f *testing.F) {
	f.Add([]byte(`{"speaks":2,"log":"` + logA + `","seq":3,"cursors":{"site-1":"AAAA"}}`))
	f.Add([]byte(`{"speaks":2,"earlier":["","x"],"cursors":null}`))
	f.Fuzz(func(t *testing.T, body []byte) {
		var g Greeting
		if json.Unmarshal(body, &g) != nil {
			return
		}
		o := newOffice()
		w, err := o.hall.Meet(g, o.caller(), "1")
		if (journal.CodeOf(err) == CodeTooOld) != (g.Speaks < Oldest) || err == nil && (w.Incarnation == "" || len(w.News) > 1) {
			t.Errorf("%+v %v", w, err)
		}
	})
}

// Whatever comes as pairs, it is refused whole or answered pair by pair.
func FuzzFill(f *testing.F) {
	line := written(logB, 1)[0]
	f.Add(AppendPair(nil, journal.Pair{Line: line, Receipt: sealedReceipt(line, 1)}))
	f.Add([]byte("\n\n"))
	f.Fuzz(func(t *testing.T, body []byte) {
		o := newOffice()
		answer, err := o.hall.Fill(body, sender)
		if code := journal.CodeOf(err); err != nil && code != CodeBadPull && code != CodeTooMuch {
			t.Error(err)
		}
		if pairs, bad := readPairs(body); err == nil && (bad != nil || len(pairs) != len(answer.Answers)) {
			t.Errorf("%d answers to %d pairs, %v", len(answer.Answers), len(pairs), bad)
		}
	})
}
