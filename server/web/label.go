package web

import (
	"bytes"
	"net/http"

	"github.com/danielgtaylor/huma/v2"
	"github.com/labstack/echo/v4"

	"jointwalk/sync/summary"
)

func (s *Server) labelRoutes() {
	id := &huma.Param{Name: "id", In: "path", Required: true, Schema: &huma.Schema{Type: huma.TypeString, MaxLength: new(64)}}
	s.documented(huma.Operation{OperationID: "label", Method: http.MethodGet, Path: "/api/fixtures/{id}/label.pdf", Summary: "A fixture's tag as a label in true millimetres",
		Parameters: []*huma.Param{id, query("size", false)}, Responses: answerOf("200", "application/pdf", "one page of the label's size")}, s.label)
}

func (s *Server) label(c echo.Context) error {
	var fixture summary.Fixture
	err := s.desk(callerOf(c), func(d *summary.Desk) (err error) {
		fixture, err = d.Fixture(summary.FixtureQuestion{ID: c.Param("id")})
		return err
	})
	if err != nil {
		return s.problem(askProblem(err))
	}
	done, err := s.heavy.take(c.Request().Context(), s.times.turn)
	if err != nil {
		return err
	}
	defer done()
	link := s.parts.Paper.Link(s.parts.Public, fixture.Tag)
	var pdf bytes.Buffer
	if err := s.parts.Paper.Label(&pdf, fixture.Tag, fixture.Name, link, c.QueryParam("size"), s.parts.Now()); err != nil {
		return s.problem(err)
	}
	c.Response().Header().Set(echo.HeaderContentDisposition, `inline; filename="tag-`+fixture.Tag+`.pdf"`)
	return c.Blob(http.StatusOK, "application/pdf", pdf.Bytes())
}
