package web

import (
	"encoding/json"
	"io"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"github.com/danielgtaylor/huma/v2"

	"jointwalk/sync/exchange"
)

// Each text, list and number that comes in has a limit, in the description and so in the checks.
func TestEveryInputHasALimit(t *testing.T) {
	b := newBench(t)
	api := b.api.OpenAPI()
	checked := 0
	var check func(where string, s *huma.Schema, trail []*huma.Schema)
	check = func(where string, s *huma.Schema, trail []*huma.Schema) {
		if s == nil || slices.Contains(trail, s) {
			return
		}
		trail = append(trail, s)
		if s.Ref != "" {
			check(where, api.Components.Schemas.SchemaFromRef(s.Ref), trail)
			return
		}
		checked++
		free := s.Type == huma.TypeString && s.MaxLength == nil && len(s.Enum) == 0 || s.Type == huma.TypeArray && s.MaxItems == nil ||
			(s.Type == huma.TypeNumber || s.Type == huma.TypeInteger) && (s.Maximum == nil || s.Minimum == nil)
		if free {
			t.Errorf("%s (%s) has no limit", where, s.Type)
		}
		check(where+"[]", s.Items, trail)
		for name, property := range s.Properties {
			check(where+"."+name, property, trail)
		}
	}
	for path, item := range api.Paths {
		for _, op := range []*huma.Operation{item.Get, item.Post, item.Put, item.Patch, item.Head} {
			if op == nil {
				continue
			}
			for _, p := range op.Parameters {
				check(path+" "+p.Name, p.Schema, nil)
			}
			if op.RequestBody != nil && op.RequestBody.Content["application/json"] != nil {
				check(path, op.RequestBody.Content["application/json"].Schema, nil)
			}
		}
	}
	if checked < 40 {
		t.Errorf("only %d inputs looked at", checked)
	}
}

func TestDescription(t *testing.T) {
	b := newBench(t)
	doc := into[map[string]json.RawMessage](t, b.call("GET", "/api/openapi.json", "", ""), 200)
	var paths map[string]json.RawMessage
	if err := json.Unmarshal(doc["paths"], &paths); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/api/hello", "/api/ask/estimate", "/api/push", "/api/pictures/{hash}", "/api/fixtures/{id}/label.pdf"} {
		if paths[path] == nil {
			t.Errorf("%s is not described", path)
		}
	}
	if string(doc["openapi"]) != `"3.1.0"` {
		t.Errorf("%s", doc["openapi"])
	}
}

// endless is a body without an end, and how much of it was read.
type endless struct{ read int }

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = ' '
	}
	e.read += len(p)
	return len(p), nil
}

// No route reads a body without an end: each stops at its limit, whatever it does with what came.
func TestEveryBodyHasALimit(t *testing.T) {
	for route, path := range changing(t, newBench(t)) {
		method, _, _ := strings.Cut(route, " ")
		most := 2 * exchange.MaxBatchBytes
		switch {
		case route == "POST /api/import":
			most = 2 * longestRow
		case strings.HasPrefix(path, "/api/calc/"):
			most = 2 * mostArgs
		case method == "PATCH" && strings.HasPrefix(path, "/api/pictures/"):
			path += "?offset=1&size=99999"
		}
		body := &endless{}
		r := httptest.NewRequest(method, path, io.NopCloser(body))
		r.Host = "localhost:8080"
		for name, value := range map[string]string{"Origin": "http://localhost:8080", "X-Jointwalk": "1", "Content-Type": kindOf(path), "Cookie": "jointwalk=sue"} {
			r.Header.Set(name, value)
		}
		w := httptest.NewRecorder()
		newBench(t).ServeHTTP(w, r)
		if body.read > most+64<<10 || body.read > 0 && w.Code < 400 {
			t.Errorf("%s read %d bytes, answered %d", route, body.read, w.Code)
		}
	}
}
