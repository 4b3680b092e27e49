package engine

import (
	"encoding/json"
	"os"
	"testing"

	"jointwalk/calc/call"
	"jointwalk/calc/laws"
	"jointwalk/calc/quantity"
)

// The door answers every example of the table with what the table's own file says, and a number out of its range with the
// range.
func TestTheDoorCalculates(t *testing.T) {
	raw, err := os.ReadFile("../../../calc/call/testdata/calls.json")
	if err != nil {
		t.Fatal(err)
	}
	var examples []struct {
		Name string         `json:"name"`
		In   map[string]any `json:"in"`
		Out  any            `json:"out"`
	}
	if err := json.Unmarshal(raw, &examples); err != nil || len(examples) < len(call.Table()) {
		t.Fatal(len(examples), err)
	}
	p := newPhone(t, 1)
	for _, e := range examples {
		var got any
		p.call("calc", map[string]any{"name": e.Name, "in": e.In}, &got)
		if err := laws.SameJSON(got, e.Out, e.Name); err != nil {
			t.Error(err)
		}
	}
	far := map[string]any{"name": "seal-force", "in": map[string]any{"pressure": 2e9, "diameter": 0.04}}
	fault := through(t, p.Engine, "calc", far, nil)
	if fault == nil || fault.Code != quantity.CodeRange || fault.Field != "pressure" || fault.Min == nil || *fault.Min != -300_000 || *fault.Max != 1e8 {
		t.Errorf("%+v", fault)
	}
	if fault := through(t, p.Engine, "calc", map[string]any{"name": "seal-force"}, nil); fault == nil || fault.Code != call.CodeNotJSON || fault.Min != nil {
		t.Errorf("%+v", fault)
	}
}
