package web

import (
	"fmt"
	"mime"
	"net"
	"net/http"
	"net/netip"
	"net/url"
	"slices"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/labstack/echo/v4"
)

// origins are the names under which this server answers, and the pages from which it lets itself be changed.
type origins struct {
	public string // as browsers write it: scheme and host, without a port that goes without saying
	scheme string // of all pages of ours
	names  []string
}

func newOrigins(parts Parts) origins {
	o := origins{public: parts.Public, scheme: "http", names: append([]string{"localhost"}, parts.Names...)}
	if parts.HTTPS {
		o.scheme = "https"
	}
	if u, err := url.Parse(parts.Public); err == nil {
		o.names = append(o.names, u.Hostname())
		o.public = strings.TrimSuffix(o.public, map[string]string{"http": ":80", "https": ":443"}[u.Scheme])
	}
	return o
}

// addressed says whether a request means this server. A stranger's name can be made to point here, and to a browser the
// stranger's page is then one of ours (DNS rebinding). An address in figures points nowhere else, and over TLS the
// certificate has stood for the name.
func (o origins) addressed(r *http.Request) bool {
	host := r.Host
	if bare, _, err := net.SplitHostPort(host); err == nil {
		host = bare
	}
	_, err := netip.ParseAddr(strings.Trim(host, "[]"))
	return r.TLS != nil || err == nil || slices.Contains(o.names, strings.TrimSuffix(strings.ToLower(host), "."))
}

// sent says whether a page of ours sent a request that changes something. Browsers put the origin on each of those.
func (o origins) sent(r *http.Request) bool {
	from := r.Header.Get(echo.HeaderOrigin)
	site := r.Header.Get("Sec-Fetch-Site")
	return (site == "" || site == "same-origin") && (from == o.public || from == o.scheme+"://"+r.Host)
}

// asked says whether data goes to a page of ours or to somebody who typed its address; browsers say so, programs need not.
func asked(r *http.Request) bool {
	return slices.Contains([]string{"", "same-origin", "none"}, r.Header.Get("Sec-Fetch-Site"))
}

// from stands before the guard: it refuses what means another server, or comes from a page that is not ours.
func (s *Server) from(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r := c.Request()
		switch {
		case c.Path() != "/healthz" && !s.origins.addressed(r):
			return s.elsewhere(c)
		case !changes(r.Method) && (!isData(r.URL.Path) || asked(r)):
			return next(c)
		case changes(r.Method) && r.Header.Get(headerWanted) != "1":
			return refuse(http.StatusForbidden, "no-header", "requests that change something need the header "+headerWanted+": 1")
		case !changes(r.Method) || !s.origins.sent(r):
			return refuse(http.StatusForbidden, "wrong-origin", "this may be asked for by pages of "+s.parts.Public+" only, which name it as their Origin")
		}
		return next(c)
	}
}

// elsewhere tells somebody who came by another name what the right one is: as text where a browser shows it.
func (s *Server) elsewhere(c echo.Context) error {
	host := c.Request().Host
	said := fmt.Sprintf("This server answers at %s and does not know the name %q. Whoever runs it can give it that name with --url; a proxy in front must pass the Host header on.",
		s.parts.Public, host[:min(len(host), 100)])
	if isData(c.Request().URL.Path) {
		return refuse(http.StatusMisdirectedRequest, "wrong-host", said)
	}
	return c.String(http.StatusMisdirectedRequest, said+"\n")
}

// bodyTypes are the content types that each route takes, as the description says; JSON where it says none.
func bodyTypes(api *huma.OpenAPI) map[string][]string {
	all := map[string][]string{}
	for path, item := range api.Paths {
		for method, op := range map[string]*huma.Operation{http.MethodPost: item.Post, http.MethodPut: item.Put, http.MethodPatch: item.Patch, http.MethodDelete: item.Delete} {
			if op != nil && op.RequestBody != nil {
				for kind := range op.RequestBody.Content {
					route := method + " " + echoPath(path)
					all[route] = append(all[route], kind)
				}
			}
		}
	}
	return all
}

// typed refuses a body of a type that its route does not take: what a form of a foreign page can send, above all.
func (s *Server) typed(c echo.Context) error {
	r := c.Request()
	told := r.Header.Get(echo.HeaderContentType)
	if !changes(r.Method) || told == "" && r.ContentLength == 0 {
		return nil
	}
	wanted := s.types[r.Method+" "+c.Path()]
	if wanted == nil {
		wanted = []string{echo.MIMEApplicationJSON}
	}
	if kind, _, err := mime.ParseMediaType(told); err != nil || !slices.Contains(wanted, kind) {
		return refuse(http.StatusUnsupportedMediaType, "bad-type", "the body must be "+strings.Join(wanted, " or "))
	}
	return nil
}
