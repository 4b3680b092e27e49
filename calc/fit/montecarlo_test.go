package fit_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"jointwalk/calc/fit"
)

// Plain Monte Carlo: the scatter of fitted parameters is what one fit says to
// first order. A deviation from so many trials is good to 1.3 %; four times that.
const trials, fourfold = 3000, 0.05

// drawn is the list with its heights scattered anew.
func drawn(random *rand.Rand, list []fit.Point) []fit.Point {
	list = slices.Clone(list)
	for i := range list {
		list[i].Y += list[i].U * random.NormFloat64()
	}
	return list
}

func TestTailAgreesWithMonteCarlo(t *testing.T) {
	random := rand.New(rand.NewPCG(13, 2025))
	list := make([]fit.Point, 15)
	for i := range list {
		x := 4 * float64(i)
		list[i] = fit.Point{X: x, Y: 210 + 75*math.Exp(-x/11), U: 0.2}
	}
	told := settle(t, list)
	height, uHeight := told.At(70)
	var level, tau, at float64
	for range trials {
		tail := settle(t, drawn(random, list))
		y, _ := tail.At(70)
		level, tau, at = level+math.Pow(tail.Level-told.Level, 2), tau+math.Pow(tail.Tau-told.Tau, 2), at+math.Pow(y-height, 2)
	}
	within(t, "u(level)", told.ULevel, math.Sqrt(level/trials), fourfold)
	within(t, "u(tau)", told.UTau, math.Sqrt(tau/trials), fourfold)
	within(t, "u(at 70)", uHeight, math.Sqrt(at/trials), fourfold)
}

func TestDeclineAgreesWithMonteCarlo(t *testing.T) {
	random := rand.New(rand.NewPCG(17, 2025))
	list := make([]fit.Point, 8)
	for i := range list {
		x := float64(i)
		list[i] = fit.Point{X: x, Y: 5 * math.Exp(-x/6), U: 0.02 + 0.01*x}
	}
	told := decline(t, list)
	height, uHeight := told.At(10)
	var a, b, at float64
	for range trials {
		e := decline(t, drawn(random, list))
		y, _ := e.At(10)
		a, b, at = a+math.Pow(e.A-told.A, 2), b+math.Pow(e.B-told.B, 2), at+math.Pow(y-height, 2)
	}
	within(t, "u(A)", told.UA, math.Sqrt(a/trials), fourfold)
	within(t, "u(B)", told.UB, math.Sqrt(b/trials), fourfold)
	within(t, "u(at 10)", uHeight, math.Sqrt(at/trials), fourfold)
}

// Plain Monte Carlo: the scatter of fitted parameters is what one fit says.
func TestLineAgreesWithMonteCarlo(t *testing.T) {
	const many = 40_000
	random := rand.New(rand.NewPCG(5, 2025))
	list := []fit.Point{{X: 0, U: 1}, {X: 1, U: 0.5}, {X: 3, U: 2}, {X: 4, U: 0.3}, {X: 9, U: 1}}
	told := straight(t, list, 2)
	var aa, bb, ab float64
	for range many {
		for i, p := range list {
			list[i].Y = p.U * random.NormFloat64()
		}
		l := straight(t, list, 2)
		aa, bb, ab = aa+l.A*l.A, bb+l.B*l.B, ab+l.A*l.B
	}
	// A deviation from so many trials is good to 0.35 %; four times that.
	within(t, "u(a)", told.UA, math.Sqrt(aa/many), 0.014)
	within(t, "u(b)", told.UB, math.Sqrt(bb/many), 0.014)
	if r := ab / math.Sqrt(aa*bb); math.Abs(told.R-r) > 0.02 {
		t.Errorf("r: got %v, Monte Carlo %v", told.R, r)
	}
}
