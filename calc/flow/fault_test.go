package flow_test

import (
	"errors"
	"math"
	"testing"

	"jointwalk/calc/flow"
	"jointwalk/calc/quantity"
)

func refused(t *testing.T, want string, got float64, err error) {
	t.Helper()
	var fault *quantity.Fault
	if !errors.As(err, &fault) || fault.Code+" "+fault.Field != want || got != 0 {
		t.Errorf("want %s, got %v, %v", want, got, err)
	}
}

func panics(t *testing.T, want string, f func()) {
	t.Helper()
	defer func() {
		if got := recover(); got != want {
			t.Errorf("want a panic %q, got %v", want, got)
		}
	}()
	f()
}

func TestConditionFaults(t *testing.T) {
	for want, spoil := range map[string]func(*flow.Condition){
		"not-positive inside-pressure":  func(c *flow.Condition) { c.Inside, c.Outside = 0, 0 },
		"not-positive outside-pressure": func(c *flow.Condition) { c.Outside = -1 },
		"not-a-number inside-pressure":  func(c *flow.Condition) { c.Inside = quantity.Absolute(math.NaN()) },
		"not-positive temperature":      func(c *flow.Condition) { c.Temperature = 0 },
		"not-positive molar-mass":       func(c *flow.Condition) { c.Gas.MolarMass = 0 },
		"not-positive viscosity":        func(c *flow.Condition) { c.Gas.Viscosity = -1 },
		"not-positive heat-ratio":       func(c *flow.Condition) { c.Gas.HeatRatio = 1 },
		"not-a-number heat-ratio":       func(c *flow.Condition) { c.Gas.HeatRatio = math.Inf(1) },
	} {
		c := gauge(200)
		spoil(&c)
		for _, law := range laws() {
			n, err := law(flow.Channel{Diameter: 1e-5, Length: 1e-3}, c)
			refused(t, want, float64(n), err)
		}
		h, err := flow.LaminarChannel(limit, 1e-3, c)
		refused(t, want, float64(h.Diameter), err)
		o, err := flow.Hole(0).Sized(limit, c)
		refused(t, want, float64(o.Area), err)
		r, err := flow.RegimeOf(1e-5, limit, c)
		refused(t, want, r.Reynolds, err)
	}
}

// A perfect vacuum at either end is a condition like any other.
func TestPerfectVacuum(t *testing.T) {
	for _, c := range []flow.Condition{between(0, 100, 293.15), between(100, 0, 293.15)} {
		if err := c.Check(); err != nil || molar(t)(flow.Hole(1e-5).Flow(c)) <= 0 {
			t.Errorf("%+v: %v", c, err)
		}
	}
}

func TestPathFaults(t *testing.T) {
	c := gauge(200)
	n, err := flow.Channel{Length: 1}.Laminar(c)
	refused(t, "not-positive diameter", float64(n), err)
	n, err = flow.Channel{Diameter: 1}.Transition(c)
	refused(t, "not-positive path-length", float64(n), err)
	h, err := flow.LaminarChannel(limit, 0, c)
	refused(t, "not-positive path-length", float64(h.Diameter), err)
	h, err = flow.LaminarChannel(0, 1, c)
	refused(t, "not-positive rate", float64(h.Diameter), err)
	h, err = flow.LaminarChannel(limit, 1, gauge(0))
	refused(t, "not-positive drive", float64(h.Diameter), err)
	r, err := flow.RegimeOf(0, limit, c)
	refused(t, "not-positive diameter", r.Knudsen, err)
	r, err = flow.RegimeOf(1, -1, c)
	refused(t, "not-positive rate", r.Knudsen, err)
	for want, o := range map[string]flow.Orifice{
		"not-positive area":      {Discharge: 1},
		"not-positive discharge": {Area: 1},
		"too-large discharge":    {Area: 1, Discharge: 1.01},
		"too-large beta":         {Area: 1, Discharge: 1, Beta: 1},
		"not-positive beta":      {Area: 1, Discharge: 1, Beta: -0.1},
	} {
		n, err := o.Flow(c)
		refused(t, want, float64(n), err)
		if want != "not-positive area" {
			sized, err := o.Sized(limit, c)
			refused(t, want, float64(sized.Area), err)
		}
	}
}

func TestTensionFaults(t *testing.T) {
	p, err := flow.BubbleExcess(0, 1)
	refused(t, "not-positive tension", float64(p), err)
	p, err = flow.FilmExcess(0.03, 0)
	refused(t, "not-positive radius", float64(p), err)
	r, err := flow.SmallestBubble(0.03, -80e3)
	refused(t, "not-positive pressure", float64(r), err)
}

func TestCallersMistakes(t *testing.T) {
	const range01 = "flow: a ratio of pressures is from 0 to 1"
	const bore = "flow: a heat ratio is above 1 and a ratio of diameters from 0 to under 1"
	panics(t, range01, func() { flow.Coefficient(1.4, 0, 1.1) })
	panics(t, range01, func() { flow.Coefficient(1.4, 0, math.NaN()) })
	panics(t, bore, func() { flow.Critical(1, 0) })
	panics(t, bore, func() { flow.Critical(math.Inf(1), 0) })
	panics(t, bore, func() { flow.Coefficient(1.4, 1, 0.5) })
	panics(t, "flow: a heat ratio is above 1", func() { flow.CriticalTemperature(300, math.NaN()) })
}

func TestFactorFaults(t *testing.T) {
	bad := gauge(80)
	bad.Temperature = 0
	for want, pair := range map[string][2]flow.Condition{
		"not-positive temperature": {gauge(80), bad},
		"not-positive drive":       {gauge(80), gauge(0)},
	} {
		for _, p := range [][2]flow.Condition{pair, {pair[1], pair[0]}} {
			f, err := flow.Factor(flow.ModelLaminar, p[0], p[1])
			refused(t, want, f, err)
		}
	}
	for _, p := range [][2]flow.Condition{{gauge(80), bad}, {bad, gauge(80)}} {
		c, err := flow.Carry("weld", p[0], p[1])
		refused(t, "not-positive temperature", c.High, err)
	}
	panics(t, "flow: no such model", func() { _, _ = flow.Factor("guess", gauge(1), gauge(2)) })
}
