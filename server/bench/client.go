package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"net"
	"net/http"
	"slices"
	"sync/atomic"
	"time"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

// client is a phone's way to the server: one connection that stays open, whose bytes are counted.
type client struct {
	base, token string
	http        *http.Client
	up, down    atomic.Int64 // bytes on the wire
}

func newClient(base, token string) *client {
	c := &client{base: base, token: token}
	dial := func(ctx context.Context, network, address string) (net.Conn, error) {
		var d net.Dialer
		conn, err := d.DialContext(ctx, network, address)
		return counted{conn, c}, err
	}
	c.http = &http.Client{Timeout: patience, Transport: &http.Transport{DialContext: dial, DisableCompression: true, MaxConnsPerHost: 1}}
	return c
}

// counted is a connection that counts.
type counted struct {
	net.Conn
	c *client
}

func (c counted) Read(p []byte) (int, error) {
	n, err := c.Conn.Read(p)
	c.c.down.Add(int64(n))
	return n, err
}

func (c counted) Write(p []byte) (int, error) {
	n, err := c.Conn.Write(p)
	c.c.up.Add(int64(n))
	return n, err
}

// ask carries a request of a phone and gives the body of a good answer, unpacked. packed: the body is gzip already.
func (c *client) ask(r exchange.Request, packed bool) ([]byte, error) {
	request, err := http.NewRequest(r.Method, c.base+r.Path, bytes.NewReader(r.Body))
	if err != nil {
		return nil, err
	}
	request.Header.Set("X-Jointwalk", "1")
	request.Header.Set("Origin", c.base)
	request.Header.Set("Accept-Encoding", "gzip")
	request.AddCookie(&http.Cookie{Name: "jointwalk", Value: c.token})
	for name, value := range map[string]string{"Content-Type": r.Type, exchange.ClockHeader: r.Clock} {
		if value != "" {
			request.Header.Set(name, value)
		}
	}
	if packed {
		request.Header.Set("Content-Encoding", "gzip")
	}
	answer, err := c.http.Do(request)
	if err != nil {
		return nil, err
	}
	defer answer.Body.Close()
	body, err := io.ReadAll(answer.Body)
	if err == nil && answer.Header.Get("Content-Encoding") == "gzip" {
		body, err = unzip(body)
	}
	if err == nil && answer.StatusCode != http.StatusOK {
		err = fmt.Errorf("%s %s: %d %s", r.Method, r.Path, answer.StatusCode, body)
	}
	return body, err
}

// meet tells the server of a log.
func (c *client) meet(log string) error {
	body, err := json.Marshal(exchange.Greeting{Speaks: exchange.Speaks, Log: log, Clock: time.Now().UTC().Format(journal.TimeLayout)})
	if err != nil {
		return err
	}
	_, err = c.ask(exchange.Request{Method: http.MethodPost, Path: exchange.PathMeet, Type: "application/json", Body: body}, false)
	return err
}

// question asks one of the screens' questions.
func (c *client) question(name string, args any) ([]byte, error) {
	body, err := json.Marshal(args)
	if err != nil {
		return nil, err
	}
	return c.ask(exchange.Request{Method: http.MethodPost, Path: "/api/ask/" + name, Type: "application/json", Body: body}, false)
}

// share is the smallest value that at least this share of all does not exceed; 0 for none.
func share(all []time.Duration, part float64) time.Duration {
	if len(all) == 0 {
		return 0
	}
	sorted := slices.Sorted(slices.Values(all))
	at := int(part*float64(len(sorted))+0.999999) - 1
	return sorted[max(0, min(at, len(sorted)-1))]
}

func ms(d time.Duration) string { return fmt.Sprintf("%.1f ms", float64(d.Microseconds())/1000) }
