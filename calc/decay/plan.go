package decay

import (
	"math"

	"jointwalk/calc/quantity"
)

// Plan is what a pressure decay test has to see and what stands in its way.
type Plan struct {
	// Volume and Temperature of the gas under test.
	Volume      quantity.Volume
	Temperature quantity.Temperature
	// Pressure of the gas under test.
	Pressure quantity.Absolute
	// Limit that rejects a part, and the share of it that the station may leak, above 0 up to 1.
	Limit     quantity.MolarFlow
	Allowance float64
	// Resolution is the step in which the instrument shows a drop.
	Resolution quantity.Drop
	// Drift is the standard uncertainty of the gas's temperature in K/s over the test.
	Drift float64
	// Barometer is the standard uncertainty of the ambient pressure's change in Pa/s; 0 for an instrument that reads absolute or
	// differential pressure.
	Barometer float64
}

// What a plan keeps to.
const (
	// clear is how many standard uncertainties the allowance's drop has to be: 95 %, rounded up.
	clear = 2
	// finer is how many times finer the resolution has to be than the limit's drop (ASTM practice of pressure decay tests).
	finer = 10
	// mostLost is the share of the absolute pressure that may be lost in a test (the same practice).
	mostLost = 0.1
)

// Reasons why no test time does it.
const (
	// CannotDrift: the temperature drifts by more than the allowance's drop, however long one waits. Settle it, or compensate.
	CannotDrift = "drift"
	// CannotBarometer: the ambient pressure moves by more. Read absolute pressure, or against a closed reference.
	CannotBarometer = "barometer"
	// CannotLoss: the time that it takes would lose more than a tenth of the pressure.
	CannotLoss = "too-much-lost"
)

// Shortest is the shortest time of a test in which limit and allowance stand clear.
type Shortest struct {
	// Cannot is the reason why none does; "" where there is one.
	Cannot string
	Time   quantity.Duration
	// LimitDrop and AllowanceDrop are what each does in that time.
	LimitDrop, AllowanceDrop quantity.Drop
	// U is the standard uncertainty of a reading in that time, of resolution, drift and barometer.
	U quantity.Drop
}

// Shortest solves a r t = clear·u(t), where r is the limit's drop a second, a the allowance and
//
//	u² = δ²/6 + ((p/T) ϑ t)² + (β t)²
//
// for the time t: δ is the resolution (two readings, each rectangular over a step), ϑ the drift, β the barometer. It asks
// besides that the resolution be ten times finer than the limit's drop. Drift and barometer grow with the time as the drop
// does, so that no time helps where they are too large. Errors are *quantity.Fault: "not-positive", "not-a-number" or
// "out-of-range" with the field "volume", "temperature", "pressure", "limit", "allowance", "resolution", "drift" or "barometer".
func (p Plan) Shortest() (Shortest, error) {
	if err := p.check(); err != nil {
		return Shortest{}, err
	}
	speed := float64(p.Limit) * quantity.GasConstant * float64(p.Temperature) / float64(p.Volume)
	cooling := float64(p.Pressure) / float64(p.Temperature) * p.Drift
	step := float64(p.Resolution) / math.Sqrt(6)
	left := math.Pow(p.Allowance*speed/clear, 2) - cooling*cooling - p.Barometer*p.Barometer
	if left <= 0 {
		return Shortest{Cannot: p.larger(cooling)}, nil
	}
	time := max(step/math.Sqrt(left), finer*float64(p.Resolution)/speed)
	if speed*time > mostLost*float64(p.Pressure) {
		return Shortest{Cannot: CannotLoss}, nil
	}
	return Shortest{
		Time: quantity.Duration(time), LimitDrop: quantity.Drop(speed * time), AllowanceDrop: quantity.Drop(p.Allowance * speed * time),
		U: quantity.Drop(math.Sqrt(step*step + time*time*(cooling*cooling+p.Barometer*p.Barometer))),
	}, nil
}

// larger is which of drift and barometer stands more in the way.
func (p Plan) larger(cooling float64) string {
	if cooling >= p.Barometer {
		return CannotDrift
	}
	return CannotBarometer
}

func (p Plan) check() error {
	for _, in := range []struct {
		field string
		value float64
	}{
		{"volume", float64(p.Volume)}, {"temperature", float64(p.Temperature)}, {"pressure", float64(p.Pressure)},
		{"limit", float64(p.Limit)}, {"resolution", float64(p.Resolution)}, {"allowance", p.Allowance},
	} {
		if err := quantity.Positive(in.field, in.value); err != nil {
			return err
		}
	}
	if err := quantity.Within("allowance", p.Allowance, 0, 1); err != nil {
		return err
	}
	if err := quantity.Within("drift", p.Drift, 0, 10); err != nil {
		return err
	}
	return quantity.Within("barometer", p.Barometer, 0, 1e4)
}
