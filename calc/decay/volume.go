package decay

import (
	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
)

// Measured is a value above zero with its standard uncertainty, in the unit of Q.
type Measured[Q ~float64] struct{ Value, U Q }

func (m Measured[Q]) check(field string) error {
	if err := quantity.Positive(field, float64(m.Value)); err != nil {
		return err
	}
	return quantity.Within(field+"-uncertainty", m.U, 0, m.Value)
}

func (m Measured[Q]) draw(source *spread.Source) spread.Sample {
	return source.Draw(spread.Around(float64(m.Value), float64(m.U)))
}

// KnownLeak is a leak of known rate that was opened on a closed volume: so the volume is measured.
type KnownLeak struct {
	// Rate under the pressure and temperature of the test.
	Rate Measured[quantity.MolarFlow]
	// More is by how much more the pressure dropped with the leak open than with it closed.
	More Measured[quantity.Drop]
	// Time over which both drops were read.
	Time Measured[quantity.Duration]
	// Temperature of the gas.
	Temperature Measured[quantity.Temperature]
}

// Volume is n R T Δt/Δp. Errors are *quantity.Fault: "not-positive", "not-a-number" or "out-of-range" with the field
// "rate", "more", "time" or "temperature", or the same with "-uncertainty" behind it.
func (k KnownLeak) Volume() (spread.Figure[quantity.Volume], error) {
	for _, err := range []error{k.Rate.check("rate"), k.More.check("more"), k.Time.check("time"), k.Temperature.check("temperature")} {
		if err != nil {
			return spread.Figure[quantity.Volume]{}, err
		}
	}
	var source spread.Source
	rate, more, time, kelvin := k.Rate.draw(&source), k.More.draw(&source), k.Time.draw(&source), k.Temperature.draw(&source)
	return spread.Summary[quantity.Volume](spread.Combine(func(i int) float64 {
		return rate[i] * quantity.GasConstant * kelvin[i] * time[i] / more[i]
	})), nil
}

// Expansion is gas let out of a known volume into another one, all at one temperature, and settled.
type Expansion struct {
	Known Measured[quantity.Volume]
	// Before and Other are the pressures in the known volume and in the other one before they were joined, After is that of both.
	Before, Other, After Measured[quantity.Absolute]
}

// CodeNoExpansion: the settled pressure does not lie between the two before, by more than its uncertainty allows.
const CodeNoExpansion = "no-expansion"

// surely is how many standard uncertainties apart two pressures have to be.
const surely = 4

// Volume of the other one is V (p₁ − p₃)/(p₃ − p₂). Errors are *quantity.Fault: CodeNoExpansion, and "not-positive",
// "not-a-number" or "out-of-range" with the field "known", "before", "other" or "after", or the same with "-uncertainty"
// behind it.
func (e Expansion) Volume() (spread.Figure[quantity.Volume], error) {
	if err := e.check(); err != nil {
		return spread.Figure[quantity.Volume]{}, err
	}
	var source spread.Source
	known, before, other, after := e.Known.draw(&source), e.Before.draw(&source), e.Other.draw(&source), e.After.draw(&source)
	return spread.Summary[quantity.Volume](spread.Combine(func(i int) float64 {
		return known[i] * (before[i] - after[i]) / (after[i] - other[i])
	})), nil
}

func (e Expansion) check() error {
	for _, err := range []error{e.Known.check("known"), e.Before.check("before"), e.Other.check("other"), e.After.check("after")} {
		if err != nil {
			return err
		}
	}
	down, up := e.Before, e.Other // from the higher to the lower
	if down.Value < up.Value {
		down, up = up, down
	}
	apart := func(high, low Measured[quantity.Absolute]) bool { return high.Value-low.Value > surely*(high.U+low.U) }
	if !apart(down, e.After) || !apart(e.After, up) {
		return &quantity.Fault{Code: CodeNoExpansion, Field: "after"}
	}
	return nil
}
