package main

import (
	"context"
	"crypto/tls"
	"errors"
	"fmt"
	"log/slog"
	"net"
	"net/http"
	"syscall"
	"time"
)

const graceTime = 10 * time.Second // for requests under way when the server is stopped

// listening is one server with its open port.
type listening struct {
	server *http.Server
	port   net.Listener
}

// listen opens a port, so that a taken one is known before anything is promised. A nil config serves plain http.
func listen(address string, handler http.Handler, config *tls.Config, log *slog.Logger) (listening, error) {
	port, err := net.Listen("tcp", address)
	switch {
	case errors.Is(err, syscall.EADDRINUSE):
		return listening{}, fmt.Errorf("the port of %s is taken by another program (perhaps another jointwalk); stop that one, or choose another port with --listen or --trust", address)
	case errors.Is(err, syscall.EACCES):
		return listening{}, fmt.Errorf("this user may not listen on %s; choose a port above 1023, and let the network send the wanted one there", address)
	case err != nil:
		return listening{}, fmt.Errorf("cannot listen on %s: %w", address, err)
	}
	server := &http.Server{Handler: handler, TLSConfig: config, MaxHeaderBytes: 32 << 10,
		ReadHeaderTimeout: 10 * time.Second, ReadTimeout: time.Minute, WriteTimeout: 2 * time.Minute, IdleTimeout: 2 * time.Minute, // some routes take longer
		HTTP2:    &http.HTTP2Config{MaxConcurrentStreams: 100, SendPingTimeout: time.Minute, PingTimeout: 15 * time.Second, WriteByteTimeout: 30 * time.Second},
		ErrorLog: slog.NewLogLogger(log.Handler(), slog.LevelDebug)} // handshakes that phones break off, mostly
	return listening{server, port}, nil
}

func (l listening) run() error {
	var err error
	if l.server.TLSConfig != nil {
		err = l.server.ServeTLS(l.port, "", "")
	} else {
		err = l.server.Serve(l.port)
	}
	if errors.Is(err, http.ErrServerClosed) {
		return nil
	}
	return err
}

// serve runs all until the context ends or one of them breaks, then lets what is under way come to its
// end. Leaving is called first: it ends what would never end by itself.
func serve(ctx context.Context, all []listening, leaving func()) error {
	broken := make(chan error, len(all))
	for _, l := range all {
		go func() { broken <- l.run() }()
	}
	var err error
	select {
	case <-ctx.Done():
	case err = <-broken:
	}
	leaving()
	grace, cancel := context.WithTimeout(context.Background(), graceTime)
	defer cancel()
	for _, l := range all {
		err = errors.Join(err, l.server.Shutdown(grace))
	}
	return err
}
