package laws

import (
	"fmt"
	"math"
	"reflect"
)

// SameJSON compares two JSON values as they were read, numbers to 1e-12 of the larger: processors differ in the last bits of
// some functions. path is where they stand, for the error.
func SameJSON(a, b any, path string) error {
	switch a := a.(type) {
	case map[string]any:
		b, ok := b.(map[string]any)
		if !ok || len(a) != len(b) {
			return fmt.Errorf("%s: %v, want %v", path, a, b)
		}
		for key := range a {
			if err := SameJSON(a[key], b[key], path+"."+key); err != nil {
				return err
			}
		}
	case []any:
		b, ok := b.([]any)
		if !ok || len(a) != len(b) {
			return fmt.Errorf("%s: %v, want %v", path, a, b)
		}
		for i := range a {
			if err := SameJSON(a[i], b[i], fmt.Sprintf("%s.%d", path, i)); err != nil {
				return err
			}
		}
	case float64:
		b, ok := b.(float64)
		if !ok || math.Abs(a-b) > 1e-12*math.Max(math.Abs(a), math.Abs(b)) {
			return fmt.Errorf("%s: %.17g, want %.17g", path, a, b)
		}
	default:
		if !reflect.DeepEqual(a, b) {
			return fmt.Errorf("%s: %v, want %v", path, a, b)
		}
	}
	return nil
}
