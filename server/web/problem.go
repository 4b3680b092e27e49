package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"os"
	"strings"

	"github.com/danielgtaylor/huma/v2"
	"github.com/labstack/echo/v4"
)

// Problem is an error as it leaves the server: RFC 9457 problem details with a code that stays the same
// for ever. The words for people come from the app's catalogue, by code.
type Problem struct {
	Type    string  `json:"type" doc:"always about:blank: the code says it"`
	Title   string  `json:"title" doc:"the status in words"`
	Status  int     `json:"status"`
	Code    string  `json:"code" doc:"what went wrong, for programs"`
	Detail  string  `json:"detail,omitempty" doc:"what went wrong, in plain English"`
	Request string  `json:"request,omitempty" doc:"to be found again in the server's log"`
	Field   string  `json:"field,omitempty" doc:"the first of these"`
	Fields  []Field `json:"fields,omitempty" doc:"which parts of the input were no good"`

	cause error
	after string // seconds for Retry-After
}

// Field is one part of the input that was no good.
type Field struct {
	Where string `json:"where"`
	What  string `json:"what"`
	// Min and Max are the allowed range, where one is what was missed.
	Min *float64 `json:"min,omitempty"`
	Max *float64 `json:"max,omitempty"`
}

// told is the problem as it goes out, in answer to one request.
func (p Problem) told(request string) *Problem {
	p.Request = request
	if len(p.Fields) > 0 {
		p.Field = strings.TrimPrefix(p.Fields[0].Where, "body.")
	}
	return &p
}

// Error gives the code, the detail and the cause, for the log.
func (p *Problem) Error() string {
	text := p.Code
	if p.Detail != "" {
		text += ": " + p.Detail
	}
	if p.cause != nil {
		text += ": " + p.cause.Error()
	}
	return text
}

// Unwrap gives the cause.
func (p *Problem) Unwrap() error { return p.cause }

// GetStatus is the HTTP status.
func (p *Problem) GetStatus() int { return p.Status }

// ContentType is that of problem details.
func (p *Problem) ContentType(string) string { return "application/problem+json" }

func refuse(status int, code, detail string) *Problem {
	return &Problem{Type: "about:blank", Title: http.StatusText(status), Status: status, Code: code, Detail: detail}
}

func broke(err error) *Problem {
	p := refuse(http.StatusInternalServerError, "internal", "something broke on the server; nothing was lost, try again")
	p.cause = err
	return p
}

// statusGone is for a caller who did not wait: nobody reads it.
const statusGone = 499

// statusCodes name what the router and the validation refuse by themselves.
var statusCodes = map[int][2]string{
	http.StatusBadRequest:            {"bad-request", "the request cannot be read"},
	http.StatusNotFound:              {"not-found", "there is nothing at this address"},
	http.StatusMethodNotAllowed:      {"no-such-method", "this address does not take that method"},
	http.StatusNotAcceptable:         {"not-acceptable", "the answer is JSON only"},
	http.StatusRequestTimeout:        {"too-slow", "the request came in too slowly"},
	http.StatusRequestEntityTooLarge: {"too-large", "the request is too large"},
	http.StatusUnsupportedMediaType:  {"bad-type", "the body must be application/json"},
	http.StatusUnprocessableEntity:   {"bad-input", "some of the input is no good"},
}

func ofStatus(status int) *Problem {
	if w, ok := statusCodes[status]; ok {
		return refuse(status, w[0], w[1])
	}
	if status >= 500 {
		return broke(nil)
	}
	return refuse(status, "refused", http.StatusText(status))
}

// asProblem finds the problem in an error; what is none is something that broke.
func asProblem(err error) *Problem {
	var p *Problem
	var routed *echo.HTTPError
	limit := overLimit(err)
	switch {
	case errors.As(err, &p):
		return p
	case limit != nil:
		return limit
	case errors.As(err, &routed):
		return ofStatus(routed.Code)
	case errors.Is(err, context.Canceled):
		return refuse(statusGone, "gone", "the caller has gone")
	}
	return broke(err)
}

// overLimit is what a body is told that is too large or too slow; nil for any other error.
func overLimit(err error) *Problem {
	var large *http.MaxBytesError
	switch {
	case errors.As(err, &large):
		p := ofStatus(http.StatusRequestEntityTooLarge)
		p.Detail = fmt.Sprintf("the request is too large: here at most %d bytes are taken", large.Limit)
		return p
	case errors.Is(err, os.ErrDeadlineExceeded):
		return ofStatus(http.StatusRequestTimeout)
	}
	return nil
}

// The library that reads and checks JSON makes its own refusals through this variable, the only door it
// offers. What it says of a part of the input is kept without the value, which may be a secret.
func init() {
	huma.NewError = func(status int, detail string, errs ...error) huma.StatusError {
		p := ofStatus(status)
		if status >= 500 {
			p.cause = errors.Join(errs...)
			return p
		}
		if status == http.StatusRequestEntityTooLarge {
			p.Detail = detail // it says the limit
		}
		for _, err := range errs {
			if d, ok := err.(huma.ErrorDetailer); ok {
				p.Fields = append(p.Fields, Field{Where: d.ErrorDetail().Location, What: d.ErrorDetail().Message})
			}
		}
		return p
	}
}
