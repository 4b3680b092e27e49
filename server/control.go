package main

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"jointwalk/server/copies"
	"jointwalk/server/store/bolt"
)

// source is what copies of a data folder are made of. The folder of ACME stays out: its key would let a thief of a copy
// pass for this server at any phone, and a restored server has a new certificate issued within a minute. The own authority
// (https) goes along, since all phones would have to trust a new one.
func source(data string, copyStore func(context.Context, io.Writer) error, random io.Reader) copies.Source {
	return copies.Source{Data: data, Program: built, Skip: []string{bolt.BeforePrefix + "*", ".probe", acmeFolder},
		Store: copies.Store{Copy: copyStore, Check: faultsOf, Renew: func(path string) error { return bolt.Renew(path, random) }}}
}

// faultsOf checks a store and gives what is wrong with it.
func faultsOf(path string) ([]string, error) {
	report, err := bolt.Check(path)
	if err != nil {
		return nil, err
	}
	return report.Faults, nil
}

// tending drops what a crash or a restore left of withdrawn pictures, which reads all events and so keeps nobody waiting, and
// makes the nightly copies until ctx ends. What it gives is closed when nothing of it is on its way any more.
func (h *house) tending(ctx context.Context) <-chan struct{} {
	ended := make(chan struct{})
	ticks := time.NewTicker(time.Minute)
	go func() {
		defer close(ended)
		defer ticks.Stop()
		if err := h.album.Sweep(); err != nil {
			h.notDropped(err)
		}
		h.copies.Run(ctx, ticks.C)
	}()
	return ended
}

// copied is what the running server answers to the backup command.
type copied struct {
	Path  string `json:"path,omitempty"`
	Error string `json:"error,omitempty"`
}

// control opens the socket by which commands ask the running server, since no other process can read its store. Only those
// who may write to the data folder reach it. A copy that is on its way ends with ctx.
func (h *house) control(ctx context.Context) (listening, error) {
	path := filepath.Join(h.options.data, copies.Control)
	if err := os.Remove(path); err != nil && !errors.Is(err, fs.ErrNotExist) { // of a server that was killed: we hold the store
		return listening{}, err
	}
	port, err := net.Listen("unix", path)
	if err != nil {
		return listening{}, err
	}
	if err := os.Chmod(path, 0o600); err != nil {
		return listening{}, errors.Join(err, port.Close())
	}
	answer := func(made func(context.Context, *http.Request) any) http.HandlerFunc {
		return func(w http.ResponseWriter, r *http.Request) {
			asked, cancel := context.WithCancel(r.Context())
			defer cancel()
			defer context.AfterFunc(ctx, cancel)()
			w.Header().Set("Content-Type", "application/json")
			_ = json.NewEncoder(w).Encode(made(asked, r)) // one who has gone needs no answer
		}
	}
	routes := http.NewServeMux()
	routes.HandleFunc("POST /copy", answer(func(ctx context.Context, r *http.Request) any { return h.copyInto(ctx, r.FormValue("into")) }))
	routes.HandleFunc("POST /invite", answer(func(_ context.Context, r *http.Request) any { return h.inviteNamed(r.FormValue("name")) }))
	routes.HandleFunc("POST /trail", answer(func(_ context.Context, r *http.Request) any { return readTrail(h.store, r.FormValue("noted")) }))
	return listening{&http.Server{Handler: routes, ReadHeaderTimeout: 10 * time.Second}, port}, nil
}

func (h *house) copyInto(ctx context.Context, folder string) copied {
	if !filepath.IsAbs(folder) {
		return copied{Error: "the folder must be absolute"}
	}
	made, err := h.copies.Make(ctx, folder)
	if err != nil {
		return copied{Error: err.Error()}
	}
	return copied{Path: made.Path}
}

// askServer asks the server that runs over a data folder. It says whether there is one.
func askServer(ctx context.Context, data, what string, with url.Values, into any) (running bool, err error) {
	dial := func(ctx context.Context, _, _ string) (net.Conn, error) {
		return (&net.Dialer{}).DialContext(ctx, "unix", filepath.Join(data, copies.Control))
	}
	client := &http.Client{Transport: &http.Transport{DialContext: dial}}
	request, err := http.NewRequestWithContext(ctx, http.MethodPost, "http://control/"+what+"?"+with.Encode(), nil)
	if err != nil {
		return false, err
	}
	reply, err := client.Do(request)
	if errors.Is(err, syscall.ECONNREFUSED) || errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return true, err
	}
	defer reply.Body.Close() // read only: closing cannot lose anything
	if err := json.NewDecoder(reply.Body).Decode(into); err != nil {
		return true, fmt.Errorf("the running server broke off: %w", err)
	}
	return true, nil
}

// askCopy asks the running server for a copy.
func askCopy(ctx context.Context, data, folder string) (path string, running bool, err error) {
	var made copied
	running, err = askServer(ctx, data, "copy", url.Values{"into": {folder}}, &made)
	if err == nil && made.Error != "" {
		err = errors.New(made.Error)
	}
	return made.Path, running, err
}
