package fit_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"jointwalk/calc/fit"
)

// noisy are readings of a clear tail, the noise always the same.
func noisy(n int) []fit.Point {
	random := rand.New(rand.NewPCG(9, 2025))
	list := make([]fit.Point, n)
	for i := range list {
		x := 2 + 60*float64(i)/float64(n-1)
		list[i] = fit.Point{X: x, Y: 210 + 75*math.Exp(-x/11) + 0.5*random.NormFloat64()}
	}
	return list
}

// Powers of two change no digit.
func TestExponentialsInOtherUnits(t *testing.T) {
	before, fall := settle(t, noisy(12)), decline(t, noisy(12))
	for _, by := range []struct{ x, y float64 }{{1024, 1}, {1, 1.0 / 4096}, {1.0 / 64, 8}} {
		list := noisy(12)
		for i := range list {
			list[i].X *= by.x
			list[i].Y *= by.y
		}
		after := settle(t, list)
		for what, pair := range map[string][2]float64{
			"level": {after.Level / by.y, before.Level}, "amplitude": {after.Amplitude / by.y, before.Amplitude},
			"tau": {after.Tau / by.x, before.Tau}, "u(tau)": {after.UTau / by.x, before.UTau}, "u(level)": {after.ULevel / by.y, before.ULevel},
			"A": {decline(t, list).A / by.y, fall.A}, "B": {decline(t, list).B * by.x, fall.B}, "u(B)": {decline(t, list).UB * by.x, fall.UB},
		} {
			within(t, what, pair[0], pair[1], 1e-12)
		}
	}
	// Any other factor moves last digits of the readings, and some more of the curve.
	list := noisy(12)
	for i := range list {
		list[i].X /= 3
		list[i].Y *= 0.00689
	}
	within(t, "tau", 3*settle(t, list).Tau, before.Tau, 1e-10)
	within(t, "B", decline(t, list).B/3, fall.B, 1e-10)
}

// A later start of the clock changes the amplitude at 0 and nothing else.
func TestTailWithAnotherStart(t *testing.T) {
	before, list := settle(t, noisy(12)), noisy(12)
	for i := range list {
		list[i].X += 200
	}
	after := settle(t, list)
	within(t, "tau", after.Tau, before.Tau, 1e-9)
	within(t, "u(tau)", after.UTau, before.UTau, 1e-6)
	within(t, "amplitude", after.Amplitude, before.Amplitude*math.Exp(200/before.Tau), 1e-7)
	y, u := before.At(30)
	later, uLater := after.At(230)
	within(t, "in the middle", later, y, 1e-9)
	within(t, "its uncertainty", uLater, u, 1e-6)
}

// Given uncertainties set the widths; residuals do when they are not given.
func TestTailWithGivenUncertainty(t *testing.T) {
	free, list := settle(t, noisy(12)), noisy(12)
	for _, u := range []float64{free.S, 2 * free.S} {
		for i := range list {
			list[i].U = u
		}
		tied := settle(t, list)
		within(t, "tau", tied.Tau, free.Tau, 1e-9)
		within(t, "u(tau)", tied.UTau, free.UTau*u/free.S, 1e-6)
		within(t, "u(level)", tied.ULevel, free.ULevel*u/free.S, 1e-6)
		within(t, "relative residuals", tied.S, free.S/u, 1e-9)
		if !math.IsInf(tied.DoF, 1) || free.DoF != 9 {
			t.Errorf("degrees of freedom %v, and %v", tied.DoF, free.DoF)
		}
	}
	// Three readings with an uncertainty know theirs.
	three := settle(t, []fit.Point{{X: 10, Y: 240, U: 1}, {X: 20, Y: 222, U: 1}, {X: 40, Y: 212, U: 1}})
	if three.S != 0 || !(three.UTau > 0.5 && three.UTau < 3) {
		t.Errorf("got %+v", three)
	}
}

// A reading that is off pulls the tail, the less the more it is doubted, down to
// what the others say without it.
func TestDoubtedReadingPullsLess(t *testing.T) {
	list := noisy(12)
	for i := range list {
		list[i].U = 0.5
	}
	list[0].Y += 30
	without := settle(t, list[1:]).Tau
	before := math.Inf(1)
	for _, u := range []float64{0.5, 2, 8, 500} {
		list[0].U = u
		pulled := math.Abs(settle(t, list).Tau - without)
		if !(pulled < before) {
			t.Errorf("with an uncertainty of %v the reading pulls by %v, before that by %v", u, pulled, before)
		}
		before = pulled
	}
	if before > 1e-3*without {
		t.Errorf("a reading that says nothing pulls by %v", before)
	}
}

// A leak standard looked at once a year: what it gave when new, and how fast it fades.
func ExampleDecline() {
	e, err := fit.Decline([]fit.Point{{X: 0, Y: 5.02}, {X: 1, Y: 4.88}, {X: 2, Y: 4.81}, {X: 3, Y: 4.65}})
	if err != nil {
		fmt.Println(err)
		return
	}
	y, u := e.At(5)
	fmt.Printf("%.2f when new, %.1f %% ± %.1f %% a year, %.2f ± %.2f in year 5\n", e.A, 100*e.B, 100*e.UB, y, u)
	// Output: 5.02 when new, 2.4 % ± 0.2 % a year, 4.44 ± 0.04 in year 5
}

// Pressure drops in 10 s, after 10, 20 and 40 s of stabilising.
func ExampleSettle() {
	tail, err := fit.Settle([]fit.Point{{X: 10, Y: 240, U: 1}, {X: 20, Y: 222, U: 1}, {X: 40, Y: 212, U: 1}})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("settles to %.0f ± %.0f Pa with τ = %.0f ± %.0f s\n", tail.Level, tail.ULevel, tail.Tau, tail.UTau)
	// Output: settles to 210 ± 2 Pa with τ = 11 ± 2 s
}
