package main

import (
	"crypto/rand"
	"fmt"
	mrand "math/rand/v2"
	"time"

	"github.com/google/uuid"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// handset is the phone's side of the exchange as it is shipped; only its files are in memory.
type handset struct {
	*client
	phone *exchange.Phone
}

func newHandset(c *client) (*handset, error) {
	id, err := uuid.NewV7()
	if err != nil {
		return nil, err
	}
	var slots []journal.Slot
	for n := range journal.PoolSize {
		slots = append(slots, journal.Slot{Name: fmt.Sprint(n), File: &journal.Memory{}, Fresh: true})
	}
	pool, err := journal.OpenPool(slots, id.String())
	if err != nil {
		return nil, err
	}
	newID := func() (string, error) {
		id, err := uuid.NewRandomFromReader(rand.Reader)
		return id.String(), err
	}
	phone, err := exchange.OpenPhone(pool, exchange.PhoneEnv{NewID: newID, Now: time.Now, Jitter: mrand.Float64, App: "0123456789ab"})
	return &handset{c, phone}, err
}

// turned is what a turn took.
type turned struct {
	requests, added  int
	up, down         int64 // bytes of bodies
	wireUp, wireDown int64 // with their heads
}

// turn goes through a whole turn.
func (h *handset) turn() (t turned, err error) {
	up, down := h.up.Load(), h.down.Load()
	h.phone.Begin(true)
	for request, some := h.phone.Next(); some; request, some = h.phone.Next() {
		body, err := h.ask(request, false)
		if err != nil {
			return t, err
		}
		t.requests, t.up, t.down = t.requests+1, t.up+int64(len(request.Body)), t.down+int64(len(body))
		news := h.phone.Took(exchange.Reply{Status: 200, Body: body})
		if news.Fault != "" {
			return t, fmt.Errorf("the phone refused %s: %s", request.Path, news.Fault)
		}
		t.added += len(news.Added)
	}
	t.wireUp, t.wireDown = h.up.Load()-up, h.down.Load()-down
	return t, nil
}

// emptyTurn is what a phone asks that has nothing to send and misses nothing.
func emptyTurn(p plan, say func(string, ...any)) error {
	return with(p, 1, 500, func(w *world, s *server) error {
		h, err := newHandset(newClient(s.url(), w.phones[0].token))
		if err != nil {
			return err
		}
		first, err := h.turn()
		if err != nil {
			return err
		}
		if first.added == 0 {
			return fmt.Errorf("the first turn brought nothing: %+v", first)
		}
		t, err := h.turn()
		if err != nil {
			return err
		}
		say("empty turn, one site: %d request, %d bytes: up %d + %d of head, down %d + %d of head", t.requests, t.wireUp+t.wireDown,
			t.up, t.wireUp-t.up, t.down, t.wireDown-t.down)
		return nil
	})
}
