package web

import (
	"errors"
	"io"
	"net/http"
	"time"

	"github.com/danielgtaylor/huma/v2"
	"github.com/labstack/echo/v4"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

const (
	ndjson   = "application/x-ndjson"
	pushTime = time.Minute // for a batch of 256 kB from the edge of the network
)

func (s *Server) eventRoutes() {
	s.documented(huma.Operation{OperationID: "push", Method: http.MethodPost, Path: "/api/push", Summary: "Hand in events, one JSON line each; answered per event",
		RequestBody: bodyOf(ndjson), Responses: answerOf("200", "application/json", "a verdict a line")}, s.push)
	s.documented(huma.Operation{OperationID: "pull", Method: http.MethodGet, Path: "/api/pull", Summary: "A slice of a site's feed: event line, receipt line, …, and the cursor to go on from",
		Parameters: []*huma.Param{query("site", true), query("cursor", false)}, Responses: answerOf("200", ndjson, "lines")}, s.pull)
	s.documented(huma.Operation{OperationID: "stream", Method: http.MethodGet, Path: "/api/stream", Summary: "Server-sent events {site, n} when a feed grows",
		Responses: answerOf("200", "text/event-stream", "until the caller leaves or the session ends")}, s.stream)
}

// documented adds a plain route that needs a session, with its description.
func (s *Server) documented(op huma.Operation, handle echo.HandlerFunc) {
	s.needs[op.Method+" "+echoPath(op.Path)] = session
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
	r := c.Request()
	patience(c, pushTime)
	body, err := io.ReadAll(http.MaxBytesReader(c.Response(), r.Body, exchange.MaxBatchBytes))
	if err != nil {
		return unread(err)
	}
	lines, err := exchange.SplitBatch(body)
	if err != nil {
		return exchangeProblem(err)
	}
	visit := callerOf(c)
	sender := exchange.Sender{Device: visit.Device.ID}
	if clock, err := time.Parse(journal.TimeLayout, r.Header.Get(exchange.ClockHeader)); err == nil {
		sender.Clock = clock
	}
	answer, err := exchange.Receive(s.parts.Events, lines, sender, s.parts.Now(), visit.Person.allows)
	if err != nil {
		return s.problem(err)
	}
	return c.JSON(http.StatusOK, answer)
}

// allows gives the code with which an event of this person is set aside, or "".
func (p Person) allows(e journal.Event) string {
	switch {
	case e.By != p.ID:
		return "not-yours"
	case !p.at(e.About.Site):
		return "wrong-site"
	case record.Kind(e.Kind) == record.FindingReviewed && !p.has("engineer") && !p.has("supervisor"):
		return "not-allowed"
	}
	var fault *record.Fault
	if err := record.CheckBody(e.Kind, e.V, e.Body); errors.As(err, &fault) {
		return fault.Code
	}
	return ""
}

// pull gives a slice of the feed of one of the caller's sites.
func (s *Server) pull(c echo.Context) error {
	site := c.QueryParam("site")
	if !callerOf(c).Person.at(site) {
		return wrongSite()
	}
	body, err := exchange.Pull(s.parts.Events, site, c.QueryParam("cursor"), 0)
	if err != nil {
		return s.problem(err)
	}
	return c.Blob(http.StatusOK, ndjson, body)
}

func exchangeProblem(err error) error {
	if journal.CodeOf(err) == exchange.CodeTooMuch {
		return refuse(http.StatusRequestEntityTooLarge, exchange.CodeTooMuch, "one push takes at most 200 events")
	}
	return refuse(http.StatusBadRequest, "bad-request", "the lines cannot be read")
}

// unread tells why a body did not come in.
func unread(err error) error {
	var large *http.MaxBytesError
	if errors.As(err, &large) {
		return ofStatus(http.StatusRequestEntityTooLarge)
	}
	p := ofStatus(http.StatusBadRequest)
	p.cause = err
	return p
}

// patience is how long a body may take to come in. Where the connection cannot keep time (in tests) it is without end.
func patience(c echo.Context, d time.Duration) {
	_ = http.NewResponseController(c.Response()).SetReadDeadline(time.Now().Add(d))
}
