package bubble_test

import (
	"math"
	"testing"

	"jointwalk/calc/bubble"
	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
)

// tapsOf turns gaps into taps that begin anywhere.
func tapsOf(gaps ...quantity.Duration) []quantity.Duration {
	at := []quantity.Duration{100}
	for _, g := range gaps {
		at = append(at, at[len(at)-1]+g)
	}
	return at
}

// onlyCount is a train whose size, shape and clock are exact.
func onlyCount(c bubble.Count) bubble.Train {
	return bubble.Train{Medium: bubble.Water, Count: c, Size: bubble.Size{Diameter: 3e-3}, Ambient: station}
}

func TestTapsAreIntervals(t *testing.T) {
	c := bubble.Taps(tapsOf(2, 2, 2, 2, 2), 0)
	if c.N != 5 || c.Time != 10 || c.Rate() != 0.5 {
		t.Errorf("6 taps over 10 s became %+v", c)
	}
	e := estimate(t, onlyCount(c))
	same := estimate(t, onlyCount(bubble.Intervals(5, 10, 0)))
	within(t, "median", float64(e.Molar.Median), float64(same.Molar.Median), 1e-9)
}

func TestSteadyTapsAreNarrow(t *testing.T) {
	steady := estimate(t, onlyCount(bubble.Taps(tapsOf(2, 2.1, 1.9, 2, 2.05, 1.95, 2, 2), 0)))
	if has(steady.Warnings, bubble.WarnIrregular) {
		t.Error("gaps within 5 % are called irregular")
	}
	wild := estimate(t, onlyCount(bubble.Taps(tapsOf(0.3, 5, 1, 0.2, 4, 0.6, 0.4, 4.5), 0)))
	if !has(wild.Warnings, bubble.WarnIrregular) {
		t.Error("gaps from 0.2 to 5 s are called steady")
	}
	if spanOf(wild) < 3*spanOf(steady) {
		t.Errorf("irregular taps are as narrow (%v) as steady ones (%v)", spanOf(wild), spanOf(steady))
	}
}

// spanOf is the ratio of the interval's ends, on the logarithmic scale.
func spanOf(e bubble.Estimate) float64 { return math.Log(float64(e.Molar.Hi / e.Molar.Lo)) }

// Random events: eight gaps in 16 s bound the rate as a gamma variable, whose
// 95 % ends are Poisson's exact limits for 8 events.
func TestRandomTapsArePoisson(t *testing.T) {
	// Gaps of an exponential distribution at eight even steps of probability,
	// stretched so that their scatter is that of random events at most.
	var gaps []quantity.Duration
	for i := range 8 {
		gaps = append(gaps, quantity.Duration(-2*math.Log1p(-(float64(i)+0.5)/8)))
	}
	c := bubble.Taps(tapsOf(gaps...), 0)
	e := estimate(t, onlyCount(c))
	one := estimate(t, onlyCount(bubble.Intervals(1, c.Time, 0)))
	per := float64(one.Molar.Median)
	within(t, "low", float64(e.Molar.Lo)/per, spread.LowerLimit(8, 0.975), 2e-3)
	within(t, "high", float64(e.Molar.Hi)/per, spread.UpperLimit(7, 0.975), 2e-3)
}

// Bubbles in bursts say less than as many random ones.
func TestBurstsAreWiderThanRandom(t *testing.T) {
	random := estimate(t, onlyCount(bubble.Taps(tapsOf(0.3, 5, 1, 0.2, 4, 0.6, 0.4, 4.5), 0)))
	bursts := estimate(t, onlyCount(bubble.Taps(tapsOf(0.1, 0.1, 0.1, 15.3, 0.1, 0.1, 0.1, 0.1), 0)))
	if spanOf(bursts) < 1.3*spanOf(random) {
		t.Errorf("bursts %v, random %v", spanOf(bursts), spanOf(random))
	}
}

// A hand that is off by as much as the gaps differ says nothing of the train.
func TestHandIsNotTheTrain(t *testing.T) {
	gaps := tapsOf(0.4, 0.7, 0.3, 0.6, 0.5, 0.4, 0.6, 0.5)
	sure := estimate(t, onlyCount(bubble.Taps(gaps, 0)))
	shaky := estimate(t, onlyCount(bubble.Taps(gaps, 0.15)))
	if part(shaky, bubble.InputCount) >= part(sure, bubble.InputCount) {
		t.Error("the hand's share was not taken off the train's")
	}
}

func part(e bubble.Estimate, input string) float64 {
	for _, p := range e.Budget {
		if p.Input == input {
			return p.Percent
		}
	}
	return math.NaN()
}

// Two taps are one interval: nothing is known of the scatter, so the customary
// one is taken.
func TestTwoTaps(t *testing.T) {
	e := estimate(t, onlyCount(bubble.Taps(tapsOf(3), 0)))
	within(t, "span", spanOf(e), 2*1.96*0.2, 0.01)
	if !has(e.Warnings, bubble.WarnFewBubbles) {
		t.Error("one interval goes without a warning")
	}
}

// Gaps of 1.6 and 2.4 s in turn scatter by 20 %, as is customary; by hand, with
// two customary gaps for eight seen: √((0.32 + 0.08)/9)/√8 of the mean gap.
func TestScatterOfSteadyTaps(t *testing.T) {
	e := estimate(t, onlyCount(bubble.Taps(tapsOf(1.6, 2.4, 1.6, 2.4, 1.6, 2.4, 1.6, 2.4), 0)))
	within(t, "span", spanOf(e), 2*1.96*math.Sqrt(0.40/9)/math.Sqrt(8), 0.005)
}
