package main

import (
	"context"
	"crypto/rand"
	"fmt"
	"io"
	"slices"
	"strings"
	"testing"
	"time"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// pushes are batches of events of one log, as a phone hands them in.
func pushes(b *testing.B, log string, batches, size int) [][]exchange.Incoming {
	b.Helper()
	l, err := journal.OpenLog(&journal.Memory{}, log)
	if err != nil {
		b.Fatal(err)
	}
	all := make([][]exchange.Incoming, batches)
	for i := range all {
		drafts := make([]journal.Draft, size)
		for j := range drafts {
			drafts[j] = journal.Draft{ID: log, Time: "2026-03-04T05:06:07.089Z", Zone: "UTC", By: log, Kind: "look",
				About: journal.About{Site: log, Fixture: fmt.Sprintf("018f0000-0000-7000-8000-%012d", i%50)}, Body: map[string]string{"word": strings.Repeat("x", 120)}}
		}
		lines, err := l.Append(drafts)
		if err != nil {
			b.Fatal(err)
		}
		for _, line := range lines {
			event, err := journal.Parse(line)
			if err != nil {
				b.Fatal(err)
			}
			all[i] = append(all[i], exchange.Incoming{Line: line, Event: event, Hash: journal.Hash(line), Receipt: exchange.Receipt{At: "at", From: log}})
		}
	}
	return all
}

// took is how long each push took until more than enough were made.
func (h *house) took(b *testing.B, batches [][]exchange.Incoming, until <-chan time.Duration) (each []time.Duration, rest [][]exchange.Incoming, copied time.Duration) {
	b.Helper()
	for len(batches) > 0 {
		began := time.Now()
		if _, err := h.store.Add(batches[0]); err != nil {
			b.Fatal(err)
		}
		each, batches = append(each, time.Since(began)), batches[1:]
		select {
		case copied = <-until:
			return each, batches, copied
		default:
		}
	}
	b.Fatal("too few batches for the copy's time")
	return nil, nil, 0
}

func quantile(each []time.Duration, q float64) float64 {
	slices.Sort(each)
	return float64(each[int(q*float64(len(each)-1))].Microseconds()) / 1000
}

// A copy of a store of 100,000 events while one phone pushes ten events after another: how long it takes, and what the
// pushes took meanwhile and otherwise.
func BenchmarkCopyWhileWriting(b *testing.B) {
	o, err := readOptions([]string{"--data", b.TempDir()}, "bench", io.Discard)
	if err != nil {
		b.Fatal(err)
	}
	h, err := openHouse(o, time.Now, rand.Reader, quiet)
	if err != nil {
		b.Fatal(err)
	}
	for i := range 10 {
		for _, batch := range pushes(b, fmt.Sprintf("018f0000-0000-7000-8000-0000000000c%d", i), 20, 500) {
			if _, err := h.store.Add(batch); err != nil {
				b.Fatal(err)
			}
		}
	}
	if err := h.close(); err != nil { // a server that was started with them
		b.Fatal(err)
	}
	if h, err = openHouse(o, time.Now, rand.Reader, quiet); err != nil {
		b.Fatal(err)
	}
	batches := pushes(b, "018f0000-0000-7000-8000-0000000000a1", 20_000, 10)
	for b.Loop() {
		pause, done := make(chan time.Duration, 1), make(chan time.Duration, 1)
		time.AfterFunc(time.Second, func() { pause <- 0 })
		var calm, busy []time.Duration
		calm, batches, _ = h.took(b, batches, pause)
		go func() {
			began := time.Now()
			if _, err := h.copies.Make(context.Background(), o.copies); err != nil {
				b.Error(err)
			}
			done <- time.Since(began)
		}()
		var copied time.Duration
		busy, batches, copied = h.took(b, batches, done)
		b.ReportMetric(float64(copied.Milliseconds()), "copy-ms")
		for name, each := range map[string][]time.Duration{"calm": calm, "copying": busy} {
			b.ReportMetric(quantile(each, 0.5), name+"-p50-ms")
			b.ReportMetric(quantile(each, 0.99), name+"-p99-ms")
			b.ReportMetric(quantile(each, 1), name+"-most-ms")
		}
		b.ReportMetric(float64(len(busy)), "pushes-meanwhile")
	}
	if err := h.close(); err != nil {
		b.Fatal(err)
	}
}
