package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"sync"
	"time"

	"jointwalk/sync/exchange"
)

// pulled is what a pull of a whole feed took.
type pulled struct {
	events, skipped, requests int
	wall                      time.Duration
	slices                    []time.Duration
	bytes                     int64
	cursors                   []string // where each slice began
}

// pull goes through a site's feed from its beginning; filtered leaves out what a phone does not need.
func (c *client) pull(site string, filtered bool) (pulled, error) {
	var p pulled
	before, began := c.down.Load(), time.Now()
	for cursor, more := "", true; more; {
		at := time.Now()
		body, err := c.slice(site, cursor, filtered)
		if err != nil {
			return p, err
		}
		p.slices, p.cursors, p.requests = append(p.slices, time.Since(at)), append(p.cursors, cursor), p.requests+1
		p.events += bytes.Count(body, []byte("\n")) / 2
		if cursor, more, err = endOf(body); err != nil {
			return p, err
		}
	}
	p.wall, p.bytes = time.Since(began), c.down.Load()-before
	return p, nil
}

func (c *client) slice(site, cursor string, filtered bool) ([]byte, error) {
	path := exchange.PathPull + "?site=" + url.QueryEscape(site) + "&cursor=" + url.QueryEscape(cursor)
	if !filtered {
		path += "&all=1"
	}
	return c.ask(exchange.Request{Method: http.MethodGet, Path: path}, false)
}

// endOf reads the last line of a slice.
func endOf(body []byte) (cursor string, more bool, err error) {
	var end struct {
		Cursor string
		More   bool
	}
	last := bytes.TrimSuffix(body, []byte("\n"))
	last = last[bytes.LastIndexByte(last, '\n')+1:]
	if err := json.Unmarshal(last, &end); err != nil || end.Cursor == "" {
		return "", false, fmt.Errorf("a slice without an end: %.200q (%v)", last, err)
	}
	return end.Cursor, end.More, nil
}

// firstPull is a new phone's: a whole feed, and what of it a phone needs; then many phones at once, a slice each.
func firstPull(p plan, say func(string, ...any)) error {
	return with(p, p.phones, p.first, func(w *world, s *server) error {
		c := newClient(s.url(), w.phones[0].token)
		for _, kind := range []struct {
			name     string
			filtered bool
			runs     int
		}{{"filtered, the server's first", true, 1}, {"everything", false, p.runs}, {"filtered", true, p.runs}} {
			best, err := bestPull(c, w.site, kind.filtered, kind.runs)
			if err != nil {
				return err
			}
			if !kind.filtered && best.events != w.held {
				return fmt.Errorf("%d events pulled, %d are there", best.events, w.held)
			}
			say("first pull of %d, %s: %s, %d events in %d requests, %.0f bytes an event on the wire", w.held, kind.name, ms(best.wall), best.events,
				best.requests, float64(best.bytes)/float64(best.events))
		}
		for _, filtered := range []bool{false, true} {
			times, wall, err := crowd(w, s, filtered)
			if err != nil {
				return err
			}
			say("%d phones pull a slice at once, filtered %t: %s in all; each p50 %s, p99 %s", len(times), filtered, ms(wall), ms(share(times, 0.5)), ms(share(times, 0.99)))
		}
		return nil
	})
}

// bestPull is the fastest of several.
func bestPull(c *client, site string, filtered bool, runs int) (best pulled, err error) {
	for n := range runs {
		got, err := c.pull(site, filtered)
		if err != nil {
			return best, err
		}
		if n == 0 || got.wall < best.wall {
			best = got
		}
	}
	return best, nil
}

// crowd lets all phones pull the first slice at once.
func crowd(w *world, s *server, filtered bool) (times []time.Duration, wall time.Duration, err error) {
	errs := make([]error, len(w.phones))
	times = make([]time.Duration, len(w.phones))
	var all sync.WaitGroup
	began := time.Now()
	for n, phone := range w.phones {
		all.Go(func() {
			at := time.Now()
			_, errs[n] = newClient(s.url(), phone.token).slice(w.site, "", filtered)
			times[n] = time.Since(at)
		})
	}
	all.Wait()
	wall = time.Since(began)
	for _, one := range errs {
		if one != nil {
			return nil, 0, one
		}
	}
	return times, wall, nil
}
