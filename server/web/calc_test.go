package web

import (
	"encoding/json"
	"net/http"
	"os"
	"reflect"
	"testing"

	"github.com/danielgtaylor/huma/v2"

	"jointwalk/calc/call"
)

// The examples of calc/call, through the server: the same answers, whatever asks.
func TestCalculationsAnswerAsTheirTable(t *testing.T) {
	raw, err := os.ReadFile("../../calc/call/testdata/calls.json")
	if err != nil {
		t.Fatal(err)
	}
	var examples []struct {
		Name string
		In   map[string]any
	}
	if err := json.Unmarshal(raw, &examples); err != nil {
		t.Fatal(err)
	}
	b := newBench(t)
	for _, e := range examples {
		args, err := json.Marshal(e.In)
		if err != nil {
			t.Fatal(err)
		}
		got := into[any](t, b.call("POST", "/api/calc/"+e.Name, "tom", string(args)), http.StatusOK)
		want, err := call.Do(e.Name, e.In)
		if err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got, any(want)) {
			t.Errorf("%s: %v, want %v", e.Name, got, want)
		}
	}
}

func TestCalculationsRefuseWithTheRange(t *testing.T) {
	b := newBench(t)
	p := into[Problem](t, b.call("POST", "/api/calc/seal-force", "tom", `{"pressure":2e9,"diameter":0.04}`), http.StatusUnprocessableEntity)
	if p.Code != "out-of-range" || p.Field != "pressure" || len(p.Fields) != 1 || p.Fields[0].Min == nil || *p.Fields[0].Min != -300000 || *p.Fields[0].Max != 1e8 {
		t.Errorf("%+v", p)
	}
	p = into[Problem](t, b.call("POST", "/api/calc/seal-force", "tom", `{"diameter":0.04}`), http.StatusUnprocessableEntity)
	if p.Code != "missing" || p.Field != "pressure" || p.Fields[0].Min != nil {
		t.Errorf("%+v", p)
	}
	p = into[Problem](t, b.call("POST", "/api/calc/seal-force", "tom", `[`), http.StatusUnprocessableEntity)
	if p.Code != "not-json" {
		t.Errorf("%+v", p)
	}
	into[Problem](t, b.call("POST", "/api/calc/seal-force", "", `{}`), http.StatusUnauthorized)
	into[Problem](t, b.call("POST", "/api/calc/guess", "tom", `{}`), http.StatusMethodNotAllowed)
}

// The description has each calculation, with the limits that are held.
func TestCalculationsAreDescribed(t *testing.T) {
	paths := newBench(t).api.OpenAPI().Paths
	for _, e := range call.Table() {
		item := paths["/api/calc/"+e.Name]
		if item == nil || item.Post == nil {
			t.Errorf("%s is not described", e.Name)
			continue
		}
		body, answer := item.Post.RequestBody.Content["application/json"].Schema, item.Post.Responses["200"].Content["application/json"].Schema
		describes(t, e.Name, e.In, body, true)
		describes(t, e.Name, e.Out, answer, false)
	}
}

func describes(t *testing.T, where string, fields []call.Field, s *huma.Schema, in bool) {
	t.Helper()
	if len(s.Properties) != len(fields) {
		t.Errorf("%s: %d fields described of %d", where, len(s.Properties), len(fields))
	}
	for _, f := range fields {
		p := s.Properties[f.Name]
		switch {
		case p == nil:
			t.Errorf("%s.%s is not described", where, f.Name)
		case in && f.Is == call.Number && (*p.Minimum != f.Min || *p.Maximum != f.Max):
			t.Errorf("%s.%s is described from %v to %v", where, f.Name, *p.Minimum, *p.Maximum)
		case f.Is == call.Object:
			describes(t, where+"."+f.Name, f.Of, p, in)
		case f.Is == call.Objects:
			describes(t, where+"."+f.Name, f.Of, p.Items, in)
		}
	}
}
