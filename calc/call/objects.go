package call

import (
	"math"

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

// answer is an object that goes out.
type answer []pair

// pair is a name with a float64, string, bool, []string, answer, []answer or nil.
type pair struct {
	name  string
	value any
}

// object is the answer as JSON has it: float64, string, bool, nil, []any and map[string]any; false when a number in it is NaN or
// infinite, for that is no answer.
func (a answer) object() (map[string]any, bool) {
	out, good := map[string]any{}, true
	for _, p := range a {
		value, ok := plain(p.value)
		out[p.name], good = value, good && ok
	}
	return out, good
}

func plain(value any) (any, bool) {
	switch v := value.(type) {
	case float64:
		return v, !math.IsNaN(v) && !math.IsInf(v, 0)
	case answer:
		return v.object()
	case []answer:
		return list(v, func(a answer) (any, bool) { return a.object() })
	case []string:
		return list(v, func(text string) (any, bool) { return text, true })
	default:
		return value, true
	}
}

func list[T any](items []T, one func(T) (any, bool)) ([]any, bool) {
	out, good := make([]any, len(items)), true
	for i, item := range items {
		value, ok := one(item)
		out[i], good = value, good && ok
	}
	return out, good
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
