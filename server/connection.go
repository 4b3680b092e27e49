package main

import (
	"context"
	"crypto/rand"
	"crypto/x509"
	"log/slog"
	"net/http"
	"path/filepath"
	"time"

	"jointwalk/server/cert"
	"jointwalk/server/web"
)

const (
	localFolder = "https" // in the data folder: the installation's own authority
	acmeFolder  = "acme"  // and what an authority elsewhere has issued, with the keys
)

// source is where the certificate comes from, nil for plain http.
func (o options) source() (cert.Source, error) {
	switch o.https {
	case "local":
		hosts, err := cert.Machine(o.public)
		if err != nil {
			return nil, err
		}
		return orNone(cert.OpenLocal(filepath.Join(o.data, localFolder), hosts, time.Now, rand.Reader))
	case "acme":
		return orNone(cert.OpenACME(filepath.Join(o.data, acmeFolder), o.host(), o.acme, time.Now, http.DefaultTransport))
	case "files":
		return orNone(cert.OpenFiles(o.cert, o.key, time.Now))
	}
	return nil, nil
}

// orNone keeps a nil pointer from looking like a source.
func orNone[S cert.Source](source S, err error) (cert.Source, error) {
	if err != nil {
		return nil, err
	}
	return source, nil
}

var warnings = map[cert.Warning]string{cert.Fine: web.Fine, cert.Soon: web.Soon, cert.Urgent: web.Urgent, cert.Ended: web.Ended}

// connection is the state of the certificate as web tells it, nil for plain http.
func (h *house) connection() *web.Connection {
	if h.source == nil {
		return nil
	}
	state := h.source.State()
	told := &web.Connection{Way: h.options.https, Trouble: state.Trouble != nil}
	now := h.now()
	if c := state.Leaf; c != nil {
		told.Certificate = &web.Lasting{Ends: c.NotAfter, Days: cert.DaysLeft(c, now), Warning: warnings[cert.WarningAt(c, now)]}
	}
	if c := state.Authority; c != nil {
		told.Authority = &web.Lasting{Ends: c.NotAfter, Days: cert.DaysLeft(c, now), Warning: warnings[cert.WarningAt(c, now)]}
	}
	return told
}

// guarding looks after the certificate until ctx ends.
func (h *house) guarding(ctx context.Context) {
	if h.source == nil {
		return
	}
	guard := &certGuard{source: h.source, now: h.now, log: h.log, told: map[string]told{}}
	go func() {
		ticks := time.NewTicker(time.Minute)
		defer ticks.Stop()
		guard.run(ctx, ticks.C)
	}()
}

// certGuard has the first certificate issued and warns once a day of what a person must see to.
type certGuard struct {
	source cert.Source
	now    func() time.Time
	log    *slog.Logger
	told   map[string]told // by what was told
}

// told is when something was told last, and as what.
type told struct {
	at   time.Time
	with string
}

func (g *certGuard) run(ctx context.Context, ticks <-chan time.Time) {
	for {
		g.look()
		select {
		case <-ctx.Done():
			return
		case <-ticks:
		}
	}
}

func (g *certGuard) look() {
	if a, asks := g.source.(*cert.ACME); asks {
		a.Obtain()
	}
	state := g.source.State()
	switch {
	case state.Trouble != nil && state.Leaf == nil:
		g.tell("there is no certificate, and phones cannot come in", state.Trouble.Error(), "cause", state.Trouble)
	case state.Trouble != nil:
		g.tell("no newer certificate can be taken; the one in use stays", state.Trouble.Error(), "cause", state.Trouble)
	}
	g.warn("the certificate comes to its end, and phones do not come in after it", state.Leaf)
	g.warn("the certificate authority comes to its end: move the folder "+localFolder+" away and start again; each phone must then trust the new one", state.Authority)
}

// warn warns of the end of a certificate, which may be nil.
func (g *certGuard) warn(what string, c *x509.Certificate) {
	if c == nil {
		return
	}
	if now := g.now(); cert.WarningAt(c, now) != cert.Fine {
		g.tell(what, c.SerialNumber.String(), "days", cert.DaysLeft(c, now), "ends", c.NotAfter)
	}
}

// tell warns, unless it has told the same within a day.
func (g *certGuard) tell(what, with string, more ...any) {
	last, now := g.told[what], g.now()
	if since := now.Sub(last.at); last.with == with && since >= 0 && since < 24*time.Hour {
		return
	}
	g.told[what] = told{now, with}
	g.log.Warn(what, more...)
}
