package call

import (
	"encoding/json"
	"errors"
	"math"
	"strings"
	"testing"

	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

// anyOf draws a value of a field within its limits.
func anyOf(t *rapid.T, f Field, name string) any {
	few := int(math.Min(f.Max, 6))
	switch f.Is {
	case Object:
		return anyObject(t, f.Of, name)
	case Objects:
		items := []any{}
		for range rapid.IntRange(int(f.Min), few).Draw(t, name+" length") {
			items = append(items, anyObject(t, f.Of, name))
		}
		return items
	case Numbers:
		return rapid.SliceOfN(rapid.Float64Range(0, 1000), int(f.Min), few).Draw(t, name)
	case Word:
		return rapid.SampledFrom(strings.Split(f.Words, ",")).Draw(t, name)
	case Text:
		return rapid.SampledFrom([]string{"compression", "push-to-connect", "12", "mm", "std cm3/min@0C", "SI", "x"}).Draw(t, name)
	case Flag:
		return rapid.Bool().Draw(t, name)
	case Whole:
		return rapid.IntRange(int(f.Min), int(math.Min(f.Max, 5000))).Draw(t, name)
	default:
		return anyNumber(t, f.Min, f.Max, name)
	}
}

// anyNumber is between two ends, of any size where both are above zero.
func anyNumber(t *rapid.T, low, high float64, name string) float64 {
	if low > 0 && rapid.Bool().Draw(t, name+" of any size") {
		return math.Min(high, math.Max(low, math.Exp(rapid.Float64Range(math.Log(low), math.Log(high)).Draw(t, "ln "+name))))
	}
	return rapid.Float64Range(low, high).Draw(t, name)
}

func anyObject(t *rapid.T, fields []Field, name string) map[string]any {
	object := map[string]any{}
	for _, f := range fields {
		if f.May && rapid.Bool().Draw(t, name+f.Name+" left out") {
			continue
		}
		object[f.Name] = anyOf(t, f, name+f.Name)
	}
	return object
}

// Whatever is within the limits gives finite numbers or a fault with a code: no panic, no NaN, no infinity.
func TestWithinLimits(t *testing.T) {
	for _, e := range Table() {
		t.Run(e.Name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				args, err := json.Marshal(anyObject(t, e.In, ""))
				if err != nil {
					t.Fatal(err)
				}
				out, err := doJSON(e.Name, args)
				var fault *quantity.Fault
				switch {
				case err != nil && (!errors.As(err, &fault) || fault.Code == ""):
					t.Fatalf("%s: %v", args, err)
				case fault != nil && (fault.Code == quantity.CodeRange && fault.Min >= fault.Max):
					t.Fatalf("%s: a range from %v to %v", args, fault.Min, fault.Max)
				case fault != nil && misread(fault.Code):
					t.Fatalf("%s: %v, and it was within the limits", args, err)
				case err == nil && !json.Valid(out):
					t.Fatalf("%s", out)
				}
			})
		})
	}
}

// misread says whether a fault is one of reading.
func misread(code string) bool {
	switch code {
	case CodeUnknown, CodeNotJSON, CodeKind, CodeMissing, CodeNoField, CodeNotOneOf, CodeLength:
		return true
	}
	return false
}
