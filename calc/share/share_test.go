package share_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/quantity"
	"jointwalk/calc/share"
	"jointwalk/calc/spread"
)

func TestAllowance(t *testing.T) {
	a, err := share.Allowance(2e-6, share.UsualAllowance)
	if err != nil || math.Abs(float64(a)-2e-7) > 1e-19 {
		t.Errorf("a tenth of 2e-6 is %v, %v", a, err)
	}
	for _, c := range []struct {
		limit       quantity.MolarFlow
		part        float64
		code, field string
	}{
		{0, 0.1, "not-positive", "limit"},
		{quantity.MolarFlow(math.Inf(1)), 0.1, "not-a-number", "limit"},
		{2e-6, 0, "not-positive", "allowance"},
		{2e-6, 1.5, "too-large", "allowance"},
		{2e-6, math.NaN(), "not-a-number", "allowance"},
	} {
		_, err := share.Allowance(c.limit, c.part)
		var f *quantity.Fault
		if !errors.As(err, &f) || f.Code != c.code || f.Field != c.field {
			t.Errorf("%v of %v: got %v", c.part, c.limit, err)
		}
	}
}

func TestOf(t *testing.T) {
	f, err := share.Of(spread.Figure[quantity.MolarFlow]{Median: 3e-7, Lo: 1e-7, Hi: 6e-7}, 2e-7)
	if err != nil {
		t.Fatal(err)
	}
	for _, pair := range [][2]float64{{f.Median, 1.5}, {f.Lo, 0.5}, {f.Hi, 3}} {
		if math.Abs(pair[0]-pair[1]) > 1e-12 {
			t.Errorf("got %+v", f)
		}
	}
	for _, none := range []quantity.MolarFlow{0, -1, quantity.MolarFlow(math.NaN())} {
		if f, err := share.Of(spread.Figure[quantity.MolarFlow]{Median: 1}, none); err == nil || f.Median != 0 {
			t.Errorf("a share of %v is %+v", none, f)
		}
	}
}

func TestChance(t *testing.T) {
	var s spread.Source
	rate := s.Draw(spread.Rectangular{Lo: 1e-7, Hi: 5e-7})
	if got := share.Chance(rate, 2e-7); math.Abs(got-0.75) > 1e-3 {
		t.Errorf("three quarters lie above, got %v", got)
	}
	if share.Chance(rate, 1e-8) != 1 || share.Chance(rate, 1e-6) != 0 {
		t.Error("what is certain is not said so")
	}
}

func ExampleOf() {
	f, _ := share.Of(spread.Figure[quantity.MolarFlow]{Median: 2.56e-7, Lo: 1.2e-7, Hi: 4.92e-7}, 1.487e-6)
	fmt.Printf("%.0f %% of the limit (%.0f to %.0f)\n", 100*f.Median, 100*f.Lo, 100*f.Hi)
	// Output: 17 % of the limit (8 to 33)
}
