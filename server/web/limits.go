package web

import (
	"strings"

	"github.com/danielgtaylor/huma/v2"
)

// Limits on input that says none itself.
const (
	longestText = 2000
	mostItems   = 500
	largest     = 1e12
)

// limitInputs puts a limit on each text, list and number of each request body, so that no route is
// without one because somebody forgot.
func limitInputs(api *huma.OpenAPI) {
	seen := map[*huma.Schema]bool{}
	for _, item := range api.Paths {
		for _, op := range []*huma.Operation{item.Post, item.Put, item.Patch} {
			if op == nil || op.RequestBody == nil {
				continue
			}
			for _, media := range op.RequestBody.Content {
				limitSchema(api, media.Schema, seen)
			}
		}
	}
}

func limitSchema(api *huma.OpenAPI, s *huma.Schema, seen map[*huma.Schema]bool) {
	if s == nil || seen[s] {
		return
	}
	seen[s] = true
	if s.Ref != "" {
		limitSchema(api, api.Components.Schemas.SchemaFromRef(s.Ref), seen)
		return
	}
	limitValue(s)
	limitSchema(api, s.Items, seen)
	for _, property := range s.Properties {
		limitSchema(api, property, seen)
	}
	if values, ok := s.AdditionalProperties.(*huma.Schema); ok {
		limitSchema(api, values, seen)
	}
	s.PrecomputeMessages()
}

func limitValue(s *huma.Schema) {
	switch s.Type {
	case huma.TypeString:
		if s.MaxLength == nil && len(s.Enum) == 0 {
			s.MaxLength = new(longestText)
		}
	case huma.TypeArray:
		if s.MaxItems == nil {
			s.MaxItems = new(mostItems)
		}
	case huma.TypeNumber, huma.TypeInteger:
		if s.Maximum == nil {
			s.Maximum = new(largest)
		}
		if s.Minimum == nil {
			s.Minimum = new(-largest)
		}
	}
}

// echoPath writes /a/{b} the router's way: /a/:b.
func echoPath(path string) string {
	return strings.NewReplacer("{", ":", "}", "").Replace(path)
}
