package web

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/danielgtaylor/huma/v2"
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
