// Package published hands the published check values to the tests.
//
// There is one file a topic. Each case in it says what goes in, what comes out, the relative
// tolerance that the printed digits of its source allow, the source, and how the
// value was obtained. Kinds that begin with "derived" are consistency checks
// only. "from memory" in the provenance means that nobody re-read the original.
// What no test runs stands in Unused, with the reason.
package published

import (
	"embed"
	"encoding/json"
	"io/fs"
	"math"
	"strings"
	"testing"
)

//go:embed *.json
var files embed.FS

// Value is a number with its unit, a list of numbers, or a distribution in words.
type Value struct {
	Value json.RawMessage
	Unit  string
}

// Number is the value as a number.
func (v Value) Number(t testing.TB) float64 {
	t.Helper()
	var f float64
	if err := json.Unmarshal(v.Value, &f); err != nil {
		t.Fatalf("published: %s is no number", v.Value)
	}
	return f
}

// Numbers are the value as a list of numbers.
func (v Value) Numbers(t testing.TB) []float64 {
	t.Helper()
	var list []float64
	if err := json.Unmarshal(v.Value, &list); err != nil {
		t.Fatalf("published: %s is no list of numbers", v.Value)
	}
	return list
}

// Case is one check value.
type Case struct {
	ID, Title, Kind, Source, Provenance, Note string
	Inputs                                    map[string]Value
	Expected                                  Value
	RelTol                                    float64
}

// In is the number of an input.
func (c Case) In(t testing.TB, name string) float64 {
	t.Helper()
	v, ok := c.Inputs[name]
	if !ok {
		t.Fatalf("published: %s has no input %q", c.ID, name)
	}
	return v.Number(t)
}

// List are the numbers of an input that is a list.
func (c Case) List(t testing.TB, name string) []float64 {
	t.Helper()
	v, ok := c.Inputs[name]
	if !ok {
		t.Fatalf("published: %s has no input %q", c.ID, name)
	}
	return v.Numbers(t)
}

// Check fails the test when got is further from the expected value than the
// source's digits allow.
func (c Case) Check(t testing.TB, got float64) {
	t.Helper()
	want := c.Expected.Number(t)
	if !(math.Abs(got-want) <= c.RelTol*math.Abs(want)) {
		t.Errorf("%s: got %.9g, want %.9g ± %g (relative) %s; %s", c.ID, got, want, c.RelTol, c.Expected.Unit, c.Source)
	}
}

// Cases are those whose id begins with a prefix; none is a failure of the test.
func Cases(t testing.TB, prefix string) []Case {
	t.Helper()
	var found []Case
	for _, c := range All(t) {
		if strings.HasPrefix(c.ID, prefix) {
			found = append(found, c)
		}
	}
	if len(found) == 0 {
		t.Fatalf("published: no case begins with %q", prefix)
	}
	return found
}

// All are the cases of all files.
func All(t testing.TB) (cases []Case) {
	t.Helper()
	names, err := fs.Glob(files, "*.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		raw, err := files.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		var part struct{ Cases []Case }
		if err := json.Unmarshal(raw, &part); err != nil {
			t.Fatalf("published: %s: %v", name, err)
		}
		cases = append(cases, part.Cases...)
	}
	return cases
}

// One is the case with exactly that id.
func One(t testing.TB, id string) Case {
	t.Helper()
	for _, c := range Cases(t, id) {
		if c.ID == id {
			return c
		}
	}
	t.Fatalf("published: no case %q", id)
	return Case{}
}
