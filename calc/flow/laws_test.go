package flow_test

import (
	"math"
	"testing"

	"jointwalk/calc/flow"
	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

// anyCondition is one that drives gas, either way.
func anyCondition(t *rapid.T, name string) flow.Condition {
	low := rapid.Float64Range(0, 2e5).Draw(t, name+" low")
	high := low + rapid.Float64Range(1e3, 1e6).Draw(t, name+" drive")
	c := flow.Condition{
		Inside: quantity.Absolute(high), Outside: quantity.Absolute(low),
		Temperature: quantity.Temperature(rapid.Float64Range(250, 350).Draw(t, name+" T")),
		Gas: flow.Gas{
			MolarMass: quantity.MolarMass(rapid.Float64Range(2e-3, 50e-3).Draw(t, name+" M")),
			Viscosity: quantity.Viscosity(rapid.Float64Range(8e-6, 25e-6).Draw(t, name+" mu")),
			HeatRatio: rapid.Float64Range(1.1, 1.667).Draw(t, name+" k"),
		},
	}
	if rapid.Bool().Draw(t, name+" inward") {
		c.Inside, c.Outside = c.Outside, c.Inside
	}
	return c
}

func anyChannel(t *rapid.T) flow.Channel {
	d := math.Pow(10, rapid.Float64Range(-9, -3.5).Draw(t, "log d"))
	return flow.Channel{Diameter: quantity.Length(d), Length: quantity.Length(rapid.Float64Range(1e-3, 0.05).Draw(t, "L"))}
}

type law func(flow.Channel, flow.Condition) (quantity.MolarFlow, error)

// laws are the flows as functions of a channel; a hole has the channel's diameter.
func laws() map[string]law {
	return map[string]law{
		"laminar":    flow.Channel.Laminar,
		"molecular":  flow.Channel.Molecular,
		"sum":        flow.Channel.Sum,
		"transition": flow.Channel.Transition,
		"orifice": func(h flow.Channel, c flow.Condition) (quantity.MolarFlow, error) {
			return flow.Hole(h.Diameter).Flow(c)
		},
	}
}

// In units of length, mass and time that are l, m and s times as small, the same flow comes out, and the same Kn and Re.
func TestUnitsDoNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, h := anyCondition(t, "c"), anyChannel(t)
		scale := rapid.Float64Range(0.1, 10)
		l, m, s := scale.Draw(t, "l"), scale.Draw(t, "m"), scale.Draw(t, "s")
		u, w := c, h
		u.Inside *= quantity.Absolute(m / (l * s * s))
		u.Outside *= quantity.Absolute(m / (l * s * s))
		u.Temperature *= quantity.Temperature(m * l * l / (s * s))
		u.Gas.MolarMass *= quantity.MolarMass(m)
		u.Gas.Viscosity *= quantity.Viscosity(m / (l * s))
		w.Diameter *= quantity.Length(l)
		w.Length *= quantity.Length(l)
		for name, law := range laws() {
			within(t, name, molar(t)(law(w, u)), molar(t)(law(h, c))/s, 1e-12)
		}
		within(t, "Kn", flow.Knudsen(w.Diameter, u), flow.Knudsen(h.Diameter, c), 1e-12)
		within(t, "Re", flow.Reynolds(w.Diameter, quantity.MolarFlow(1/s), u.Gas), flow.Reynolds(h.Diameter, 1, c.Gas), 1e-12)
	})
}

// The way of the gas does not matter, a wider path and a higher pressure let more through, a longer channel less.
func TestMonotone(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, h := anyCondition(t, "c"), anyChannel(t)
		grow := rapid.Float64Range(1.001, 2).Draw(t, "grow")
		wide, long, turned, pressed := h, h, c, c
		wide.Diameter *= quantity.Length(grow)
		long.Length *= quantity.Length(grow)
		turned.Inside, turned.Outside = c.Outside, c.Inside
		pressed.Inside = max(c.Inside, c.Outside) * quantity.Absolute(grow)
		pressed.Outside = min(c.Inside, c.Outside)
		for name, law := range laws() {
			n := molar(t)(law(h, c))
			within(t, name+" turned", molar(t)(law(h, turned)), n, 0)
			if molar(t)(law(wide, c)) <= n || name != "transition" && molar(t)(law(h, pressed)) <= n {
				t.Fatalf("%s: a wider path or a higher pressure lets less through", name)
			}
			if longer := molar(t)(law(long, c)); longer > n || name != "orifice" && longer == n {
				t.Fatalf("%s: a longer channel lets more through", name)
			}
		}
	})
}

// Narrow channels are molecular and wide ones laminar, by both formulas for what lies between, and these are never further
// apart than 15 %, nor ever the other way round.
func TestLimits(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c, h := anyCondition(t, "c"), anyChannel(t)
		sum, between := molar(t)(h.Sum(c)), molar(t)(h.Transition(c))
		if between > sum || between < sum/1.15 {
			t.Fatalf("transition %v, sum %v", between, sum)
		}
		narrow, wide := h, h
		narrow.Diameter *= quantity.Length(1e-5 * flow.Knudsen(h.Diameter, c)) // Kn 1e5
		wide.Diameter *= quantity.Length(1e5 * flow.Knudsen(h.Diameter, c))    // Kn 1e-5
		for _, name := range []string{"sum", "transition"} {
			law := laws()[name]
			within(t, name+" narrow", molar(t)(law(narrow, c)), molar(t)(narrow.Molecular(c)), 1e-5)
			within(t, name+" wide", molar(t)(law(wide, c)), molar(t)(wide.Laminar(c)), 1e-4)
		}
		// Both have the same weight where Kn = 3π/64, whatever the gas (derived from the two formulas).
		even := h
		even.Diameter *= quantity.Length(flow.Knudsen(h.Diameter, c) / (3 * math.Pi / 64))
		within(t, "even", molar(t)(even.Laminar(c)), molar(t)(even.Molecular(c)), 1e-12)
	})
}

// What was sized lets through what it was sized by.
func TestSizedBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := anyCondition(t, "c")
		n := quantity.MolarFlow(math.Pow(10, rapid.Float64Range(-12, -3).Draw(t, "log n")))
		h := must[flow.Channel](t)(flow.LaminarChannel(n, 5e-3, c))
		within(t, "channel", molar(t)(h.Laminar(c)), float64(n), 1e-12)
		o := must[flow.Orifice](t)(flow.Orifice{Discharge: 0.8, Beta: 0.3}.Sized(n, c))
		within(t, "nozzle", molar(t)(o.Flow(c)), float64(n), 1e-12)
		within(t, "hole", float64(flow.Hole(o.Diameter()).Area), float64(o.Area), 1e-12)
	})
}

// The coefficient falls with the ratio down to nothing at 1, stays the same where the throat is choked, and has its highest
// value there; a bore before the throat makes both it and the critical ratio larger.
func TestCoefficient(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k, beta := rapid.Float64Range(1.05, 1.667).Draw(t, "k"), rapid.Float64Range(0, 0.95).Draw(t, "beta")
		critical := flow.Critical(k, beta)
		x := critical + (1-critical)*rapid.Float64Range(0.01, 0.99).Draw(t, "x")
		choked, here := flow.Coefficient(k, beta, critical*0.9), flow.Coefficient(k, beta, x)
		if !(here < choked && flow.Coefficient(k, beta, x+(1-x)/2) < here) || flow.Coefficient(k, beta, 1) != 0 {
			t.Fatalf("does not fall: %v at %v, %v choked", here, x, choked)
		}
		const rounding = 1 - 1e-12
		if critical < flow.Critical(k, 0)*rounding || choked < flow.Coefficient(k, 0, 0)*rounding {
			t.Fatal("a bore makes both larger")
		}
		// The equation that defines it, 40 CFR 1065.640.
		left := math.Pow(critical, (1-k)/k) + (k-1)/2*math.Pow(beta, 4)*math.Pow(critical, 2/k)
		within(t, "critical ratio", left, (k+1)/2, 1e-12)
		// At β = 0 it is the closed form of NASA and 40 CFR 1065.640, √k (2/(k+1))^((k+1)/(2(k−1))).
		within(t, "closed form", flow.Coefficient(k, 0, 0), math.Sqrt(k)*math.Pow(2/(k+1), (k+1)/(2*(k-1))), 1e-12)
	})
}
