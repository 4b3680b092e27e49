// Package web speaks HTTP: it checks who calls, reads and limits what comes in, asks the parts it was
// given, and answers. It decides nothing about events or numbers, and keeps no truth of its own.
package web

import (
	"encoding/json"
	"errors"
	"io/fs"
	"net/http"
	"strings"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/danielgtaylor/huma/v2/adapters/humaecho"
	"github.com/labstack/echo/v4"

	"jointwalk/sync/exchange"
	"jointwalk/sync/record/schema"
)

// Server serves the API and the app.
type Server struct {
	parts  Parts
	echo   *echo.Echo
	api    huma.API
	app    assets
	books  *books
	hall   *exchange.Hall
	tries  *tries
	coming coming
	closed chan struct{}

	times   times
	heavy   turns // calculations and labels
	imports turns
	streams counts // of devices
	origins origins
	types   map[string][]string // route → content types of its body
}

// New builds the server from its parts. The error says that the built app cannot be read.
func New(parts Parts) (*Server, error) {
	app, err := readAssets(parts.App)
	if err != nil {
		return nil, err
	}
	if parts.Beat == 0 {
		parts.Beat = 4 * time.Second // a device that is shut out hears nothing more within 5 s
	}
	if parts.times == (times{}) {
		parts.times = usualTimes
	}
	s := &Server{parts: parts, echo: echo.New(), app: app, tries: newTries(parts.Now), closed: make(chan struct{}), origins: newOrigins(parts),
		times: parts.times, heavy: heavyTurns(), imports: make(turns, mostImports), streams: counts{most: mostStreams, by: map[string]int{}}}
	s.books = newBooks(parts.Events)
	s.hall = s.newHall()
	s.echo.HTTPErrorHandler = s.fail
	s.echo.Use(s.headers, s.log, rescue, s.from, s.guard)
	s.api = humaecho.New(s.echo, s.apiConfig(parts.Version))
	s.routes()
	limitInputs(s.api.OpenAPI())
	s.types = bodyTypes(s.api.OpenAPI())
	if err := s.serveDescription(); err != nil {
		return nil, err
	}
	return s, s.checkRights()
}

// ServeHTTP answers one request.
func (s *Server) ServeHTTP(w http.ResponseWriter, r *http.Request) { s.echo.ServeHTTP(w, r) }

// Close ends the streams, which would otherwise hold up a shutdown. Call it once.
func (s *Server) Close() { close(s.closed) }

func (s *Server) routes() {
	s.doorRoutes()
	s.peopleRoutes()
	s.siteRoutes()
	s.askRoutes()
	s.calcRoutes()
	s.eventRoutes()
	s.meetRoutes()
	s.asideRoutes()
	s.sharedRoutes()
	s.deviceRoutes()
	s.importRoutes()
	s.pictureRoutes()
	s.labelRoutes()
	s.open(http.MethodGet, "/healthz", s.health)
	s.open(http.MethodGet, "/schema/:name", serveSchema)
	for _, method := range []string{http.MethodGet, http.MethodHead} {
		s.open(method, "/*", s.serveApp)
	}
}

// open adds a route that stands in no description.
func (s *Server) open(method, path string, handle echo.HandlerFunc) {
	s.echo.Add(method, path, handle)
}

// serveApp serves the app, but never for an address of the API.
func (s *Server) serveApp(c echo.Context) error {
	if path := c.Request().URL.Path; path == "/api" || strings.HasPrefix(path, "/api/") {
		return ofStatus(http.StatusNotFound)
	}
	patience(c, s.times.file) // the engine over a network that is hardly there
	s.app.ServeHTTP(c.Response(), c.Request())
	return nil
}

// serveSchema serves the description of the journal's lines: event.json and receipt.json.
func serveSchema(c echo.Context) error {
	body, err := fs.ReadFile(schema.Files, c.Param("name"))
	if err != nil {
		return ofStatus(http.StatusNotFound)
	}
	return c.Blob(http.StatusOK, "application/schema+json", body)
}

// health says whether the stores answer, and how long the certificate lasts: a line each.
func (s *Server) health(c echo.Context) error {
	if _, err := s.parts.Gate.NeedsSetup(); err != nil {
		return c.String(http.StatusServiceUnavailable, "store does not answer\n")
	}
	return c.String(http.StatusOK, "ok\n"+healthOf(s.connection()))
}

func (s *Server) apiConfig(version string) huma.Config {
	config := huma.DefaultConfig("Jointwalk", version)
	config.OpenAPIPath, config.DocsPath, config.SchemasPath = "", "", ""
	config.CreateHooks = nil // no $schema links in answers
	config.Formats = map[string]huma.Format{"application/json": shallowJSON, "json": shallowJSON}
	config.Transformers = []huma.Transformer{func(ctx huma.Context, _ string, v any) (any, error) {
		if p, ok := v.(*Problem); ok {
			s.tell(ctx.Context(), ctx.Operation().Path, p)
			return p.told(requestID(ctx.Context())), nil
		}
		return v, nil
	}}
	return config
}

// serveDescription writes the OpenAPI description once, when all routes are there.
func (s *Server) serveDescription() error {
	body, err := json.MarshalIndent(s.api.OpenAPI(), "", " ")
	if err != nil {
		return errors.Join(errors.New("web: the description cannot be written"), err)
	}
	s.open(http.MethodGet, "/api/openapi.json", func(c echo.Context) error {
		return c.JSONBlob(http.StatusOK, body)
	})
	return nil
}
