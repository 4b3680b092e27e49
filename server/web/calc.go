package web

import (
	"errors"
	"net/http"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/labstack/echo/v4"

	"jointwalk/calc/call"
	"jointwalk/calc/quantity"
)

// mostArgs bounds the arguments of a calculation in bytes: the longest is a record of ten thousand samples.
const mostArgs = 1 << 20

// calcRoutes add a route for each calculation, described by the same table that checks what comes in.
func (s *Server) calcRoutes() {
	for _, e := range call.Table() {
		body := &huma.RequestBody{Required: true, Content: map[string]*huma.MediaType{"application/json": {Schema: objectOf(e.In, true)}}}
		answer := map[string]*huma.Response{"200": {Description: e.About, Content: map[string]*huma.MediaType{"application/json": {Schema: objectOf(e.Out, false)}}}}
		op := huma.Operation{OperationID: "calc-" + e.Name, Method: http.MethodPost, Path: "/api/calc/" + e.Name, Summary: e.About, RequestBody: body, Responses: answer}
		s.documented(op, s.calc(e.Name))
	}
}

func (s *Server) calc(name string) echo.HandlerFunc {
	return func(c echo.Context) error {
		args, err := readBody(c, mostArgs)
		if err != nil {
			return err
		}
		var in map[string]any
		if unmarshal(args, &in) != nil {
			in = nil
		}
		done, err := s.heavy.take(c.Request().Context(), s.times.turn)
		if err != nil {
			return err
		}
		defer done()
		answer, err := call.Do(name, in)
		if err != nil {
			return calcProblem(err)
		}
		return c.JSON(http.StatusOK, answer)
	}
}

// calcProblem tells which field is no good, and between what it would be.
func calcProblem(err error) error {
	var fault *quantity.Fault
	if !errors.As(err, &fault) {
		return err
	}
	p := refuse(http.StatusUnprocessableEntity, fault.Code, fault.Error())
	if fault.Field != "" {
		field := Field{Where: fault.Field, What: fault.Code}
		if fault.Min < fault.Max {
			field.Min, field.Max = &fault.Min, &fault.Max
		}
		p.Fields = []Field{field}
	}
	return p
}

// objectOf describes an object; what goes in has no fields but these, within their limits.
func objectOf(fields []call.Field, in bool) *huma.Schema {
	s := &huma.Schema{Type: huma.TypeObject, Properties: map[string]*huma.Schema{}, AdditionalProperties: !in}
	for _, f := range fields {
		s.Properties[f.Name] = schemaOf(f, in)
		if !f.May {
			s.Required = append(s.Required, f.Name)
		}
	}
	return s
}

func schemaOf(f call.Field, in bool) *huma.Schema {
	s := &huma.Schema{Description: f.Doc, Nullable: f.May}
	switch f.Is {
	case call.Number, call.Whole:
		s.Type = huma.TypeNumber
		if f.Is == call.Whole {
			s.Type = huma.TypeInteger
		}
		if in {
			s.Minimum, s.Maximum = &f.Min, &f.Max
		}
	case call.Word:
		s.Type = huma.TypeString
		for _, word := range strings.Split(f.Words, ",") {
			s.Enum = append(s.Enum, word)
		}
	case call.Text:
		s.Type = huma.TypeString
		if in {
			s.MaxLength = new(int(f.Max))
		}
	case call.Flag:
		s.Type = huma.TypeBoolean
	case call.Object:
		inner := objectOf(f.Of, in)
		inner.Description, inner.Nullable = f.Doc, f.May
		return inner
	default:
		s.Type, s.Items = huma.TypeArray, itemOf(f, in)
		if in {
			s.MinItems, s.MaxItems = new(int(f.Min)), new(int(f.Max))
		}
	}
	return s
}

func itemOf(f call.Field, in bool) *huma.Schema {
	switch f.Is {
	case call.Objects:
		return objectOf(f.Of, in)
	case call.Numbers:
		return &huma.Schema{Type: huma.TypeNumber}
	default:
		return &huma.Schema{Type: huma.TypeString}
	}
}
