// Package published hands the published check values to the tests.
//
// Each case in cases.json says what goes in, what comes out, the relative
// tolerance that the printed digits of its source allow, the source, and how the
// value was obtained. Kinds that begin with "derived" are consistency checks
// only. "from memory" in the provenance means that nobody re-read the original.
package published

import (
	_ "embed"
	"encoding/json"
	"math"
	"strings"
	"testing"
)

//go:embed cases.json
var file []byte

// Value is a number with its unit, or a distribution in words.
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
	var all struct{ Cases []Case }
	if err := json.Unmarshal(file, &all); err != nil {
		t.Fatal(err)
	}
	var found []Case
	for _, c := range all.Cases {
		if strings.HasPrefix(c.ID, prefix) {
			found = append(found, c)
		}
	}
	if len(found) == 0 {
		t.Fatalf("published: no case begins with %q", prefix)
	}
	return found
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
