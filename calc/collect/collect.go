// Package collect sizes a leak from gas caught in a measure: the one bubble method that truly measures (EN 1593 calls for a
// collecting device where a figure is wanted).
//
// A volume V of gas came together in a time t, over water of density ρ whose level in the measure stands h above that outside.
// Gas that rose through water is taken as saturated with its vapour, of pressure pv at the temperature T (textbook practice:
// partial pressures add):
//
//	n = (p − ρ g h − pv) V/(R T t)
//
// with p the barometric pressure and g = 9.80665 m/s². h is negative where the level inside is the lower one. In a dry measure,
// a bag or a syringe, there is neither head nor vapour.
package collect

import (
	"jointwalk/calc/bubble"
	"jointwalk/calc/estimate"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/calc/spread"
	"jointwalk/calc/water"
)

// The inputs of the budget.
const (
	InputVolume      = "volume"
	InputHead        = "head"
	InputTemperature = "temperature"
	InputClock       = "clock"
)

// What is believed of a measure.
const (
	mostHead     quantity.Length      = 2   // m
	mostHeadU    quantity.Length      = 0.2 // m
	warmest      quantity.Temperature = quantity.ZeroCelsius + 40
	mostDegreesU quantity.Temperature = 5
)

// Measure is what was read.
type Measure struct {
	// Volume that came together, with its standard uncertainty.
	Volume, VolumeU quantity.Volume
	// Time that it took, with its standard uncertainty.
	Time, Clock quantity.Duration
	// Over water: then Head counts, and the water's vapour.
	Over bool
	// Head is how far the level in the measure stands above that outside, with its standard uncertainty; below zero where it
	// stands lower.
	Head, HeadU quantity.Length
	// Ambient is where the measure stands. Its temperature is that of the gas in the measure …
	Ambient gas.Ambient
	// … known with this standard uncertainty.
	TemperatureU quantity.Temperature
}

// Estimate is the leak rate. Its budget has volume, head, temperature and clock. Errors are *quantity.Fault: "not-positive",
// "not-a-number", "too-large" or "out-of-range" with the field "volume", "volume-uncertainty", "time", "clock", "head",
// "head-uncertainty", "temperature", "temperature-uncertainty", "ambient-pressure" or "ambient-temperature".
func (m Measure) Estimate() (estimate.Estimate, error) {
	if err := m.check(); err != nil {
		return estimate.Estimate{}, err
	}
	inputs := []estimate.Input{
		{Name: InputVolume, Of: spread.Around(float64(m.Volume), float64(m.VolumeU))},
		{Name: InputHead, Of: m.head()},
		{Name: InputTemperature, Of: around(float64(m.Ambient.Temperature), float64(m.TemperatureU))},
		{Name: InputClock, Of: spread.Around(float64(m.Time), float64(m.Clock))},
	}
	weight := m.weight()
	return estimate.Of(inputs, m.Ambient, func(x []float64) float64 {
		pressure := float64(m.Ambient.Pressure) - weight*x[1] - m.vapour(x[2])
		return pressure * x[0] / (gas.R * x[2] * x[3])
	}), nil
}

func (m Measure) head() spread.Distribution {
	if !m.Over {
		return spread.Exact(0)
	}
	return around(float64(m.Head), float64(m.HeadU))
}

// around is normal; what is known exactly stays so.
func around(value, u float64) spread.Distribution {
	if u == 0 {
		return spread.Exact(value)
	}
	return spread.Normal{Mean: value, SD: u}
}

// weight is ρ g of the water in Pa/m.
func (m Measure) weight() float64 {
	if !m.Over {
		return 0
	}
	weight, err := water.Weight(m.Ambient.Temperature)
	if err != nil {
		panic("collect: " + err.Error())
	}
	return weight
}

// vapour is pv in Pa at a temperature in K. Below freezing the little that there is stays.
func (m Measure) vapour(kelvin float64) float64 {
	if !m.Over {
		return 0
	}
	p, err := water.SaturationPressure(max(quantity.Temperature(kelvin), water.Freezing))
	if err != nil {
		panic("collect: " + err.Error())
	}
	return float64(p)
}

func (m Measure) check() error {
	if err := quantity.Positive("volume", float64(m.Volume)); err != nil {
		return err
	}
	if err := bubble.Uncertain("volume-uncertainty", float64(m.VolumeU), float64(m.Volume)); err != nil {
		return err
	}
	if err := bubble.Intervals(1, m.Time, m.Clock).Check(); err != nil {
		return err
	}
	if err := m.Ambient.Check(); err != nil {
		return err
	}
	if err := quantity.Within("temperature-uncertainty", m.TemperatureU, 0, mostDegreesU); err != nil {
		return err
	}
	return m.checkWater()
}

// What a barometer shows where people work. Judgement.
const (
	leastPressure quantity.Absolute = 50_000
	mostPressure  quantity.Absolute = 300_000
)

// checkWater keeps the gas's pressure well above zero, whatever the inputs' uncertainty.
func (m Measure) checkWater() error {
	if !m.Over {
		return nil
	}
	if err := quantity.Within("temperature", m.Ambient.Temperature, water.Freezing, warmest); err != nil {
		return err
	}
	if err := quantity.Within("head", m.Head, -mostHead, mostHead); err != nil {
		return err
	}
	if err := quantity.Within("head-uncertainty", m.HeadU, 0, mostHeadU); err != nil {
		return err
	}
	return quantity.Within("ambient-pressure", m.Ambient.Pressure, leastPressure, mostPressure)
}
