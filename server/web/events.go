package web

import (
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/labstack/echo/v4"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/summary"
)

const ndjson = "application/x-ndjson"

func (s *Server) eventRoutes() {
	s.documented(huma.Operation{OperationID: "push", Method: http.MethodPost, Path: "/api/push", Summary: "Hand in events, one JSON line each; answered per event",
		RequestBody: bodyOf(ndjson), Responses: answerOf("200", "application/json", "a verdict a line")}, s.push)
	s.documented(huma.Operation{OperationID: "pull", Method: http.MethodGet, Path: "/api/pull", Summary: "A slice of a site's feed: event line, receipt line, …, and the cursor to go on from; without all=1 only what a phone needs of the last rounds",
		Parameters: []*huma.Param{query("site", true), query("cursor", false), query("all", false)}, Responses: answerOf("200", ndjson, "lines")}, s.pull)
	s.documented(huma.Operation{OperationID: "older", Method: http.MethodGet, Path: exchange.PathOlder, Summary: "All events about a fixture, as pairs of event line and receipt line",
		Parameters: []*huma.Param{query("fixture", true)}, Responses: answerOf("200", ndjson, "lines")}, s.older)
	s.documented(huma.Operation{OperationID: "stream", Method: http.MethodGet, Path: "/api/stream", Summary: "Server-sent events {site, n} when a feed grows",
		Responses: answerOf("200", "text/event-stream", "until the caller leaves or the session ends")}, s.stream)
}

// documented adds a plain route with its description.
func (s *Server) documented(op huma.Operation, handle echo.HandlerFunc) {
	s.api.OpenAPI().AddOperation(&op)
	s.echo.Add(op.Method, echoPath(op.Path), handle)
}

func bodyOf(kind string) *huma.RequestBody {
	return &huma.RequestBody{Required: true, Content: map[string]*huma.MediaType{kind: {Schema: &huma.Schema{Type: huma.TypeString}}}}
}

func answerOf(status, kind, about string) map[string]*huma.Response {
	return map[string]*huma.Response{status: {Description: about, Content: map[string]*huma.MediaType{kind: {}}}}
}

func query(name string, required bool) *huma.Param {
	return &huma.Param{Name: name, In: "query", Required: required, Schema: &huma.Schema{Type: huma.TypeString, MaxLength: new(200)}}
}

// push takes events into the store. What its sender may not write is kept aside with a code, so that
// one event never holds back the next.
func (s *Server) push(c echo.Context) error {
	patience(c, s.times.batch)
	c.Response().Header().Set(headerAccepts, coding)
	body, err := readBody(c, exchange.MaxBatchBytes)
	if err != nil {
		return err
	}
	lines, err := exchange.SplitBatch(body)
	if err != nil {
		return exchangeProblem(err)
	}
	answer, err := s.hall.Push(lines, senderOf(c))
	if err != nil {
		return s.problem(err)
	}
	return replyJSON(c, answer)
}

// senderOf is who hands in events, with the clock that they have.
func senderOf(c echo.Context) exchange.Sender {
	visit := callerOf(c)
	sender := exchange.Sender{Device: visit.Device.ID, Revoked: visit.Revoked}
	if clock, err := time.Parse(journal.TimeLayout, c.Request().Header.Get(exchange.ClockHeader)); err == nil {
		sender.Clock = clock
	}
	return sender
}

// pull gives a slice of the feed of one of the caller's sites.
func (s *Server) pull(c echo.Context) error {
	site := c.QueryParam("site")
	if !callerOf(c).Person.at(site) {
		return wrongSite()
	}
	hall := *s.hall
	if c.QueryParam("all") == "" {
		hall.Skip = func(page []exchange.Stored) ([]bool, error) { return s.books.old(site, page) }
	}
	body, err := hall.Pull(site, c.QueryParam("cursor"), 0)
	if err != nil {
		return s.problem(err)
	}
	return reply(c, ndjson, body)
}

// older gives all that is known of a fixture: a phone holds its last rounds only.
func (s *Server) older(c echo.Context) error {
	id := c.QueryParam("fixture")
	patience(c, s.times.file)
	if err := s.seen(c, id); err != nil {
		return err
	}
	pairs, err := s.parts.Events.Fixture(id)
	if err != nil {
		return s.problem(err)
	}
	var body []byte
	for _, pair := range pairs {
		body = exchange.AppendPair(body, pair)
	}
	return reply(c, ndjson, body)
}

// seen refuses a fixture that the caller may not see.
func (s *Server) seen(c echo.Context, id string) error {
	err := s.desk(callerOf(c), func(d *summary.Desk) error {
		_, err := d.Fixture(summary.FixtureQuestion{ID: id})
		return err
	})
	if err != nil {
		return s.problem(askProblem(err))
	}
	return nil
}

func exchangeProblem(err error) error {
	if journal.CodeOf(err) == exchange.CodeTooMuch {
		return refuse(http.StatusRequestEntityTooLarge, exchange.CodeTooMuch, "one push takes at most 200 events")
	}
	return refuse(http.StatusBadRequest, "bad-request", "the lines cannot be read")
}

// unread tells why a body did not come in.
func unread(err error) error {
	if p := overLimit(err); p != nil {
		return p
	}
	p := ofStatus(http.StatusBadRequest)
	p.cause = err
	return p
}
