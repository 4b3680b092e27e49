package call

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"slices"
	"strings"
	"testing"

	"jointwalk/calc/bubble"
	"jointwalk/calc/gas"
	"jointwalk/calc/laws"
	"jointwalk/calc/quantity"
)

const file = "testdata/calls.json"

// example is a call with its answer: as this processor reckons it, to be met by any other, the phone's engine too. The answers
// are no outside evidence: the packages' own tests have that.
type example struct {
	Name string          `json:"name"`
	In   json.RawMessage `json:"in"`
	Out  json.RawMessage `json:"out"`
}

// doJSON is Do with JSON in and JSON out, as a server or a phone does it.
func doJSON(name string, raw []byte) ([]byte, error) {
	var in map[string]any
	if json.Unmarshal(raw, &in) != nil {
		in = nil
	}
	out, err := Do(name, in)
	if err != nil {
		return nil, err
	}
	return json.Marshal(out)
}

func examples(t testing.TB) (all []example) {
	t.Helper()
	raw, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(raw, &all); err != nil {
		t.Fatal(err)
	}
	return all
}

// Every answer is what it was, to 1e-12, on this processor and on any other. UPDATE=1 writes them down anew.
func TestExamples(t *testing.T) {
	all := examples(t)
	asked := map[string]bool{}
	for i, e := range all {
		asked[e.Name] = true
		got, err := doJSON(e.Name, e.In)
		if err != nil {
			t.Errorf("%s %s: %v", e.Name, e.In, err)
			continue
		}
		if os.Getenv("UPDATE") != "" {
			all[i].Out = got
			continue
		}
		if err := laws.SameJSON(decoded(t, got), decoded(t, e.Out), e.Name); err != nil {
			t.Error(err)
		}
	}
	for _, e := range Table() {
		if !asked[e.Name] {
			t.Errorf("%s has no example", e.Name)
		}
	}
	if os.Getenv("UPDATE") != "" {
		write(t, all)
	}
}

// write puts an example a line.
func write(t *testing.T, all []example) {
	t.Helper()
	var out bytes.Buffer
	out.WriteString("[\n")
	for i, e := range all {
		line, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		out.Write(line)
		if i < len(all)-1 {
			out.WriteByte(',')
		}
		out.WriteByte('\n')
	}
	out.WriteString("]\n")
	if err := os.WriteFile(file, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

func decoded(t testing.TB, raw []byte) (v any) {
	t.Helper()
	if err := json.Unmarshal(raw, &v); err != nil {
		t.Fatalf("%s: %v", raw, err)
	}
	return v
}

// Each field of each example, put outside of its limits or of its kind, is refused with its name and the range; each that must
// be there is missed; one that nobody knows is told.
func TestEveryFieldIsHeldToItsLimits(t *testing.T) {
	for _, e := range examples(t) {
		given := decoded(t, e.In).(map[string]any)
		refuse := func(what, code, field string) {
			t.Helper()
			raw, _ := json.Marshal(given)
			_, err := doJSON(e.Name, raw)
			var fault *quantity.Fault
			if !errors.As(err, &fault) || fault.Code != code || fault.Field != field {
				t.Errorf("%s, %s: %v, want %s %s", e.Name, what, err, code, field)
			} else if code == quantity.CodeRange && fault.Min >= fault.Max {
				t.Errorf("%s: from %v to %v", field, fault.Min, fault.Max)
			}
		}
		spoil(given, find(e.Name).In, "", refuse)
	}
}

// spoil spoils each field of an object in turn, and mends it.
func spoil(object map[string]any, fields []Field, path string, refuse func(what, code, field string)) {
	object["nobody"] = 1
	refuse("an unknown field", CodeNoField, join(path, "nobody"))
	delete(object, "nobody")
	for _, f := range fields {
		was, there := object[f.Name]
		if !there {
			continue
		}
		at := join(path, f.Name)
		if !f.May {
			delete(object, f.Name)
			refuse("left out", CodeMissing, at)
		}
		for _, bad := range outside(f) {
			object[f.Name] = bad.value
			refuse(fmt.Sprint(bad.value), bad.code, at)
		}
		object[f.Name] = was
		if deeper, ok := was.(map[string]any); ok {
			spoil(deeper, f.Of, at, refuse)
		}
		items, _ := was.([]any)
		for n, item := range items {
			if deeper, ok := item.(map[string]any); ok {
				spoil(deeper, f.Of, join(at, fmt.Sprint(n)), refuse)
			}
		}
	}
}

type bad struct {
	value any
	code  string
}

// outside are values that a field must refuse.
func outside(f Field) []bad {
	switch f.Is {
	case Number, Whole:
		return []bad{{math.Floor(f.Min - 1 - math.Abs(f.Min)), quantity.CodeRange}, {math.Ceil(2*f.Max + 1), quantity.CodeRange}, {"1", CodeKind}}
	case Word:
		return []bad{{"none of them", CodeNotOneOf}, {"", CodeNotOneOf}, {f.Words + ",", CodeNotOneOf}, {1, CodeKind}}
	case Text:
		return []bad{{strings.Repeat("x", int(f.Max)+1), CodeLength}, {true, CodeKind}}
	case Flag:
		return []bad{{"yes", CodeKind}}
	case Object:
		return []bad{{[]any{}, CodeKind}, {1, CodeKind}}
	default:
		return []bad{{[]any{}, CodeLength}, {map[string]any{}, CodeKind}}
	}
}

// Every number and text that goes in has its limits, and all has a name that nothing beside it has.
func TestEveryFieldHasItsLimits(t *testing.T) {
	names := map[string]bool{}
	for _, e := range Table() {
		if names[e.Name] || e.About == "" {
			t.Errorf("%s is there twice, or says nothing of itself", e.Name)
		}
		names[e.Name] = true
		walk(t, e.In, e.Name, true)
		walk(t, e.Out, e.Name, false)
	}
}

func walk(t *testing.T, fields []Field, path string, in bool) {
	t.Helper()
	seen := map[string]bool{}
	for _, f := range fields {
		at := join(path, f.Name)
		limited := f.Is != Word && f.Is != Flag && f.Is != Object
		if f.Name == "" || seen[f.Name] || in && limited && f.Min >= f.Max || f.Is == Word && f.Words == "" {
			t.Errorf("%s is there twice, or has no limits", at)
		}
		seen[f.Name] = true
		if (f.Is == Object || f.Is == Objects) != (len(f.Of) > 0) {
			t.Errorf("%s has fields, or has none", at)
		}
		walk(t, f.Of, at, in)
	}
}

// What comes out is what the table says comes out.
func TestAnswersAreAsDescribed(t *testing.T) {
	for _, e := range examples(t) {
		got, err := doJSON(e.Name, e.In)
		if err != nil {
			t.Error(err)
			continue
		}
		described(t, decoded(t, got), Field{Is: Object, Of: find(e.Name).Out}, e.Name)
	}
}

func described(t *testing.T, value any, f Field, path string) {
	t.Helper()
	switch v := value.(type) {
	case nil:
		if f.May {
			return
		}
	case float64:
		if f.Is == Number || f.Is == Whole {
			return
		}
	case string:
		if f.Is == Text {
			return
		}
	case bool:
		if f.Is == Flag {
			return
		}
	case []any:
		for _, item := range v {
			switch f.Is {
			case Objects:
				described(t, item, Field{Is: Object, Of: f.Of}, path)
			case Texts:
				described(t, item, Field{Is: Text}, path)
			}
		}
		if f.Is == Objects || f.Is == Texts {
			return
		}
	case map[string]any:
		for name := range v {
			if !has(f.Of, name) {
				t.Errorf("%s.%s is not described", path, name)
			}
		}
		for _, inner := range f.Of {
			if value, there := v[inner.Name]; there || !inner.May {
				described(t, value, inner, join(path, inner.Name))
			}
		}
		if f.Is == Object {
			return
		}
	}
	t.Errorf("%s is %v, and not described so", path, value)
}

func TestFaults(t *testing.T) {
	for given, want := range map[string]string{
		`{"n":1,"confidence":0.9}{}`: CodeNotJSON, `[]`: CodeNotJSON, ``: CodeNotJSON, `null`: CodeNotJSON, `{"n":1,"confidence":1e999}`: CodeNotJSON,
		`{"n":"1","confidence":0.9}`: CodeKind + " n", `{"n":1.5,"confidence":0.9}`: CodeKind + " n", `{"n":null,"confidence":0.9}`: CodeMissing + " n",
		`{}`: CodeMissing + " n", `{"n":1,"confidence":0.9,"z":1,"a":2}`: CodeNoField + " a",
	} {
		_, err := doJSON("poisson", []byte(given))
		var fault *quantity.Fault
		if !errors.As(err, &fault) || strings.TrimSpace(fault.Code+" "+fault.Field) != want {
			t.Errorf("%q: %v, want %s", given, err, want)
		}
	}
	var fault *quantity.Fault
	if _, err := doJSON("guess", []byte(`{}`)); !errors.As(err, &fault) || fault.Code != CodeUnknown || fault.Field != "guess" {
		t.Error(err)
	}
}

// A train with several sizes is that of the one size which stands for them; one without others is as it always was.
func TestSeveralSizes(t *testing.T) {
	rate := func(more string) map[string]any {
		var in map[string]any
		if err := json.Unmarshal([]byte(`{"medium":"film","size":0.003,"sizeU":0.0003,`+more+`"count":{"way":"intervals","n":12,"time":20}}`), &in); err != nil {
			t.Fatal(err)
		}
		out, err := Do("train", in)
		if err != nil {
			t.Fatal(err)
		}
		return out["rate"].(map[string]any)
	}
	sizes := []bubble.Size{{Diameter: 0.003, U: 0.0003}, {Diameter: 0.0025, U: 0.0003}, {Diameter: 0.0036, U: 0.00036}}
	for more, n := range map[string]int{``: 1, `"more":null,`: 1, `"more":[{"size":0.0025,"sizeU":0.0003},{"size":0.0036,"sizeU":0.00036}],`: 3} {
		want, err := bubble.Train{
			Medium: bubble.Film, Size: bubble.OfSeveral(sizes[:n]), Count: bubble.Intervals(12, 20, bubble.ClockByHand), Ambient: gas.Usual(),
		}.Estimate()
		if err != nil {
			t.Fatal(err)
		}
		if got := rate(more); got["median"] != float64(want.Molar.Median) || got["low"] != float64(want.Molar.Lo) || got["high"] != float64(want.Molar.Hi) {
			t.Errorf("%s: %v, want %v", more, got, want.Molar)
		}
	}
}

// NaN and infinity are no answer, wherever they stand.
func TestNoResult(t *testing.T) {
	for _, bad := range []answer{
		{{"a", math.NaN()}}, {{"a", 1.0}, {"b", math.Inf(-1)}}, {{"a", answer{{"b", math.Inf(1)}}}}, {{"a", []answer{{{"b", 1.0}}, {{"b", math.NaN()}}}}},
	} {
		if out, good := bad.object(); good {
			t.Errorf("%v is %v", bad, out)
		}
	}
	var fault *quantity.Fault
	endless := Entry{do: func(args) (answer, error) { return answer{{"a", math.NaN()}}, nil }}
	if _, err := endless.answer(map[string]any{}); !errors.As(err, &fault) || fault.Code != CodeNoResult {
		t.Error(err)
	}
}

// The words that calls list for gases are those of package gas.
func TestGasesAreKnown(t *testing.T) {
	for _, code := range strings.Split(driving+",water-vapour", ",") {
		if _, err := gasOf(code, 0); err != nil {
			t.Error(err)
		}
	}
}

// Arbitrary bytes give an answer in JSON or a fault with a code.
func FuzzDo(f *testing.F) {
	names := []string{}
	for _, e := range Table() {
		names = append(names, e.Name)
	}
	raw, err := os.ReadFile(file)
	if err != nil {
		f.Fatal(err)
	}
	var all []example
	if err := json.Unmarshal(raw, &all); err != nil {
		f.Fatal(err)
	}
	for _, e := range all {
		f.Add(slices.Index(names, e.Name), []byte(e.In))
	}
	f.Fuzz(func(t *testing.T, which int, args []byte) {
		if which < 0 || which >= len(names) {
			return
		}
		out, err := doJSON(names[which], args)
		var fault *quantity.Fault
		if err != nil && (!errors.As(err, &fault) || fault.Code == "") || err == nil && !json.Valid(out) {
			t.Fatalf("%s %s: %s, %v", names[which], args, out, err)
		}
	})
}

func BenchmarkDo(b *testing.B) {
	for _, e := range examples(b) {
		b.Run(e.Name, func(b *testing.B) {
			b.ReportAllocs()
			for b.Loop() {
				if _, err := doJSON(e.Name, e.In); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

func ExampleDo() {
	out, err := Do("stored-energy", map[string]any{"pressure": 200_000.0, "volume": 0.0002, "gas": "air"})
	if err != nil {
		panic(err)
	}
	fmt.Printf("%.4f J\n", out["energy"])
	// Output: 40.3123 J
}
