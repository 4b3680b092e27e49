package schema

import (
	"encoding/json"
	"reflect"
	"strings"

	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// node is a JSON Schema, or a part of one.
type node = map[string]any

const dialect = "https://json-schema.org/draft/2020-12/schema"

var (
	eventType   = reflect.TypeFor[journal.Event]()
	receiptType = reflect.TypeFor[journal.Receipt]()
)

// Event makes the schema of an event from the types: the envelope, and for each
// kind and version that this build knows the body. Kinds and versions of later
// builds pass, and so do unknown fields.
func Event() []byte {
	w := &writer{defs: node{}}
	s := w.fields(eventType)
	s["$schema"], s["$id"], s["title"] = dialect, "urn:jointwalk:schema:event", "Event"
	bodies := []any{}
	for _, kind := range record.Kinds() {
		bodies = append(bodies, node{
			"if":   node{"properties": node{"kind": node{"const": string(kind)}, "v": node{"const": record.Version}}},
			"then": node{"properties": node{"body": w.of(reflect.TypeOf(record.Blank(kind)).Elem(), "")}},
		})
	}
	s["allOf"], s["$defs"] = bodies, w.defs
	return printed(s)
}

// Receipt makes the schema of a receipt from its type.
func Receipt() []byte {
	s := (&writer{}).fields(receiptType)
	s["$schema"], s["$id"], s["title"] = dialect, "urn:jointwalk:schema:receipt", "Receipt"
	return printed(s)
}

func printed(s node) []byte {
	raw, err := json.MarshalIndent(s, "", " ")
	if err != nil {
		panic("schema: " + err.Error())
	}
	return append(raw, '\n')
}

// writer turns types into schemas, each named one once.
type writer struct {
	defs node
	used []string // the names of fields that a rule or a vocabulary was found for
}

// of describes a type; field is the name of the field that has it.
func (w *writer) of(t reflect.Type, field string) node {
	if t == reflect.TypeFor[json.RawMessage]() {
		return node{"type": "object"}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return w.of(t.Elem(), field)
	case reflect.Struct:
		if w.defs[t.Name()] == nil {
			w.defs[t.Name()] = node{} // for a type that holds itself
			w.defs[t.Name()] = w.fields(t)
		}
		return node{"$ref": "#/$defs/" + t.Name()}
	case reflect.Slice:
		return node{"type": "array", "items": w.of(t.Elem(), field)}
	}
	s := node{"type": basic[t.Kind()]}
	for keyword, value := range rules[field] {
		s[keyword] = value
	}
	if codes := vocabulary(field); codes != nil {
		s["enum"] = codes
	}
	if len(s) > 1 {
		w.used = append(w.used, field)
	}
	return s
}

var basic = map[reflect.Kind]string{
	reflect.String: "string", reflect.Bool: "boolean", reflect.Float64: "number",
	reflect.Int: "integer", reflect.Int64: "integer", reflect.Uint64: "integer",
}

// fields describes a struct. A field without omitempty must be there.
func (w *writer) fields(t reflect.Type) node {
	properties, required := node{}, []string{}
	for i := range t.NumField() {
		field := t.Field(i)
		name, options, _ := strings.Cut(field.Tag.Get("json"), ",")
		of := w.of(field.Type, t.Name()+"."+name)
		if options != "omitempty" {
			required = append(required, name)
		} else if codes, isCode := of["enum"].([]string); isCode && field.Type.Kind() == reflect.String {
			of["enum"] = append(codes, "") // an empty text counts as left out
		}
		properties[name] = of
	}
	return node{"type": "object", "properties": properties, "required": required}
}
