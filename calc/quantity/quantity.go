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

// Area is in square metres.
type Area float64

// Energy is in joules.
type Energy float64

// Force is in newtons; below zero it pulls.
type Force float64

// Viscosity is the dynamic viscosity of a gas, in pascal seconds.
type Viscosity float64

// Tension is the surface tension of a liquid, in newtons per metre.
type Tension float64

// MolarMass is in kilograms per mole.
type MolarMass float64

// Quantity is any of the types that carry a unit.
type Quantity interface {
	Length | Area | Volume | VolumeFlow | MolarFlow | Absolute | Gauge | Drop | Temperature | Duration |
		Energy | Force | Viscosity | Tension | MolarMass
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
	KindArea        Kind = "area"
	KindEnergy      Kind = "energy"
	KindForce       Kind = "force"
	KindViscosity   Kind = "viscosity"
	KindTension     Kind = "surface-tension"
	KindMolarMass   Kind = "molar-mass"
)

// GasConstant is the molar gas constant R in J/(mol K), CODATA 2018, exact
// product of the SI's defining constants.
const GasConstant = 8.31446261815324

// Gravity is the standard acceleration of free fall in m/s², by definition; it differs by ±0.3 % over the earth.
const Gravity = 9.80665

// Atmosphere is the standard atmosphere, by definition.
const Atmosphere Absolute = 101325

// ZeroCelsius is 0 °C in kelvins, by definition.
const ZeroCelsius Temperature = 273.15

// Absolute is g above vacuum where the ambient pressure is ambient.
func (g Gauge) Absolute(ambient Absolute) Absolute { return Absolute(g) + ambient }

// Gauge is a above an ambient pressure.
func (a Absolute) Gauge(ambient Absolute) Gauge { return Gauge(a - ambient) }

// Flow is the molar flow of a mass flow in kg/s.
func (m MolarMass) Flow(mass float64) MolarFlow { return MolarFlow(mass / float64(m)) }

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
	case Area:
		return KindArea
	case Energy:
		return KindEnergy
	case Force:
		return KindForce
	case Viscosity:
		return KindViscosity
	case Tension:
		return KindTension
	case MolarMass:
		return KindMolarMass
	default:
		return KindPressure
	}
}

// signed says whether the type Q may be zero or negative in what a person enters.
func signed[Q Quantity]() bool {
	var zero Q
	switch any(zero).(type) {
	case Gauge, Drop, Force:
		return true
	default:
		return false
	}
}
