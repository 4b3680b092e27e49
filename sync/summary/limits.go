package summary

import (
	"math"

	"jointwalk/calc/decay"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/calc/share"
	"jointwalk/sync/record"
)

// yard is what rates of a fixture are measured by: the unit to show them in,
// and the limit and allowance (zero when the program has none).
type yard struct {
	unit, ref string
	limit     quantity.MolarFlow
	allowance quantity.MolarFlow
}

// showAsUsual is the unit where a fixture has no program. Common practice, no
// source.
var showAsUsual = yard{unit: "std cm3/min", ref: "0C"}

// unitCode joins a unit and its reference as calc/quantity wants them.
func unitCode(unit, ref string) string {
	if ref == "" || !quantity.NeedsReference(unit) {
		return unit
	}
	return unit + "@" + ref
}

// yardOf is a program's yard; a limit that is no rate (bad data) counts as
// none.
func yardOf(p *record.Program, ambient gas.Ambient) yard {
	if p == nil {
		return showAsUsual
	}
	y := yard{unit: p.ShowUnit, ref: p.ShowRef}
	limit, err := limitOf(p, ambient)
	if err != nil {
		return y
	}
	y.limit = limit
	if allowance, err := share.Allowance(limit, p.Allowance); err == nil {
		y.allowance = allowance
	}
	return y
}

// limitOf is the reject limit as a molar flow, zero when there is none. A
// limit given as a drop is that of the volume under test at ambient
// temperature over the test time.
func limitOf(p *record.Program, ambient gas.Ambient) (quantity.MolarFlow, error) {
	switch {
	case p.LimitRate != nil:
		return quantity.From[quantity.MolarFlow](p.LimitRate.Value, unitCode(p.LimitRate.Unit, p.LimitRate.Ref))
	case p.LimitDrop != nil:
		volume, err := quantity.From[quantity.Volume](p.Volume.Value, p.Volume.Unit)
		if err != nil {
			return 0, err
		}
		drop, err := quantity.From[quantity.Drop](p.LimitDrop.Value, p.LimitDrop.Unit)
		if err != nil {
			return 0, err
		}
		test := decay.Test{Volume: volume, Time: quantity.Duration(p.Test), Temperature: ambient.Temperature}
		return test.Rate(drop)
	}
	return 0, nil
}

// number prints a rate in the yard's unit, "" when that cannot be done.
func (y yard) number(rate quantity.MolarFlow) string {
	if rate <= 0 || math.IsInf(float64(rate), 0) {
		return ""
	}
	printed, err := quantity.Print(rate, unitCode(y.unit, y.ref), 3)
	if err != nil {
		return ""
	}
	return printed.Number
}

// position is a rate's place on the bar, -1 for none.
func (y yard) position(rate quantity.MolarFlow) float64 {
	value, err := quantity.In(rate, unitCode(y.unit, y.ref))
	if err != nil || rate <= 0 {
		return -1
	}
	return quantity.Position(value)
}

// ambientOf is a round's ambient: what was noted, and the usual barometer
// where none was.
func ambientOf(c record.Conditions) gas.Ambient {
	a := gas.Usual()
	if t, err := quantity.From[quantity.Temperature](c.Ambient.Value, c.Ambient.Unit); err == nil {
		a.Temperature = t
	}
	if c.Barometer != nil {
		if p, err := quantity.From[quantity.Absolute](c.Barometer.Value, c.Barometer.Unit); err == nil {
			a.Pressure = p
		}
	}
	return a
}

func (d *Desk) programCard(p *record.ProgramState) *ProgramCard {
	if p == nil {
		return nil
	}
	y := yardOf(&p.Program, gas.Usual())
	return &ProgramCard{
		ID: p.Set.Event, Program: p.Program, Limit: y.number(y.limit), Allowance: y.number(y.allowance),
		Unit: y.unit, Ref: y.ref, Set: d.stamp(p.Set),
	}
}
