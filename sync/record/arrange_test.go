package record

import (
	"slices"
	"testing"

	"pgregory.net/rapid"
)

func TestArrangeSorts(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		got := rapid.SliceOfNDistinct(rapid.Int(), 0, 200, rapid.ID[int]).Draw(rt, "things")
		want := slices.Sorted(slices.Values(got))
		Arrange(got, func(a, b int) bool { return a < b })
		if !slices.Equal(got, want) {
			rt.Errorf("%v", got)
		}
	})
}
