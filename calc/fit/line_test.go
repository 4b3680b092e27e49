package fit_test

import (
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/fit"
	"pgregory.net/rapid"
)

func straight(t rapid.TB, list []fit.Point, x0 float64) fit.Line {
	t.Helper()
	l, err := fit.Straight(list, x0)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// scattered are readings of a line as people take them, with uncertainties when given.
func scattered(t *rapid.T, given bool) []fit.Point {
	n := rapid.IntRange(3, 15).Draw(t, "n")
	list := make([]fit.Point, n)
	for i := range list {
		list[i] = fit.Point{X: float64(i) + rapid.Float64Range(0, 0.9).Draw(t, "x"), Y: rapid.Float64Range(-10, 10).Draw(t, "y")}
		if given {
			list[i].U = rapid.Float64Range(0.1, 3).Draw(t, "u")
		}
	}
	return list
}

func TestLineIsRecovered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := scattered(t, rapid.Bool().Draw(t, "given"))
		a, b := rapid.Float64Range(-5, 5).Draw(t, "a"), rapid.Float64Range(-5, 5).Draw(t, "b")
		for i := range list {
			list[i].Y = a + b*(list[i].X-2)
		}
		l := straight(t, list, 2)
		if math.Abs(l.A-a) > 1e-12 || math.Abs(l.B-b) > 1e-12 || l.S > 1e-12 {
			t.Fatalf("a line with %v and %v came back as %+v", a, b, l)
		}
		if y, _ := l.At(7); math.Abs(y-(a+5*b)) > 1e-11 {
			t.Fatalf("at 7 it is %v", y)
		}
	})
}

// The conditions of the least sum: residuals weigh out, and have no lever.
func TestLineIsLeast(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := scattered(t, rapid.Bool().Draw(t, "given"))
		l := straight(t, list, 0)
		sum, lever, size := 0.0, 0.0, 0.0
		for _, p := range list {
			w := 1.0
			if p.U > 0 {
				w = 1 / (p.U * p.U)
			}
			off := w * (p.Y - l.A - l.B*p.X)
			sum, lever, size = sum+off, lever+off*p.X, size+w*(10+math.Abs(p.X))
		}
		if math.Abs(sum) > 1e-11*size || math.Abs(lever) > 1e-10*size*15 {
			t.Fatalf("residuals leave %v and %v", sum, lever)
		}
	})
}

// Other units give the same answer in those units.
func TestLineInOtherUnits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := scattered(t, rapid.Bool().Draw(t, "given"))
		x, y := math.Exp(rapid.Float64Range(-20, 20).Draw(t, "ln x")), math.Exp(rapid.Float64Range(-20, 20).Draw(t, "ln y"))
		other := make([]fit.Point, len(list))
		for i, p := range list {
			other[i] = fit.Point{X: p.X * x, Y: p.Y * y, U: p.U * y}
		}
		before, after := straight(t, list, -3), straight(t, other, -3*x)
		// To 1e-12 of a reading: what cancels has no digits of its own.
		if math.Abs(after.A/y-before.A) > 1e-12*100 || math.Abs(after.B*x/y-before.B) > 1e-12*100 {
			t.Fatalf("before %+v, after %+v", before, after)
		}
		within(t, "uncertainty of a", after.UA/y, before.UA, 1e-12)
		within(t, "uncertainty of b", after.UB*x/y, before.UB, 1e-12)
		within(t, "correlation", after.R, before.R, 1e-12)
	})
}

func TestLineWithDoubt(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := scattered(t, true)
		before := straight(t, list, 1)
		_, uBefore := before.At(5)
		i := rapid.IntRange(0, len(list)-1).Draw(t, "reading")
		list[i].U *= 2
		after := straight(t, list, 1)
		if _, u := after.At(5); u < uBefore*(1-1e-12) || after.UA < before.UA*(1-1e-12) || after.UB < before.UB*(1-1e-12) {
			t.Fatalf("reading %d doubted: %+v, then %+v", i, before, after)
		}
		if after.DoF != math.Inf(1) {
			t.Fatalf("%v degrees of freedom of given uncertainties", after.DoF)
		}
	})
}

// The uncertainty along the line is that of a + b (x − x₀) with R between them.
func TestLineAwayFromItsOrigin(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := straight(t, scattered(t, rapid.Bool().Draw(t, "given")), rapid.Float64Range(-20, 20).Draw(t, "x0"))
		d := rapid.Float64Range(-20, 20).Draw(t, "d")
		_, u := l.At(l.X0 + d)
		want := l.UA*l.UA + d*d*l.UB*l.UB + 2*d*l.UA*l.UB*l.R
		if math.Abs(u*u-want) > 1e-9*(l.UA*l.UA+d*d*l.UB*l.UB) {
			t.Fatalf("u² = %v, from the correlation %v", u*u, want)
		}
	})
}

// Readings alike with a known uncertainty weigh alike: only the widths differ.
func TestEqualWeights(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := scattered(t, false)
		free := straight(t, list, 0)
		for i := range list {
			list[i].U = 2
		}
		tied := straight(t, list, 0)
		if math.Abs(tied.B-free.B) > 1e-11 || math.Abs(tied.UB*free.S/2-free.UB) > 1e-11 || math.Abs(2*tied.S-free.S) > 1e-11 {
			t.Fatalf("free %+v, tied %+v", free, tied)
		}
	})
}

func TestLineThroughTwo(t *testing.T) {
	l := straight(t, []fit.Point{{X: 1, Y: 3}, {X: 3, Y: 7}}, 0)
	if l.A != 1 || l.B != 2 || l.S != 0 || l.DoF != 0 || !math.IsInf(l.UA, 1) || !math.IsInf(l.UB, 1) {
		t.Errorf("got %+v", l)
	}
	l = straight(t, []fit.Point{{X: 1, Y: 3, U: 0.5}, {X: 3, Y: 7, U: 0.5}}, 2)
	within(t, "u(b)", l.UB, 0.5/math.Sqrt2, 1e-12)
	if y, u := l.At(2); l.R != 0 || y != 5 || math.Abs(u-0.5/math.Sqrt2) > 1e-12 {
		t.Errorf("in the middle: %v ± %v, %+v", y, u, l)
	}
}

// An instrument against a standard: what it reads at 30 when it read 1 to 20.
func ExampleStraight() {
	l, err := fit.Straight([]fit.Point{{X: 1, Y: 1.1}, {X: 5, Y: 5.2}, {X: 10, Y: 10.1}, {X: 20, Y: 20.4}}, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	y, u := l.At(30)
	fmt.Printf("%.3f ± %.3f a unit; %.2f ± %.2f at 30, %.0f degrees of freedom\n", l.B, l.UB, y, u, l.DoF)
	// Output: 1.014 ± 0.007 a unit; 30.50 ± 0.15 at 30, 2 degrees of freedom
}
