package fit_test

import (
	"errors"
	"math"
	"testing"

	"jointwalk/calc/fit"
	"jointwalk/calc/quantity"
)

// refused fails unless the error is a fault with this code and field.
func refused(t *testing.T, what string, err error, code, field string) {
	t.Helper()
	var f *quantity.Fault
	if !errors.As(err, &f) || f.Code != code || f.Field != field {
		t.Errorf("%s: got %v, want %s %s", what, err, code, field)
	}
}

// all are the three fits, by name.
var all = map[string]func([]fit.Point) error{
	"straight": func(p []fit.Point) error { _, err := fit.Straight(p, 0); return err },
	"decline":  func(p []fit.Point) error { _, err := fit.Decline(p); return err },
	"settle":   func(p []fit.Point) error { _, err := fit.Settle(p); return err },
}

func TestBadReadings(t *testing.T) {
	for name, f := range all {
		for _, c := range []struct {
			spoil       func(p []fit.Point)
			code, field string
		}{
			{func(p []fit.Point) { p[1].X = math.Inf(1) }, quantity.CodeNotANumber, "x"},
			{func(p []fit.Point) { p[1].Y = math.NaN() }, quantity.CodeNotANumber, "y"},
			{func(p []fit.Point) { p[1].U = math.NaN() }, quantity.CodeNotANumber, "uncertainty"},
			{func(p []fit.Point) { p[1].U = -1 }, quantity.CodeNotPositive, "uncertainty"},
			{func(p []fit.Point) { p[1].U = 1 }, fit.CodeUncertaintyMixed, "uncertainty"},
		} {
			list := noisy(12)
			if err := f(list); err != nil {
				t.Fatalf("%s: %v before anything is spoilt", name, err)
			}
			c.spoil(list)
			refused(t, name, f(list), c.code, c.field)
		}
		refused(t, name, f(noisy(12)[:1]), fit.CodeTooFewReadings, "readings")
		refused(t, name, f(nil), fit.CodeTooFewReadings, "readings")
	}
}

func TestTimesMustRise(t *testing.T) {
	list := noisy(12)
	list[5].X = list[4].X
	refused(t, "settle", all["settle"](list), fit.CodeTimesDisordered, "x")
	refused(t, "decline", all["decline"](list), fit.CodeTimesDisordered, "x")
	if err := all["straight"](list); err != nil {
		t.Errorf("a line may have two readings at one place: %v", err)
	}
	refused(t, "straight", all["straight"]([]fit.Point{{X: 2, Y: 1}, {X: 2, Y: 3}}), fit.CodeNoSpan, "x")
	_, err := fit.Straight(noisy(12), math.NaN())
	refused(t, "straight", err, quantity.CodeNotANumber, "x")
}

func TestCannotSay(t *testing.T) {
	for _, c := range []struct {
		what string
		x, y []float64
		code string
	}{
		{"rising", []float64{10, 20, 40}, []float64{212, 222, 240}, fit.CodeNotFalling},
		{"still", []float64{10, 20, 40}, []float64{212, 212, 212}, fit.CodeNotFalling},
		{"straight", []float64{10, 20, 30, 40}, []float64{240, 230, 220, 210}, fit.CodeTooSlow},
		{"steeper and steeper", []float64{10, 20, 30}, []float64{240, 235, 210}, fit.CodeTooSlow},
		{"all but straight", []float64{0, 1, 2, 3}, []float64{100, 90.1, 80.3, 70.6}, fit.CodeTooSlow},
		{"a hump", []float64{0, 1, 2, 3, 4}, []float64{3, 9, 19, 9, 2}, fit.CodeNotFalling},
		{"over at once", []float64{10, 20, 40}, []float64{240, 210, 210}, fit.CodeTooFast},
		{"up again", []float64{10, 20, 40}, []float64{240, 210, 215}, fit.CodeTooFast},
		{"more noise than tail", []float64{0, 1, 2, 3, 4, 5, 6, 7}, []float64{54.2, 52.3, 53, 50.8, 52.5, 49.9, 50.8, 50.1}, fit.CodeTooVague},
	} {
		refused(t, c.what, all["settle"](points(c.x, c.y)), c.code, "readings")
	}
	// The same three readings, once with an uncertainty that leaves the tail open.
	vague := []fit.Point{{X: 10, Y: 240, U: 8}, {X: 20, Y: 222, U: 8}, {X: 40, Y: 212, U: 8}}
	refused(t, "vague", all["settle"](vague), fit.CodeTooVague, "readings")
	refused(t, "decline", all["decline"](points([]float64{0, 1, 2}, []float64{5, 0, 0})), fit.CodeTooFast, "readings")
	refused(t, "decline", all["decline"](points([]float64{0, 1, 2}, []float64{0, 0, 5})), fit.CodeNotFalling, "readings")
	refused(t, "decline", all["decline"](points([]float64{0, 1, 2}, []float64{0, 0, 0})), fit.CodeNotFalling, "readings")
}

// The longest time constant that is believed, in spans of the readings.
func TestSlowestTail(t *testing.T) {
	for spans, fine := range map[float64]bool{0.99 * fit.SlowestTail: true, 1.01 * fit.SlowestTail: false} {
		list := make([]fit.Point, 4)
		for i := range list {
			list[i] = fit.Point{X: float64(i), Y: 100 * math.Exp(-float64(i)/(3*spans))}
		}
		if err := all["settle"](list); !fine {
			refused(t, "settle", err, fit.CodeTooSlow, "readings")
		} else if err != nil {
			t.Errorf("%v spans: %v", spans, err)
		}
	}
}

// A clock that starts so early that the amplitude at 0 is beyond all numbers.
func TestTooFarFromZero(t *testing.T) {
	list := noisy(12)
	for i := range list {
		list[i].X += 1e5
	}
	refused(t, "settle", all["settle"](list), quantity.CodeTooLarge, "x")
	for i := range list {
		list[i] = fit.Point{X: 1e6 + float64(i), Y: math.Exp(-float64(i))}
	}
	refused(t, "decline", all["decline"](list), quantity.CodeTooLarge, "x")
}
