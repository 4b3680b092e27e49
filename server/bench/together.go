package main

import (
	"bytes"
	"compress/gzip"
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"sync"
	"time"

	"jointwalk/sync/exchange"
)

// arrival is a phone that waits before the door with its batch.
type arrival struct {
	*client
	body   []byte
	packed bool
	events int
	answer []byte
	took   time.Duration
	err    error
}

// together lets all phones push at once, each one batch, plain and packed. Each has met before, and made its batch; both are
// not counted. What is counted goes from the first request to the last answer, each of which is read whole.
func together(p plan, say func(string, ...any)) error {
	for _, packed := range []bool{true, false} {
		var best time.Duration
		var told func()
		for range p.runs {
			err := with(p, p.phones, 0, func(w *world, s *server) error {
				all, err := arrivals(p, w, s, packed)
				if err != nil {
					return err
				}
				server, clients, err := s.worked()
				if err != nil {
					return err
				}
				wall := rush(all)
				serverNow, clientsNow, err := s.worked()
				if err == nil && (best == 0 || wall < best) {
					r := rushed{wall, serverNow - server, clientsNow - clients}
					best, told = wall, func() { r.tell(p, all, packed, say) }
				}
				return errors.Join(err, verdicts(all))
			})
			if err != nil {
				return err
			}
		}
		told()
	}
	return nil
}

func arrivals(p plan, w *world, s *server, packed bool) ([]*arrival, error) {
	var all []*arrival
	for n, phone := range w.phones {
		a, err := newAuthor(w, phone.person, uint64(n)+2)
		if err != nil {
			return nil, err
		}
		lines, err := a.some(p.events)
		if err != nil {
			return nil, err
		}
		one := &arrival{client: newClient(s.url(), phone.token), body: exchange.Batch{Lines: lines}.Body(), packed: packed, events: len(lines)}
		if packed {
			one.body = zip(one.body)
		}
		all = append(all, one)
		if err := one.meet(a.log.ID()); err != nil {
			return nil, err
		}
	}
	return all, nil
}

// rush lets all go at once and gives the time until the last has its answer.
func rush(all []*arrival) time.Duration {
	var ready, done sync.WaitGroup
	start := make(chan struct{})
	for _, a := range all {
		ready.Add(1)
		done.Go(func() {
			ready.Done()
			<-start
			began := time.Now()
			a.answer, a.err = a.ask(exchange.Request{Method: http.MethodPost, Path: exchange.PathPush, Type: "application/x-ndjson", Body: a.body}, a.packed)
			a.took = time.Since(began)
		})
	}
	ready.Wait()
	began := time.Now()
	close(start)
	done.Wait()
	return time.Since(began)
}

// verdicts holds every answer to saying that all was new and was kept.
func verdicts(all []*arrival) error {
	for _, a := range all {
		var answer exchange.Answer
		err := errors.Join(a.err, json.Unmarshal(a.answer, &answer))
		if err == nil {
			err = allApplied(answer, a.events)
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// rushed is what it took: time, and the processors' time on both sides.
type rushed struct{ wall, server, clients time.Duration }

func (r rushed) tell(p plan, all []*arrival, packed bool, say func(string, ...any)) {
	var times []time.Duration
	events := 0
	for _, a := range all {
		times, events = append(times, a.took), events+a.events
	}
	how := "plain"
	if packed {
		how = "gzip"
	}
	say("together: %d phones × %d events, %s: %.2f s, %.0f events/s, 0 errors; a push p50 %s, p99 %s; processors %.2f s in the server, %.2f s in the clients (best of %d)",
		len(all), p.events, how, r.wall.Seconds(), float64(events)/r.wall.Seconds(), ms(share(times, 0.5)), ms(share(times, 0.99)),
		r.server.Seconds(), r.clients.Seconds(), p.runs)
}

// zip packs as a browser does, at the usual level.
func zip(body []byte) []byte {
	var packed bytes.Buffer
	w := gzip.NewWriter(&packed)
	_, _ = w.Write(body) // into memory
	_ = w.Close()
	return packed.Bytes()
}

func unzip(body []byte) ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(body))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(r)
}
