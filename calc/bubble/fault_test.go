package bubble_test

import (
	"errors"
	"math"
	"testing"

	"jointwalk/calc/bubble"
	"jointwalk/calc/quantity"
)

func TestFaults(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	size := func(d, u float64) func(*bubble.Train) {
		return func(b *bubble.Train) { b.Size = bubble.Size{Diameter: quantity.Length(d), U: quantity.Length(u)} }
	}
	count := func(c bubble.Count) func(*bubble.Train) { return func(b *bubble.Train) { b.Count = c } }
	for name, c := range map[string]struct {
		spoil       func(*bubble.Train)
		code, field string
	}{
		"no size":              {size(0, 0), "not-positive", "size"},
		"size below zero":      {size(-1e-3, 0), "not-positive", "size"},
		"size is no number":    {size(nan, 0), "not-a-number", "size"},
		"endless size":         {size(inf, 0), "not-a-number", "size"},
		"size of a bucket":     {size(0.3, 0), "too-large", "size"},
		"doubt below zero":     {size(3e-3, -1e-4), "not-positive", "size-uncertainty"},
		"doubt is no number":   {size(3e-3, nan), "not-a-number", "size-uncertainty"},
		"doubt beyond size":    {size(3e-3, 4e-3), "too-large", "size-uncertainty"},
		"none in the window":   {count(bubble.Window(0, 20, 0.3)), "not-positive", "count"},
		"less than none":       {count(bubble.Window(-3, 20, 0.3)), "not-positive", "count"},
		"more than believed":   {count(bubble.Window(200_000, 20, 0.3)), "too-large", "count"},
		"no time":              {count(bubble.Intervals(10, 0, 0.3)), "not-positive", "time"},
		"time is no number":    {count(bubble.Intervals(10, quantity.Duration(nan), 0.3)), "not-a-number", "time"},
		"time of weeks":        {count(bubble.Intervals(10, 2e6, 0.3)), "too-large", "time"},
		"clock below zero":     {count(bubble.Intervals(10, 20, -0.3)), "not-positive", "clock"},
		"clock beyond time":    {count(bubble.Intervals(10, 20, 30)), "too-large", "clock"},
		"one tap":              {count(bubble.Taps([]quantity.Duration{1}, 0.1)), "too-few-taps", "count"},
		"no taps":              {count(bubble.Taps(nil, 0.1)), "too-few-taps", "count"},
		"taps at once":         {count(bubble.Taps([]quantity.Duration{1, 2, 2, 3}, 0.1)), "taps-disordered", "count"},
		"taps backwards":       {count(bubble.Taps([]quantity.Duration{1, 3, 2}, 0.1)), "taps-disordered", "count"},
		"a tap is no number":   {count(bubble.Taps([]quantity.Duration{1, quantity.Duration(nan), 3}, 0.1)), "taps-disordered", "count"},
		"unknown way":          {count(bubble.Count{Way: "guess", N: 3, Time: 4}), "way-unknown", "count"},
		"nothing counted":      {count(bubble.Count{}), "way-unknown", "count"},
		"unknown medium":       {func(b *bubble.Train) { b.Medium = "oil" }, "medium-unknown", "medium"},
		"no ambient":           {func(b *bubble.Train) { b.Ambient.Pressure = 0 }, "not-positive", "ambient-pressure"},
		"temperature unheard":  {func(b *bubble.Train) { b.Ambient.Temperature = -3 }, "not-positive", "ambient-temperature"},
		"pressure not numeric": {func(b *bubble.Train) { b.Ambient.Pressure = quantity.Absolute(nan) }, "not-a-number", "ambient-pressure"},
	} {
		train := joint7()
		c.spoil(&train)
		e, err := train.Estimate()
		var f *quantity.Fault
		if !errors.As(err, &f) || f.Code != c.code || f.Field != c.field {
			t.Errorf("%s: got %v, want %s of %s", name, err, c.code, c.field)
		}
		if e.Sample != nil || e.Molar.Median != 0 {
			t.Errorf("%s: a fault comes with a number", name)
		}
	}
}

func TestSizes(t *testing.T) {
	tube := bubble.OfTube(0.75, 6e-3)
	within(t, "of a tube", float64(tube.Diameter), 4.5e-3, 1e-12)
	within(t, "its doubt", float64(tube.U), 0.45e-3, 1e-12)
	within(t, "a large one's doubt", float64(bubble.Measured(8e-3).U), 0.8e-3, 1e-12)
	within(t, "a small one's doubt", float64(bubble.Measured(2e-3).U), 0.3e-3, 1e-12)
	// A bubble smaller than the least doubt of its size is still a bubble.
	small := joint7()
	small.Size = bubble.Measured(0.3e-3)
	if e := estimate(t, small); !has(e.Warnings, bubble.WarnSizeVague) || !(e.Molar.Lo > 0) {
		t.Errorf("0.3 mm: %+v", e.Molar)
	}
}
