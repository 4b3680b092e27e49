package fit_test

import (
	"math"
	"testing"

	"jointwalk/calc/fit"
	"jointwalk/testdata/published"
	"pgregory.net/rapid"
)

func within(t rapid.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, tolerance)
	}
}

// points are two columns, without uncertainty.
func points(x, y []float64) []fit.Point {
	list := make([]fit.Point, len(x))
	for i := range x {
		list[i] = fit.Point{X: x[i], Y: y[i]}
	}
	return list
}

func TestThermometer(t *testing.T) {
	for _, c := range published.Cases(t, "gum-h3-") {
		l, err := fit.Straight(points(c.List(t, "t"), c.List(t, "b")), c.In(t, "t0"))
		if err != nil {
			t.Fatal(err)
		}
		at30, uAt30 := l.At(30)
		got, known := map[string]float64{
			"intercept": l.A, "u_intercept": l.UA, "r": l.R, "residual_s": l.S, "pred_30C": at30, "u_pred_30C": uAt30,
		}[c.ID[len("gum-h3-"):]]
		if !known {
			t.Errorf("%s is not worked out", c.ID)
		}
		c.Check(t, got)
		// H.3.3, from memory: slope 0.00218 with 0.00067, 9 degrees of freedom.
		within(t, "slope", l.B, 0.00218, 0.003)
		within(t, "its uncertainty", l.UB, 0.00067, 0.01)
		within(t, "degrees of freedom", l.DoF, 9, 0)
	}
}

func TestDepletionOfLeakStandard(t *testing.T) {
	c := published.One(t, "ref-decay-A")
	e, err := fit.Decline(points(c.List(t, "t"), c.List(t, "Q")))
	if err != nil {
		t.Fatal(err)
	}
	c.Check(t, e.A)
	// Derived: the same sum made least apart, by repeated normal equations in 40 digits: B = 4.40424e-5 a day, u(A) = 3.66537e-10,
	// u(B) = 3.71969e-6.
	within(t, "B", e.B, 4.40424e-5, 1e-5)
	within(t, "u(A)", e.UA, 3.66537e-10, 1e-5)
	within(t, "u(B)", e.UB, 3.71969e-6, 1e-5)
}

// The sealed master of a worked station, derived by hand: 240, 222 and 212 Pa at
// 10, 20 and 40 s settle to 210 Pa with a time constant of about 11 s.
func TestSealedMaster(t *testing.T) {
	tail, err := fit.Settle(points([]float64{10, 20, 40}, []float64{240, 222, 212}))
	if err != nil {
		t.Fatal(err)
	}
	within(t, "level", tail.Level, 210, 0.02)
	within(t, "time constant", tail.Tau, 11, 0.02)
	for x, want := range map[float64]float64{10: 240, 20: 222, 40: 212} {
		y, _ := tail.At(x)
		within(t, "through all three", y, want, 1e-12)
	}
	// With an uncertainty of 1 Pa each. Derived: the inverse of the normal equations, in 40 digits.
	known := points([]float64{10, 20, 40}, []float64{240, 222, 212})
	for i := range known {
		known[i].U = 1
	}
	sure, err := fit.Settle(known)
	if err != nil {
		t.Fatal(err)
	}
	within(t, "u(level)", sure.ULevel, 1.709438, 1e-5)
	within(t, "u(amplitude)", sure.UAmplitude, 9.204855, 1e-5)
	within(t, "u(tau)", sure.UTau, 1.766522, 1e-5)
	if tail.DoF != 0 || tail.S != 0 || !math.IsInf(tail.UTau, 1) || !math.IsInf(tail.ULevel, 1) || !math.IsInf(tail.UAmplitude, 1) {
		t.Errorf("three readings know nothing of their uncertainty: %+v", tail)
	}
}
