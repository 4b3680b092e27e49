package schema

import (
	"encoding/json"
	"maps"
	"os"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"jointwalk/sync/record"
)

func made() map[string][]byte {
	return map[string][]byte{"event.json": Event(), "receipt.json": Receipt()}
}

func snapshot(t *testing.T, name string) []byte {
	t.Helper()
	raw, err := Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

func TestTheSnapshotIsThatOfTheTypes(t *testing.T) {
	for name, want := range made() {
		if string(snapshot(t, name)) != string(want) {
			t.Errorf("%s is not what the types say: go run ./server/formats/freeze schema", name)
		}
	}
}

// The snapshot would notice: a field more, a type changed, a code more.
func TestTypesAreDescribedToTheField(t *testing.T) {
	type Part struct {
		Size float64 `json:"size"`
	}
	type Whole struct {
		Name  string   `json:"name"`
		Count int      `json:"count,omitempty"`
		Parts []Part   `json:"parts"`
		One   *Part    `json:"one,omitempty"`
		Seen  []string `json:"seen,omitempty"`
		Raw   json.RawMessage
	}
	w := &writer{defs: node{}}
	got := string(printed(w.fields(reflect.TypeFor[Whole]())))
	for _, want := range []string{
		`"name": { "type": "string" }`, `"count": { "type": "integer" }`, `"one": { "$ref": "#/$defs/Part" }`,
		`"parts": { "items": { "$ref": "#/$defs/Part" }, "type": "array" }`, `"required": [ "name", "parts", "" ]`,
	} {
		if !strings.Contains(strings.Join(strings.Fields(got), " "), want) {
			t.Errorf("no %s in\n%s", want, got)
		}
	}
	if part := w.defs["Part"].(node); !slices.Equal(part["required"].([]string), []string{"size"}) {
		t.Errorf("part %v", part)
	}
	if of := w.of(reflect.TypeFor[string](), "Look.wiped"); !slices.Equal(of["enum"].([]string), []string{"came-back", "not-tried", "stayed-away"}) {
		t.Errorf("codes %v", of)
	}
}

// Every rule and every vocabulary belongs to a field that there is.
func TestNoRuleIsStale(t *testing.T) {
	w := &writer{defs: node{}}
	for _, kind := range record.Kinds() {
		w.of(reflect.TypeOf(record.Blank(kind)).Elem(), "")
	}
	w.fields(eventType)
	w.fields(receiptType)
	for _, field := range slices.Concat(slices.Collect(maps.Keys(rules)), slices.Collect(maps.Keys(vocabularies))) {
		if !slices.Contains(w.used, field) {
			t.Errorf("no field %s", field)
		}
	}
}

func TestTheSnapshotOnlyAddsToWhatWasReleased(t *testing.T) {
	for name := range made() {
		released, err := os.ReadFile(filepath.Join("released", name))
		if err != nil {
			t.Fatal(err)
		}
		breaks, err := Breaks(released, snapshot(t, name), Retired)
		if err != nil || len(breaks) > 0 {
			t.Errorf("%s: %v\n%s", name, err, strings.Join(breaks, "\n"))
		}
	}
}

// Each change that would break a reader is told; each addition is not.
func TestBreaksAreTold(t *testing.T) {
	look := func(s node) node { return s["$defs"].(node)["Look"].(node) }
	field := func(s node, name string) node { return look(s)["properties"].(node)[name].(node) }
	cases := []struct {
		name    string
		change  func(node)
		retired []string
		want    string
	}{
		{"nothing", func(node) {}, nil, ""},
		{"a field gone", func(s node) { delete(look(s)["properties"].(node), "note") }, nil, "/$defs/Look/properties/note: is gone"},
		{"a field renamed", func(s node) {
			look(s)["properties"].(node)["remark"] = field(s, "note")
			delete(look(s)["properties"].(node), "note")
		}, nil, "/note: is gone"},
		{"another type", func(s node) { field(s, "seconds")["type"] = "string" }, nil, "was number, is string"},
		{"another noun", func(s node) { field(s, "observation")["$ref"] = "#/$defs/Shown" }, nil, "was #/$defs/Observation, is #/$defs/Shown"},
		{"a field that must newly be there", func(s node) { look(s)["required"] = append(look(s)["required"].([]any), "note") }, nil, "note came or went"},
		{"a field that need not be there any more", func(s node) { look(s)["required"] = []any{"round", "joint", "result"} }, nil, "stayed came or went"},
		{"a code gone", func(s node) { field(s, "result")["enum"] = []any{"none", "leaks"} }, nil, "gross came or went"},
		{"codes where any text went", func(s node) { field(s, "note")["enum"] = []any{"short"} }, nil, "has a new enum"},
		{"codes no longer told", func(s node) { delete(field(s, "result"), "enum") }, nil, "has lost its enum"},
		{"a narrower envelope", func(s node) { s["properties"].(node)["zone"].(node)["pattern"] = "^UTC$" }, nil, "is ^UTC$"},
		{"an envelope field gone", func(s node) { delete(s["properties"].(node), "tick") }, nil, "/properties/tick: is gone"},
		{"other items", func(s node) {
			s["$defs"].(node)["RoundEnd"].(node)["properties"].(node)["putBack"].(node)["items"] = node{"type": "integer"}
		}, nil, "/putBack/items"},
		{"a type gone", func(s node) { delete(s["$defs"].(node), "Picture") }, nil, "/$defs/Picture: is gone"},
		{"a kind gone", func(s node) { s["allOf"] = s["allOf"].([]any)[1:] }, nil, "kind finding-mended 1 is gone"},
		{"a kind with another body", func(s node) {
			s["allOf"].([]any)[0].(node)["then"].(node)["properties"].(node)["body"].(node)["$ref"] = "#/$defs/Look"
		}, nil, "kind finding-mended 1 has another body"},
		{"a retired field gone", func(s node) { delete(look(s)["properties"].(node), "note") }, []string{"Look.note"}, ""},
		{"a retired kind gone", func(s node) { s["allOf"] = s["allOf"].([]any)[1:] }, []string{"finding-mended"}, ""},
		{"a retired field back", func(node) {}, []string{"Look.note"}, "Look.note: is retired and came back"},
		{"a retired kind back", func(node) {}, []string{"look-made"}, "look-made: is retired and came back"},
		{"a retired type back", func(node) {}, []string{"Shown"}, "Shown: is retired and came back"},
		{"a field more", func(s node) { look(s)["properties"].(node)["torch"] = node{"type": "boolean"} }, nil, ""},
		{"a code more", func(s node) { field(s, "result")["enum"] = append(field(s, "result")["enum"].([]any), "frozen") }, nil, ""},
		{"a kind more", func(s node) {
			s["allOf"] = append(s["allOf"].([]any), node{"if": node{"properties": node{"kind": node{"const": "new"}, "v": node{"const": 1}}}})
		}, nil, ""},
		{"a description", func(s node) { look(s)["description"] = "What one joint did." }, nil, ""},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			var copied node
			if err := json.Unmarshal(Event(), &copied); err != nil {
				t.Fatal(err)
			}
			c.change(copied)
			breaks, err := Breaks(Event(), printed(copied), c.retired)
			if err != nil {
				t.Fatal(err)
			}
			told := strings.Join(breaks, "\n")
			if c.want == "" && told != "" || !strings.Contains(told, c.want) {
				t.Errorf("told %q, want %q", told, c.want)
			}
		})
	}
	if _, err := Breaks([]byte("{"), Event(), nil); err == nil {
		t.Error("what is no JSON cannot be compared")
	}
	if _, err := Breaks(Event(), []byte("{"), nil); err == nil {
		t.Error("what is no JSON cannot be compared")
	}
}

func TestRetiredNamesStayAway(t *testing.T) {
	breaks, err := Breaks(Event(), Event(), Retired)
	if err != nil || len(breaks) > 0 {
		t.Errorf("%v, %v", breaks, err)
	}
}
