package main

import (
	"context"
	"errors"
	"io"
	"log/slog"
	"net"
	"net/http"
	"os"
	"strings"
	"testing"
	"time"
)

var quiet = slog.New(slog.DiscardHandler)

func TestPortTaken(t *testing.T) {
	taken, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	defer taken.Close()
	_, err = listen(taken.Addr().String(), http.NotFoundHandler(), nil, quiet)
	if err == nil || !strings.Contains(err.Error(), "is taken by another program") || !strings.Contains(err.Error(), "--listen") {
		t.Errorf("%v", err)
	}
	if _, err := listen("nowhere:port", http.NotFoundHandler(), nil, quiet); err == nil {
		t.Error("listens on nothing")
	}
}

// A request under way when the server is stopped gets its answer; new ones find a closed port.
func TestStopsGracefully(t *testing.T) {
	began, goOn := make(chan bool), make(chan bool)
	l, err := listen("127.0.0.1:0", http.HandlerFunc(func(w http.ResponseWriter, _ *http.Request) {
		began <- true
		<-goOn
		_, _ = io.WriteString(w, "whole")
	}), nil, quiet)
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(context.Background())
	left, ended := make(chan bool, 1), make(chan error, 1)
	go func() { ended <- serve(ctx, []listening{l}, func() { left <- true }) }()
	got := make(chan string, 1)
	go func() {
		resp, err := http.Get("http://" + l.port.Addr().String())
		if err != nil {
			got <- err.Error()
			return
		}
		defer resp.Body.Close()
		body, _ := io.ReadAll(resp.Body)
		got <- string(body)
	}()
	<-began
	stop()
	<-left
	if _, err := net.DialTimeout("tcp", l.port.Addr().String(), time.Second); err == nil {
		time.Sleep(50 * time.Millisecond) // the port closes just after leaving
		if _, err := net.DialTimeout("tcp", l.port.Addr().String(), time.Second); err == nil {
			t.Error("still open")
		}
	}
	goOn <- true
	if body := <-got; body != "whole" {
		t.Errorf("%q", body)
	}
	if err := <-ended; err != nil {
		t.Error(err)
	}
}

func TestABrokenServerEndsAll(t *testing.T) {
	l, err := listen("127.0.0.1:0", http.NotFoundHandler(), nil, quiet)
	if err != nil {
		t.Fatal(err)
	}
	l.port.Close()
	if err := serve(context.Background(), []listening{l}, func() {}); err == nil {
		t.Error("no word of it")
	}
}

// Whoever does not come to the end of a request's head, of its body, or takes no answer, is cut off; here in a hundredth of the time.
func TestSlowCallersAreCutOff(t *testing.T) {
	l, err := listen("127.0.0.1:0", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		_, _ = io.Copy(io.Discard, r.Body)
		for {
			if _, err := w.Write(make([]byte, 1<<20)); err != nil {
				return
			}
		}
	}), nil, quiet)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range []*time.Duration{&l.server.ReadHeaderTimeout, &l.server.ReadTimeout, &l.server.WriteTimeout, &l.server.IdleTimeout} {
		if *d == 0 || *d > 5*time.Minute {
			t.Fatalf("%v is no limit", *d)
		}
		*d /= 500
	}
	go func() { _ = l.run() }()
	t.Cleanup(func() { l.server.Close() })
	for name, sent := range map[string]string{"nothing": "", "half a head": "GET / HTTP/1.1\r\nHost: x\r\nX-Slow: ", "half a body": "POST / HTTP/1.1\r\nHost: x\r\nContent-Length: 9\r\n\r\nhalf",
		"no reading": "GET / HTTP/1.1\r\nHost: x\r\n\r\n"} {
		conn, err := net.Dial("tcp", l.port.Addr().String())
		if err != nil {
			t.Fatal(err)
		}
		defer conn.Close()
		if _, err := io.WriteString(conn, sent); err != nil {
			t.Fatal(err)
		}
		if name == "no reading" {
			time.Sleep(l.server.WriteTimeout + 100*time.Millisecond)
		}
		_ = conn.SetReadDeadline(time.Now().Add(5 * time.Second))
		if _, err := io.Copy(io.Discard, conn); errors.Is(err, os.ErrDeadlineExceeded) {
			t.Errorf("%s: still open", name)
		}
	}
}
