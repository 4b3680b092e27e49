package web

import (
	"bytes"
	"crypto/rand"
	"io"
	"net/http"
	"strconv"

	"github.com/danielgtaylor/huma/v2"
	"github.com/labstack/echo/v4"

	"jointwalk/sync/record"
	"jointwalk/sync/summary"
)

func (s *Server) labelRoutes() {
	id := &huma.Param{Name: "id", In: "path", Required: true, Schema: &huma.Schema{Type: huma.TypeString, MaxLength: new(64)}}
	s.documented(huma.Operation{OperationID: "label", Method: http.MethodGet, Path: "/api/fixtures/{id}/label.pdf", Summary: "A fixture's tag as a label in true millimetres",
		Parameters: []*huma.Param{id, query("size", false)}, Responses: answerOf("200", "application/pdf", "one page of the label's size")}, s.label)
	s.documented(huma.Operation{OperationID: "blank", Method: http.MethodGet, Path: "/api/tags/blank.pdf", Summary: "A sheet of blank labels: tags of their own, which a fixture is given at their first scan",
		Parameters: []*huma.Param{query("n", true), query("size", false)}, Responses: answerOf("200", "application/pdf", "pages of A4")}, s.blank)
	s.documented(huma.Operation{OperationID: "card", Method: http.MethodGet, Path: "/api/card.pdf", Summary: "A scale card in true millimetres, to lie beside a bubble in a picture",
		Responses: answerOf("200", "application/pdf", "one page of A4")}, s.card)
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
	link := s.parts.Paper.Link(s.parts.Public, fixture.Tag)
	return s.pdf(c, "tag-"+fixture.Tag, func(w io.Writer) error {
		return s.parts.Paper.Label(w, fixture.Tag, fixture.Name, link, c.QueryParam("size"), s.parts.Now())
	})
}

// pdf answers with what is drawn, a few at a time.
func (s *Server) pdf(c echo.Context, name string, draw func(io.Writer) error) error {
	done, err := s.heavy.take(c.Request().Context(), s.times.turn)
	if err != nil {
		return err
	}
	defer done()
	var pdf bytes.Buffer
	if err := draw(&pdf); err != nil {
		return s.problem(err)
	}
	c.Response().Header().Set(echo.HeaderContentDisposition, `inline; filename="`+name+`.pdf"`)
	return c.Blob(http.StatusOK, "application/pdf", pdf.Bytes())
}

// card is the same for everybody.
func (s *Server) card(c echo.Context) error {
	return s.pdf(c, "card", func(w io.Writer) error { return s.parts.Paper.Card(w, s.parts.Now()) })
}

// mostBlank is how many labels one sheet has at most: six pages of the smallest.
const mostBlank = 216

// blank draws tags that are minted for it. Nobody remembers them: a code is known once something carries it.
func (s *Server) blank(c echo.Context) error {
	n, err := strconv.Atoi(c.QueryParam("n"))
	if err != nil || n < 1 || n > mostBlank {
		return refuse(http.StatusUnprocessableEntity, "bad-request", "a sheet has 1 to "+strconv.Itoa(mostBlank)+" labels")
	}
	codes := make([]string, n)
	for i := range codes {
		if codes[i], err = record.MintTag(rand.Reader); err != nil {
			return s.problem(err)
		}
	}
	return s.pdf(c, "tags", func(w io.Writer) error {
		return s.parts.Paper.Blank(w, s.parts.Public, codes, c.QueryParam("size"), s.parts.Now())
	})
}
