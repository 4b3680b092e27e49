// Package laws is what every observation's estimate must obey, whatever was observed: the tests of each kind run it.
package laws

import (
	"math"
	"testing"

	"jointwalk/calc/estimate"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
	"pgregory.net/rapid"
)

// Observation is what can be estimated.
type Observation interface {
	Estimate() (estimate.Estimate, error)
}

// Scaling multiplies some of an observation by a power of two; the leak rate then is multiplied by Times.
type Scaling[O Observation] struct {
	By    func(o *O)
	Times float64
}

// Kind is a kind of observation, told so that the laws can be tried on it.
type Kind[O Observation] struct {
	// Any is one as people meet them.
	Any func(t *rapid.T) O
	// At is the ambient that it has.
	At func(o O) gas.Ambient
	// More make the leak larger, given a factor above 1.
	More map[string]func(o *O, factor float64)
	// Doubt double the standard uncertainty of the input by whose name in the budget they go.
	Doubt map[string]func(o *O)
	// Scalings are exact.
	Scalings map[string]Scaling[O]
}

// Hold tries all laws.
func Hold[O Observation](t *testing.T, k Kind[O]) {
	t.Run("order", func(t *testing.T) { rapid.Check(t, k.order) })
	t.Run("budget", func(t *testing.T) { rapid.Check(t, k.budget) })
	t.Run("more", func(t *testing.T) { rapid.Check(t, k.more) })
	t.Run("doubt", func(t *testing.T) { rapid.Check(t, k.doubt) })
	t.Run("scale", func(t *testing.T) { rapid.Check(t, k.scale) })
}

func (k Kind[O]) must(t *rapid.T, o O) estimate.Estimate {
	e, err := o.Estimate()
	if err != nil {
		t.Fatalf("%+v: %v", o, err)
	}
	return e
}

// order: a median within an interval of finite numbers above zero; the same again to the last bit; the volume is that of the
// amount at ambient.
func (k Kind[O]) order(t *rapid.T) {
	o := k.Any(t)
	e, again := k.must(t, o), k.must(t, o)
	m := e.Molar
	if !(0 < m.Lo && m.Lo <= m.Median && m.Median <= m.Hi) || math.IsInf(float64(m.Hi), 0) {
		t.Fatalf("disordered: %+v", m)
	}
	if m != again.Molar || e.Volume != again.Volume {
		t.Fatalf("%+v, and then %+v", m, again.Molar)
	}
	at := k.At(o)
	volume := float64(m.Median) * 8.31446261815324 * float64(at.Temperature) / float64(at.Pressure)
	near(t, "the volume", float64(e.Volume.Median), volume)
	near(t, "the sample's median", e.Sample.Quantile(0.5), float64(m.Median))
}

// budget: its parts make 100 %, or nothing varies; the dominant one is the largest.
func (k Kind[O]) budget(t *rapid.T) {
	e := k.must(t, k.Any(t))
	sum, most := 0.0, spread.Part{}
	for _, p := range e.Budget {
		if p.Percent < 0 {
			t.Fatalf("%s has %v %%", p.Input, p.Percent)
		}
		if sum += p.Percent; p.Percent > most.Percent {
			most = p
		}
	}
	if e.Molar.Lo != e.Molar.Hi {
		near(t, "the budget", sum, 100)
	}
	if most.Input != e.Dominant {
		t.Fatalf("%s dominates, not %s", most.Input, e.Dominant)
	}
}

// more: what makes a leak larger does so at every figure.
func (k Kind[O]) more(t *rapid.T) {
	small := k.Any(t)
	factor := 1 + rapid.Float64Range(0.001, 1).Draw(t, "factor")
	for name, more := range k.More {
		large := small
		more(&large, factor)
		a, b := k.must(t, small).Molar, k.must(t, large).Molar
		if !(b.Median > a.Median && b.Lo > a.Lo && b.Hi > a.Hi) {
			t.Fatalf("more %s turns %+v into %+v", name, a, b)
		}
	}
}

// doubt: twice the uncertainty of an input never narrows the interval, but for the set's own resolution, and gives that input
// more of the budget.
func (k Kind[O]) doubt(t *rapid.T) {
	sure := k.Any(t)
	before := k.must(t, sure)
	for input, double := range k.Doubt {
		unsure := sure
		double(&unsure)
		after := k.must(t, unsure)
		if Width(after) < 0.98*Width(before) {
			t.Fatalf("doubled doubt of the %s narrows %v to %v", input, Width(before), Width(after))
		}
		had, has := Part(before, input), Part(after, input)
		if had > 0 && had < 99.9 && has <= had {
			t.Fatalf("the %s had %v %% and has %v %%", input, had, has)
		}
		if had > 20 && Width(after) < 1.1*Width(before) {
			t.Fatalf("the %s makes %v %%, and doubling it does nothing", input, had)
		}
	}
}

// scale: the formula's powers, to 1e-12.
func (k Kind[O]) scale(t *rapid.T) {
	one := k.Any(t)
	for name, s := range k.Scalings {
		other := one
		s.By(&other)
		a, b := k.must(t, one).Molar, k.must(t, other).Molar
		near(t, name+", low", float64(b.Lo/a.Lo), s.Times)
		near(t, name+", median", float64(b.Median/a.Median), s.Times)
		near(t, name+", high", float64(b.Hi/a.Hi), s.Times)
	}
}

func near(t *rapid.T, what string, got, want float64) {
	if math.Abs(got-want) > 1e-12*math.Abs(want) {
		t.Fatalf("%s: %.17g, want %.17g", what, got, want)
	}
}

// Width of an interval on the logarithmic scale.
func Width(e estimate.Estimate) float64 { return math.Log(float64(e.Molar.Hi / e.Molar.Lo)) }

// Part of an input in the budget, in percent.
func Part(e estimate.Estimate, input string) float64 {
	for _, p := range e.Budget {
		if p.Input == input {
			return p.Percent
		}
	}
	panic("laws: the budget has no " + input)
}

// Ambient is any that people work in.
func Ambient(t *rapid.T) gas.Ambient {
	return gas.Ambient{
		Pressure:    quantity.Absolute(rapid.Float64Range(7e4, 1.1e5).Draw(t, "ambient")),
		Temperature: quantity.Temperature(rapid.Float64Range(260, 320).Draw(t, "kelvin")),
	}
}
