// Package decay relates the drop of pressure in a closed volume to a leak rate.
//
// At constant temperature a rigid volume V that loses Δp in Δt leaks
//
//	Q = V Δp/Δt        in Pa·m³/s
//	n = V Δp/(R T Δt)  in mol/s
//
// (40 CFR 1065.644 with equal temperatures.) The gas temperature T is that of
// the gas in the volume. What temperature drift and an elastic volume do to it
// is not in here.
package decay

import "jointwalk/calc/quantity"

// Test is a closed volume watched for a time.
type Test struct {
	// Volume under test, instrument and plumbing together.
	Volume quantity.Volume
	// Time over which the drop is read.
	Time quantity.Duration
	// Temperature of the gas.
	Temperature quantity.Temperature
}

// Throughput is V Δp/Δt in Pa·m³/s, for those who think in pV. Errors as Rate.
func (t Test) Throughput(drop quantity.Drop) (float64, error) {
	if err := t.check(float64(drop)); err != nil {
		return 0, err
	}
	return float64(t.Volume) * float64(drop) / float64(t.Time), nil
}

// Rate is the molar flow that makes the drop. A rise gives a negative rate.
// Errors are *quantity.Fault: "not-positive" or "not-a-number" with the field
// "volume", "time", "temperature" or "value".
func (t Test) Rate(drop quantity.Drop) (quantity.MolarFlow, error) {
	q, err := t.Throughput(drop)
	if err != nil {
		return 0, err
	}
	return quantity.MolarFlow(q / (quantity.GasConstant * float64(t.Temperature))), nil
}

// Drop is the drop that a molar flow makes: Rate's inverse. Errors as Rate.
func (t Test) Drop(rate quantity.MolarFlow) (quantity.Drop, error) {
	if err := t.check(float64(rate)); err != nil {
		return 0, err
	}
	q := float64(rate) * quantity.GasConstant * float64(t.Temperature)
	return quantity.Drop(q * float64(t.Time) / float64(t.Volume)), nil
}

// check refuses a test that has no volume, time or temperature, and a value
// that is no number.
func (t Test) check(value float64) error {
	if value-value != 0 {
		return &quantity.Fault{Code: quantity.CodeNotANumber, Field: "value"}
	}
	if err := quantity.Positive("volume", float64(t.Volume)); err != nil {
		return err
	}
	if err := quantity.Positive("time", float64(t.Time)); err != nil {
		return err
	}
	return quantity.Positive("temperature", float64(t.Temperature))
}
