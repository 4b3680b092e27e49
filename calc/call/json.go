package call

import (
	"encoding/json"
	"math"
	"strconv"

	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
)

// args is an object that came in and was checked: what is not there is zero.
type args map[string]any

func (a args) number(name string) float64 { v, _ := a[name].(float64); return v }
func (a args) text(name string) string    { v, _ := a[name].(string); return v }
func (a args) flag(name string) bool      { v, _ := a[name].(bool); return v }
func (a args) object(name string) args    { v, _ := a[name].(map[string]any); return v }

func (a args) objects(name string) (list []args) {
	items, _ := a[name].([]any)
	for _, item := range items {
		object, _ := item.(map[string]any)
		list = append(list, object)
	}
	return list
}

// of is the number of a name as a quantity.
func of[Q ~float64](a args, name string) Q { return Q(a.number(name)) }

// or is the number of a name, or what is taken where it was left out.
func or[Q ~float64](a args, name string, usual Q) Q {
	if _, there := a[name].(float64); there {
		return of[Q](a, name)
	}
	return usual
}

// answer is an object that goes out, its fields in the order of the table.
type answer []pair

// pair is a name with a float64, string, bool, []string, answer, []answer or nil.
type pair struct {
	name  string
	value any
}

// json writes the answer. NaN and infinity are no answer: CodeNoResult.
func (a answer) json() (json.RawMessage, error) {
	out, ok := a.append(nil)
	if !ok {
		return nil, &quantity.Fault{Code: CodeNoResult}
	}
	return out, nil
}

func (a answer) append(out []byte) ([]byte, bool) {
	good := true
	out = append(out, '{')
	for i, p := range a {
		if i > 0 {
			out = append(out, ',')
		}
		out = append(append(append(out, '"'), p.name...), '"', ':')
		var ok bool
		out, ok = appendValue(out, p.value)
		good = good && ok
	}
	return append(out, '}'), good
}

func appendValue(out []byte, value any) ([]byte, bool) {
	switch v := value.(type) {
	case float64:
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return out, false
		}
		return strconv.AppendFloat(out, v, 'g', -1, 64), true
	case string:
		return appendText(out, v), true
	case bool:
		return strconv.AppendBool(out, v), true
	case answer:
		return v.append(out)
	case []answer:
		return appendList(out, len(v), func(out []byte, i int) ([]byte, bool) { return v[i].append(out) })
	case []string:
		return appendList(out, len(v), func(out []byte, i int) ([]byte, bool) { return appendText(out, v[i]), true })
	default:
		return append(out, "null"...), true
	}
}

func appendList(out []byte, n int, item func(out []byte, i int) ([]byte, bool)) ([]byte, bool) {
	good := true
	out = append(out, '[')
	for i := range n {
		if i > 0 {
			out = append(out, ',')
		}
		var ok bool
		out, ok = item(out, i)
		good = good && ok
	}
	return append(out, ']'), good
}

func appendText(out []byte, text string) []byte {
	raw, err := json.Marshal(text)
	if err != nil {
		panic("call: " + err.Error())
	}
	return append(out, raw...)
}

// figure is a median with the ends of the symmetric 95 % interval.
func figure[Q ~float64](f spread.Figure[Q]) answer {
	return answer{{"median", float64(f.Median)}, {"low", float64(f.Lo)}, {"high", float64(f.Hi)}}
}

// figureOut are its fields.
var figureOut = []Field{{Name: "median"}, {Name: "low"}, {Name: "high"}}

// part is a line of a budget.
func part(input string, percent float64) answer {
	return answer{{"input", input}, {"percent", percent}}
}

// budgetOut are the fields of a part of a budget.
var budgetOut = []Field{{Name: "input", Is: Text}, {Name: "percent"}}
