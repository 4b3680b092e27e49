package quantity_test

import (
	"encoding/json"
	"os"
	"testing"

	"jointwalk/calc/quantity"
)

// Fractions of an inch are read alike here and on the screen: the screen's test reads the same file.
func TestInchesAsTyped(t *testing.T) {
	raw, err := os.ReadFile("../../testdata/inches.json")
	if err != nil {
		t.Fatal(err)
	}
	var cases []struct {
		Text  string
		Value *float64
	}
	if err := json.Unmarshal(raw, &cases); err != nil || len(cases) == 0 {
		t.Fatal(len(cases), err)
	}
	for _, c := range cases {
		got, err := quantity.Parse[quantity.Length](c.Text, "in")
		if c.Value == nil {
			if err == nil {
				t.Errorf("%q is read as %v", c.Text, got)
			}
			continue
		}
		want, _ := quantity.From[quantity.Length](*c.Value, "in")
		if err != nil || got != want {
			t.Errorf("%q: %v, %v, want %v", c.Text, got, err, want)
		}
	}
}
