// Command jointwalk is the server: it reads its flags, wires the parts and serves the app, with all its
// data in one folder.
package main

import (
	"context"
	"crypto/rand"
	"crypto/tls"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"net/http"
	"os"
	"os/signal"
	"path/filepath"
	"syscall"
	"time"

	"jointwalk/server/cert"
	"jointwalk/server/copies"
	"jointwalk/server/web"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(start(ctx, os.Args[1:], newGreeting(os.Stdout), os.Stderr))
}

// start runs the program and gives its exit code: 0, 1 when it could not go on or found damage, 2 for wrong flags.
func start(ctx context.Context, args []string, g greeting, errs io.Writer) int {
	if len(args) > 0 && commands[args[0]] != nil {
		return command(ctx, args[0], args[1:], g, errs)
	}
	hostname, err := os.Hostname()
	if err != nil {
		hostname = "localhost"
	}
	o, err := readOptions(args, hostname, errs)
	switch {
	case errors.Is(err, flag.ErrHelp):
		return 0
	case errors.Is(err, errUsage):
		return 2
	case err != nil:
		_, _ = fmt.Fprintln(errs, "jointwalk:", err) // nowhere else to tell it
		return 2
	}
	if err := run(ctx, o, g, newLog(errs, o.verbose)); err != nil {
		_, _ = fmt.Fprintln(errs, "jointwalk:", err)
		return 1
	}
	return 0
}

func newLog(out io.Writer, verbose bool) *slog.Logger {
	level := slog.LevelInfo
	if verbose {
		level = slog.LevelDebug
	}
	return slog.New(slog.NewTextHandler(out, &slog.HandlerOptions{Level: level}))
}

// run serves until the context ends.
func run(ctx context.Context, o options, g greeting, log *slog.Logger) (err error) {
	if err := prepare(o.data); err != nil {
		return err
	}
	h, err := openHouse(o, time.Now, rand.Reader, log)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, h.close()) }()
	ctx, leave := context.WithCancel(ctx)
	defer leave()
	if h.source, err = o.source(); err != nil {
		return err
	}
	app, err := web.New(h.parts())
	if err != nil {
		return err
	}
	all, err := o.open(app, h.source, log)
	if err != nil {
		return err
	}
	if control, err := h.control(ctx); err == nil {
		all = append(all, control)
	} else {
		log.Warn("the backup command can only be used while the server is stopped", "cause", err)
	}
	tending := h.tending(ctx)
	defer func() { leave(); <-tending }()
	h.guarding(ctx)
	g.start(o)
	g.setup(h.setupLink())
	if authority, own := h.source.(*cert.Local); own {
		g.trust(o, authority)
	}
	return serve(ctx, all, app.Close)
}

// prepare makes the data folder and tries to write to it.
func prepare(data string) error {
	if _, err := os.Stat(filepath.Join(data, copies.Restoring)); err == nil {
		return fmt.Errorf("a restore into %s did not come to its end: empty the folder and restore again", data)
	}
	probe := filepath.Join(data, ".probe")
	err := os.MkdirAll(data, 0o700)
	if err == nil {
		err = os.WriteFile(probe, []byte("can this be written"), 0o600)
	}
	if err == nil {
		err = os.Remove(probe)
	}
	switch {
	case err == nil:
		return nil
	case errors.Is(err, syscall.ENOSPC):
		return fmt.Errorf("the disk that holds %s is full; make room and start again", data)
	}
	return fmt.Errorf("cannot write to the data folder %s; give this user the right to, or choose another with --data (%w)", data, err)
}

// open opens all ports, or none. Source is nil for plain http.
func (o options) open(app http.Handler, source cert.Source, log *slog.Logger) ([]listening, error) {
	var config *tls.Config
	if source != nil {
		config = source.Config()
	}
	if len(o.proxies) > 0 {
		app = web.Behind(o.proxies, o.public, app)
	}
	first, err := listen(o.listen, app, config, log)
	authority, own := source.(*cert.Local)
	if err != nil || !own {
		return []listening{first}, err
	}
	second, err := listen(o.trust, cert.Trust(authority.Authority(), o.public), nil, log)
	if err != nil {
		return nil, errors.Join(err, first.port.Close())
	}
	return []listening{first, second}, nil
}
