package main

import (
	"encoding/json"
	"fmt"
	"strings"
	"time"

	"jointwalk/server/store/memory"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// send lets the phone send what it wrote to a server, so that its files hold what
// it remembers of one.
func (w *writer) send() error {
	s := memory.NewEvents(strings.Repeat("08", 16))
	now := func() time.Time { return w.at }
	phone, err := exchange.OpenPhone(w.pool, exchange.PhoneEnv{
		NewID: func() (string, error) { return w.id(), nil }, Now: now, Jitter: func() float64 { return 0 }, App: "frozen",
	})
	if err != nil {
		return err
	}
	hall := &exchange.Hall{
		Keeper: s, Feed: s, Now: now, Register: register{},
		Judge: func(e journal.Event) (exchange.Judgement, error) {
			return exchange.Judgement{To: record.MovesTo(e)}, nil
		},
		Seal: func(hash string, _ exchange.Receipt) string { return hash[:16] },
	}
	phone.Begin(false)
	for request, some := phone.Next(); some; request, some = phone.Next() {
		answer, err := answered(hall, request)
		if err != nil {
			return err
		}
		if news := phone.Took(exchange.Reply{Status: 200, Body: answer}); news.Fault != "" {
			return fmt.Errorf("%s: %s", request.Path, news.Fault)
		}
	}
	return nil
}

func answered(hall *exchange.Hall, request exchange.Request) ([]byte, error) {
	var answer any
	var err error
	switch request.Path {
	case exchange.PathMeet:
		var greeting exchange.Greeting
		if err = json.Unmarshal(request.Body, &greeting); err == nil {
			me := json.RawMessage(`{"person":{"id":"` + technician + `","name":"A technician"},"device":{"id":"` + phoneID + `","name":"A phone"},"sites":[]}`)
			answer, err = hall.Meet(greeting, exchange.Caller{Device: phoneID, Me: me, Mark: journal.Hash(journal.Line(me))}, "frozen")
		}
	case exchange.PathPush:
		var lines []journal.Line
		if lines, err = exchange.SplitBatch(request.Body); err == nil {
			answer, err = hall.Push(lines, exchange.Sender{Device: phoneID})
		}
	default:
		err = fmt.Errorf("nobody answers %s", request.Path)
	}
	if err != nil {
		return nil, err
	}
	return json.Marshal(answer)
}

// register knows one phone and lets it in.
type register struct{}

func (register) Meet(string, string, uint64, []string) (exchange.Met, error) {
	return exchange.Met{}, nil
}

func (register) Writer(string) (string, bool, error) { return phoneID, true, nil }

func (register) Enrolled(string) ([]string, error) { return []string{technician}, nil }

func (register) At(string, string) (bool, error) { return true, nil }
