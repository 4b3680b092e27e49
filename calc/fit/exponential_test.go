package fit_test

import (
	"math"
	"testing"

	"jointwalk/calc/fit"
	"pgregory.net/rapid"
)

func decline(t rapid.TB, list []fit.Point) fit.Exponential {
	t.Helper()
	e, err := fit.Decline(list)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func settle(t rapid.TB, list []fit.Point) fit.Tail {
	t.Helper()
	tail, err := fit.Settle(list)
	if err != nil {
		t.Fatal(err)
	}
	return tail
}

// times rise from a start, by steps that differ by less than ten.
func times(t *rapid.T, least int) []fit.Point {
	list := make([]fit.Point, rapid.IntRange(least, 20).Draw(t, "n"))
	x := rapid.Float64Range(0, 5).Draw(t, "start")
	for i := range list {
		list[i].X = x
		x += rapid.Float64Range(0.1, 1).Draw(t, "step")
	}
	return list
}

func span(list []fit.Point) float64 { return list[len(list)-1].X - list[0].X }

func TestDeclineIsRecovered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := times(t, 2)
		a, b := rapid.Float64Range(0.1, 10).Draw(t, "a"), rapid.Float64Range(-3, 3).Draw(t, "b")/span(list)
		for i := range list {
			list[i].Y = a * math.Exp(-b*list[i].X)
		}
		e := decline(t, list)
		if math.Abs(e.A/a-1) > 1e-9 || math.Abs(e.B-b)*span(list) > 1e-9 {
			t.Fatalf("%v and %v came back as %+v", a, b, e)
		}
	})
}

func TestTailIsRecovered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := times(t, 3)
		c, a := rapid.Float64Range(-50, 300).Draw(t, "level"), rapid.Float64Range(1, 100).Draw(t, "amplitude")
		tau := rapid.Float64Range(0.2, 2).Draw(t, "tau") * span(list)
		for i := range list {
			list[i].Y = c + a*math.Exp(-(list[i].X-list[0].X)/tau)
		}
		tail := settle(t, list)
		within(t, "tau", tail.Tau, tau, 1e-6)
		within(t, "amplitude", tail.Amplitude, a*math.Exp(list[0].X/tau), 1e-5)
		if math.Abs(tail.Level-c) > 1e-6*a {
			t.Errorf("level %v, want %v", tail.Level, c)
		}
	})
}

// Trials apart from the search: no other parameters do better than the last digits of readings about 30 can tell.
func TestExponentialsAreLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := times(t, 5)
		for i := range list {
			list[i].Y = 10 + 20*math.Exp(-2*(list[i].X-list[0].X)/span(list)) + rapid.Float64Range(-0.02, 0.02).Draw(t, "noise")
		}
		e := decline(t, list)
		squares := func(a, b float64) (sum float64) {
			for _, p := range list {
				sum += math.Pow(p.Y-a*math.Exp(-b*p.X), 2)
			}
			return sum
		}
		least := squares(e.A, e.B)
		within(t, "residual deviation", e.S, math.Sqrt(least/float64(len(list)-2)), 1e-9)
		for range 10 {
			a, b := e.A*rapid.Float64Range(0.5, 1.5).Draw(t, "times a"), e.B*rapid.Float64Range(0, 3).Draw(t, "times b")
			if squares(a, b) < least-1e-12 {
				t.Fatalf("%v and %v are better than %+v", a, b, e)
			}
		}
		tail := settle(t, list)
		off := func(c, a, tau float64) (sum float64) {
			for _, p := range list {
				sum += math.Pow(p.Y-c-a*math.Exp(-p.X/tau), 2)
			}
			return sum
		}
		least = off(tail.Level, tail.Amplitude, tail.Tau)
		for range 10 {
			by := func(name string, width float64) float64 { return rapid.Float64Range(-width, width).Draw(t, name) }
			c, a, tau := tail.Level+by("c", 2), tail.Amplitude*math.Exp(by("a", 0.5)), tail.Tau*math.Exp(by("tau", 0.5))
			if off(c, a, tau) < least-1e-12 {
				t.Fatalf("%v, %v, %v are better than %+v", c, a, tau, tail)
			}
		}
	})
}
