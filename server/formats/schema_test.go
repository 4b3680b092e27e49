package formats

import (
	"bytes"
	"encoding/json"
	"math/rand"
	"strings"
	"testing"
	"time"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"jointwalk/server/example"
	"jointwalk/sync/journal"
	"jointwalk/sync/record/schema"
)

// compiled is a schema of the snapshot as an independent library reads it.
func compiled(t *testing.T, name string) *jsonschema.Schema {
	t.Helper()
	raw, err := schema.Files.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(raw))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	if err := c.AddResource(name, doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func validates(t *testing.T, s *jsonschema.Schema, line []byte) error {
	t.Helper()
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(line))
	if err != nil {
		t.Fatal(err)
	}
	return s.Validate(value)
}

func exampleLines(t *testing.T) []journal.Line {
	t.Helper()
	lines, err := example.Lines(example.Scene{
		Installation: "0197a1b0-0000-7000-8000-000000000001", Site: "site-a", Technician: "person-t", Engineer: "person-e",
		Now: time.Date(2026, 3, 2, 12, 0, 0, 0, time.UTC), Random: rand.New(rand.NewSource(1)),
	})
	if err != nil || len(lines) < 400 {
		t.Fatalf("%d lines, %v", len(lines), err)
	}
	return lines
}

func TestTheExampleSiteIsValid(t *testing.T) {
	s := compiled(t, "event.json")
	for i, line := range exampleLines(t) {
		if err := validates(t, s, line); err != nil {
			t.Fatalf("line %d: %v\n%s", i, err, line)
		}
	}
}

// A line that says something else than its kind does not pass; a kind, version or
// field of a later build does.
func TestWhatIsNotValid(t *testing.T) {
	s := compiled(t, "event.json")
	var look journal.Line
	for _, line := range exampleLines(t) {
		if bytes.Contains(line, []byte(`"kind":"look-made"`)) && bytes.Contains(line, []byte(`"observation"`)) {
			look = line
			break
		}
	}
	cases := []struct {
		name, from, to string
		valid          bool
	}{
		{"as it is", `"v":1`, `"v":1`, true},
		{"a later version", `"v":1`, `"v":2`, true},
		{"a later version of another form", `"v":1`, `"v":2,"colour":"blue"`, true},
		{"a field more", `"stayed":true`, `"stayed":true,"torch":true`, true},
		{"version 0", `"v":1`, `"v":0`, false},
		{"no joint", `"joint":`, `"goint":`, false},
		{"a result outside the list", `"result":"leaks"`, `"result":"drips"`, false},
		{"a text for a number", `"count":`, `"count":"x","c":`, false},
		{"a unit outside the list", `"unit":"mm"`, `"unit":"furlong"`, false},
		{"a half count", `"count":`, `"count":1.5,"c":`, false},
		{"no tick", `"tick":`, `"tock":`, false},
		{"a person with a space", `"by":"person-t"`, `"by":"person t"`, false},
		{"a log that is no UUID", `"log":"`, `"log":"x`, false},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			line := strings.Replace(string(look), c.from, c.to, 1)
			if !strings.Contains(string(look), c.from) || !json.Valid([]byte(line)) {
				t.Fatalf("the case does not fit: %s", line)
			}
			if err := validates(t, s, []byte(line)); (err == nil) != c.valid {
				t.Errorf("valid %v, want %v: %v", err == nil, c.valid, err)
			}
		})
	}
}

func TestReceiptsAreValid(t *testing.T) {
	s := compiled(t, "receipt.json")
	good := journal.AppendReceipt(nil, journal.Receipt{N: 7, At: "2026-03-01T10:00:00.000Z", Offset: -1200, From: "device-1"})
	if err := validates(t, s, good); err != nil {
		t.Errorf("%s: %v", good, err)
	}
	for _, bad := range []string{`{}`, `{"n":0,"at":"2026-03-01T10:00:00.000Z","offset":0,"from":"d"}`, `{"n":1,"at":"today","offset":0,"from":"d"}`, `{"n":1,"at":"2026-03-01T10:00:00.000Z","offset":0.5,"from":"d"}`} {
		if err := validates(t, s, []byte(bad)); err == nil {
			t.Errorf("%s is valid", bad)
		}
	}
}
