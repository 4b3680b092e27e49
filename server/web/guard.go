package web

import (
	"context"
	"errors"
	"net/http"
	"net/netip"
	"sync"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/labstack/echo/v4"
	"golang.org/x/time/rate"

	"jointwalk/sync/exchange"
)

const (
	headerWanted = "X-Jointwalk" // a page of another origin cannot send it unasked
	cookieSafe   = "__Host-jointwalk"
	cookiePlain  = "jointwalk" // on http://localhost, where browsers take no secure cookie
	cookieLife   = 400 * 24 * time.Hour
)

type visitKey struct{}

// caller is a visit with the token of its session.
type caller struct {
	Visit
	token string
}

// guard stands before each route: a session where one is needed, and a body of the route's type.
func (s *Server) guard(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r := c.Request()
		visit, err := s.visitor(r)
		need := rightOf(r.Method + " " + c.Path()).need
		if visit.Revoked && r.Method+" "+c.Path() == "POST "+exchange.PathPush {
			err = nil // the one thing that a revoked device may do
		}
		if err == nil {
			c.SetRequest(r.WithContext(context.WithValue(r.Context(), visitKey{}, caller{visit, s.token(r)})))
		}
		switch {
		case err != nil && need != anyone:
			return s.problem(err)
		case err == nil && need == supervisor && !visit.Person.has(supervises):
			return refuse(http.StatusForbidden, "not-allowed", "only a supervisor may do this")
		}
		if err := s.typed(c); err != nil {
			return err
		}
		return next(c)
	}
}

func changes(method string) bool {
	return method != http.MethodGet && method != http.MethodHead && method != http.MethodOptions
}

// visitor finds the visit of a request's cookie. Without one: "no-session". That of a revoked device comes with "revoked".
func (s *Server) visitor(r *http.Request) (Visit, error) {
	token := s.token(r)
	if token == "" {
		return Visit{}, &Refusal{Code: "no-session"}
	}
	visit, err := s.parts.Gate.Session(token)
	if err == nil && visit.Revoked {
		err = &Refusal{Code: exchange.CodeRevoked}
	}
	return visit, err
}

func (s *Server) token(r *http.Request) string {
	cookie, err := r.Cookie(s.cookieName())
	if err != nil {
		return ""
	}
	return cookie.Value
}

func (s *Server) cookieName() string {
	if s.parts.HTTPS {
		return cookieSafe
	}
	return cookiePlain
}

// cookie carries a session's token, or takes it away when the token is empty.
func (s *Server) cookie(token string) http.Cookie {
	age := int(cookieLife / time.Second)
	if token == "" {
		age = -1
	}
	return http.Cookie{Name: s.cookieName(), Value: token, Path: "/", MaxAge: age, Secure: s.parts.HTTPS, HttpOnly: true, SameSite: http.SameSiteStrictMode}
}

// visitOf gives the visit that guard has put there; ok is false on an open route without a session.
func visitOf(ctx context.Context) (visit Visit, ok bool) {
	c, ok := ctx.Value(visitKey{}).(caller)
	return c.Visit, ok
}

// tokenOf gives the token of the caller's session, "" without one.
func tokenOf(ctx context.Context) string {
	c, _ := ctx.Value(visitKey{}).(caller)
	return c.token
}

// callerOf gives the visit on a plain route that needs a session.
func callerOf(c echo.Context) Visit {
	visit, _ := visitOf(c.Request().Context())
	return visit
}

// refusals are the codes of the parts, with the status that goes with each.
var refusals = map[string]int{
	"no-session": 401, "revoked": 403, "setup-code": 403, "setup-done": 409, "setup-expired": 410,
	"invitation-unknown": 404, "invitation-expired": 410, "invitation-used": 410, "invitation-blocked": 429,
	"not-allowed": 403, "wrong-site": 403, "bad-name": 422, "bad-duty": 422, "bad-zone": 422, "bad-site": 422,
	"unknown-site": 404, "unknown-person": 404, "person-erased": 409, "unknown-device": 404, "unknown-picture": 404, "unknown-aside": 404, "bad-line": 422, "too-large": 413, "wrong-hash": 422, exchange.CodeLocated: 422, exchange.CodeNotAPicture: 415, exchange.CodeWithdrawn: 410,
	"server-full": 507, "store-damaged": 503, "store-broken": 503, "store-closed": 503, "store-denied": 503,
	"shared-supervisor": 409, "shared-full": 409,
	"unknown-size": 422, "label-too-small": 422, "text-too-long": 422,
}

// refusalWords say more than a code, where somebody may meet it outside of the app.
var refusalWords = map[string]string{exchange.CodeWithdrawn: "this picture was withdrawn: its bytes are gone, its hash and a note stay in the record"}

// problem turns what a part says into what the caller is told.
func (s *Server) problem(err error) error {
	var refusal *Refusal
	if errors.As(err, &refusal) {
		if status, known := refusals[refusal.Code]; known {
			p := refuse(status, refusal.Code, refusalWords[refusal.Code])
			p.cause = refusal.Cause
			return p
		}
	}
	return asProblem(err)
}

// route adds a JSON route to router and description. What handle returns as an error is told as a problem.
func route[I, O any](s *Server, op huma.Operation, handle func(context.Context, Visit, *I) (*O, error)) {
	if op.MaxBodyBytes == 0 {
		op.MaxBodyBytes = 16 << 10
	}
	op.BodyReadTimeout = s.times.batch
	op.Errors = []int{400, 401, 403, 404, 422, 500}
	huma.Register(s.api, op, func(ctx context.Context, in *I) (*O, error) {
		visit, _ := visitOf(ctx)
		out, err := handle(ctx, visit, in)
		if err != nil {
			return nil, asProblem(s.problem(err))
		}
		return out, nil
	})
}

// tries slows down those who guess at codes: 20 at once, then one in 3 seconds, an address.
type tries struct {
	now func() time.Time
	mu  sync.Mutex
	by  map[string]*rate.Limiter
}

func newTries(now func() time.Time) *tries { return &tries{now: now, by: map[string]*rate.Limiter{}} }

// may counts a try from an address and refuses with "too-many-tries" when there were too many.
func (t *tries) may(remote string) error {
	host := networkOf(remote)
	t.mu.Lock()
	defer t.mu.Unlock()
	if len(t.by) > 10_000 { // so many addresses are no visitors: begin anew rather than grow
		clear(t.by)
	}
	limit := t.by[host]
	if limit == nil {
		limit = rate.NewLimiter(rate.Every(3*time.Second), 20)
		t.by[host] = limit
	}
	if limit.AllowN(t.now(), 1) {
		return nil
	}
	p := refuse(http.StatusTooManyRequests, "too-many-tries", "more than 20 codes were tried from here; one in 3 seconds is taken now")
	p.after = "3"
	return p
}

// networkOf is whose tries are counted together: an address, in IPv6 its first 64 bits, since whoever has one has all with these.
func networkOf(remote string) string {
	at, err := netip.ParseAddrPort(remote)
	if err != nil {
		return remote
	}
	address := at.Addr().Unmap()
	if address.Is4() {
		return address.String()
	}
	return netip.PrefixFrom(address.WithZone(""), 64).Masked().String()
}
