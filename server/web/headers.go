package web

import (
	"context"
	"crypto/rand"
	"fmt"
	"net"
	"net/http"
	"runtime/debug"
	"strings"
	"time"

	"github.com/labstack/echo/v4"
)

const csp = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob: data:; connect-src 'self'; " +
	"manifest-src 'self'; worker-src 'self'; media-src 'self' blob:; font-src 'self'; base-uri 'none'; object-src 'none'; frame-ancestors 'none'; form-action 'self'"

// dataCSP is for answers that no page is made of.
const dataCSP = "default-src 'none'; frame-ancestors 'none'"

const requestHeader = "X-Request-Id"

type requestKey struct{}

// trace is what the log says of a request.
type trace struct{ id, from string }

// onlyHTTPS tells a browser to come by https alone for a year. It counts for all ports of the host: with a page of our own that
// says over plain http how to trust the certificate, nobody could open that any more.
const onlyHTTPS = "max-age=31536000"

// headers puts on each answer what keeps a browser from doing more with it than it should.
func (s *Server) headers(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		h := c.Response().Header()
		if isData(c.Request().URL.Path) {
			h.Set("Content-Security-Policy", dataCSP)
		} else {
			s.pageHeaders(h)
		}
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Cache-Control", "no-store") // files of the app and pictures set their own
		id := rand.Text()[:12]
		h.Set(requestHeader, id)
		c.SetRequest(c.Request().WithContext(context.WithValue(c.Request().Context(), requestKey{}, trace{id, hostOf(c.Request().RemoteAddr)})))
		return next(c)
	}
}

// isData holds for what a program asks for: the API, but for the labels, which a browser opens as pages. A phone asks often
// and pays for each byte.
func isData(path string) bool {
	return strings.HasPrefix(path, "/api/") && !strings.HasSuffix(path, ".pdf")
}

// pageHeaders say what a page may do.
func (s *Server) pageHeaders(h http.Header) {
	if s.parts.HTTPS && s.parts.Trust == "" {
		h.Set("Strict-Transport-Security", onlyHTTPS)
	}
	h.Set("Content-Security-Policy", csp)
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Permissions-Policy", "camera=(self), microphone=(), geolocation=()")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
}

// requestID is the id that headers has given a request.
func requestID(ctx context.Context) string { return traceOf(ctx).id }

func traceOf(ctx context.Context) trace {
	of, _ := ctx.Value(requestKey{}).(trace)
	return of
}

// hostOf is an address without its port.
func hostOf(remote string) string {
	host, _, err := net.SplitHostPort(remote)
	if err != nil {
		return remote
	}
	return host
}

// log writes one line a request to the API: no query, no body, no cookie.
func (s *Server) log(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		began := time.Now()
		err := next(c)
		if err != nil {
			c.Error(err)
		}
		if c.Path() == "/*" || c.Path() == "/healthz" {
			return nil
		}
		s.parts.Log.Debug("request", "method", c.Request().Method, "route", c.Path(), "status", c.Response().Status,
			"took", time.Since(began).Round(time.Microsecond), "request", requestID(c.Request().Context()))
		return nil
	}
}

// rescue turns a panic into a problem, and keeps the server going.
func rescue(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) (err error) {
		defer func() {
			got := recover()
			if got == http.ErrAbortHandler {
				panic(got)
			}
			if got != nil {
				err = broke(fmt.Errorf("panic: %v\n%s", got, debug.Stack()))
			}
		}()
		return next(c)
	}
}

// fail writes an error as problem details; what broke goes to the log with its cause.
func (s *Server) fail(err error, c echo.Context) {
	ctx := c.Request().Context()
	p := asProblem(err).told(requestID(ctx))
	s.tell(ctx, c.Path(), p)
	if c.Response().Committed {
		return
	}
	if p.after != "" {
		c.Response().Header().Set("Retry-After", p.after)
	}
	c.Response().Header().Set(echo.HeaderContentType, p.ContentType(""))
	if err := c.JSON(p.Status, p); err != nil {
		s.parts.Log.Debug("an answer was not taken", "request", p.Request)
	}
}

// tell puts what broke, with its cause, and what was refused into the log, to be found by the request's id.
func (s *Server) tell(ctx context.Context, route string, p *Problem) {
	switch {
	case p.Status >= 500:
		s.parts.Log.Error("request failed", "route", route, "code", p.Code, "cause", p.cause, "request", requestID(ctx))
	case p.Status != statusGone:
		visit, _ := visitOf(ctx)
		s.note(ctx, visit, "refused", "route", route, "code", p.Code)
	}
}

// note puts into the log what became of somebody's request: ids and an address, never a name and never what was sent.
func (s *Server) note(ctx context.Context, who Visit, what string, more ...any) {
	of := traceOf(ctx)
	s.parts.Log.Info(what, append(more, "person", who.Person.ID, "device", who.Device.ID, "from", of.from, "request", of.id)...)
}
