// Package quantity holds the physical quantities, one type each, in SI inside,
// and is the only place where units are read and printed.
//
// A number from a person becomes a quantity by Parse, a quantity becomes a
// number for a person by In or Print. Everything between is SI. A leak rate is
// a molar flow (mol/s): the only form that needs no reference temperature.
package quantity

// Length is in metres.
type Length float64

// Volume is in cubic metres.
type Volume float64

// VolumeFlow is in cubic metres per second at the conditions where it is said.
type VolumeFlow float64

// MolarFlow is a leak rate in moles per second.
type MolarFlow float64

// Absolute is a pressure above vacuum, in pascals.
type Absolute float64

// Gauge is a pressure above ambient, in pascals; below zero is vacuum.
type Gauge float64

// Drop is a difference of two pressures at different times, in pascals;
// positive when the pressure fell.
type Drop float64

// Temperature is in kelvins above absolute zero.
type Temperature float64

// Duration is in seconds.
type Duration float64

// Quantity is any of the types that carry a unit.
type Quantity interface {
	Length | Volume | VolumeFlow | MolarFlow | Absolute | Gauge | Drop | Temperature | Duration
}

// Kind names what a unit measures. Gauge, Absolute and Drop share KindPressure,
// since they share their units; their types keep them apart.
type Kind string

// The kinds.
const (
	KindLength      Kind = "length"
	KindVolume      Kind = "volume"
	KindVolumeFlow  Kind = "volume-flow"
	KindLeakRate    Kind = "leak-rate"
	KindPressure    Kind = "pressure"
	KindTemperature Kind = "temperature"
	KindDuration    Kind = "duration"
)

// GasConstant is the molar gas constant R in J/(mol K), CODATA 2018, exact
// product of the SI's defining constants.
const GasConstant = 8.31446261815324

// Atmosphere is the standard atmosphere, by definition.
const Atmosphere Absolute = 101325

// ZeroCelsius is 0 °C in kelvins, by definition.
const ZeroCelsius Temperature = 273.15

// Absolute is g above vacuum where the ambient pressure is ambient.
func (g Gauge) Absolute(ambient Absolute) Absolute { return Absolute(g) + ambient }

// Gauge is a above an ambient pressure.
func (a Absolute) Gauge(ambient Absolute) Gauge { return Gauge(a - ambient) }

// kindOf is the kind of the type Q.
func kindOf[Q Quantity]() Kind {
	var zero Q
	switch any(zero).(type) {
	case Length:
		return KindLength
	case Volume:
		return KindVolume
	case VolumeFlow:
		return KindVolumeFlow
	case MolarFlow:
		return KindLeakRate
	case Temperature:
		return KindTemperature
	case Duration:
		return KindDuration
	default:
		return KindPressure
	}
}

// signed says whether the type Q may be zero or negative in what a person enters.
func signed[Q Quantity]() bool {
	var zero Q
	switch any(zero).(type) {
	case Gauge, Drop:
		return true
	default:
		return false
	}
}
