// Package air is the standard atmosphere: what a barometer reads at an altitude
// where none is at hand.
//
// U.S. Standard Atmosphere 1976, its lowest layer. With the geopotential
// altitude H in m above sea level
//
//	T = T₀ − L H                     T₀ = 288.15 K, L = 6.5 K/km
//	p = p₀ (T/T₀)^(g₀ M/(R* L))      p₀ = 101325 Pa, g₀ = 9.80665 m/s²
//
// where M = 28.9644 g/mol and R* = 8.31432 J/(mol K) are the standard's own, and
//
//	H = r₀ Z/(r₀ + Z)                r₀ = 6356.766 km
//
// for the geometric altitude Z, the one on a map, 2.5 m more than H at 4 km. It
// holds from −5 to 11 km of H. A barometer of the place is better: weather moves
// it by some 3 % either way (common practice, no source).
package air

import (
	"math"

	"jointwalk/calc/quantity"
)

// Altitude is a geopotential altitude in metres above sea level; below zero is below it.
type Altitude float64

// The altitudes from and to which the layer reaches.
const (
	Lowest  Altitude = -5000
	Highest Altitude = 11000
)

// The temperatures from and to which Viscosity answers.
const (
	Coldest quantity.Temperature = 200
	Hottest quantity.Temperature = 400
)

const (
	seaLevel = 288.15    // T₀, K
	lapse    = 0.0065    // L, K/m
	radius   = 6356766.0 // r₀, m
	exponent = 9.80665 * 0.0289644 / (8.31432 * lapse)
)

// Geometric is the geopotential altitude of a geometric one; below zero is below
// sea level. One out of all range gives an Altitude that is out of range too.
func Geometric(z quantity.Length) Altitude {
	return Altitude(radius * float64(z) / (radius + float64(z)))
}

// Temperature is that of the standard atmosphere at h. Errors are
// *quantity.Fault of the field "altitude": "out-of-range" beyond Lowest to
// Highest, "not-a-number".
func (h Altitude) Temperature() (quantity.Temperature, error) {
	if err := quantity.Within("altitude", h, Lowest, Highest); err != nil {
		return 0, err
	}
	return quantity.Temperature(seaLevel - lapse*float64(h)), nil
}

// Pressure is that of the standard atmosphere at h. Errors as Temperature.
func (h Altitude) Pressure() (quantity.Absolute, error) {
	t, err := h.Temperature()
	if err != nil {
		return 0, err
	}
	return quantity.Atmosphere * quantity.Absolute(math.Pow(float64(t)/seaLevel, exponent)), nil
}

// Viscosity is the standard's own dynamic viscosity of air, in Sutherland's form
// β T^1.5/(T + S) with β = 1.458e-6 Pa·s/√K and S = 110.4 K. Within Coldest to
// Hottest package gas agrees to 1 %. Errors are *quantity.Fault of the field
// "temperature": "out-of-range", "not-a-number".
func Viscosity(t quantity.Temperature) (quantity.Viscosity, error) {
	if err := quantity.Within("temperature", t, Coldest, Hottest); err != nil {
		return 0, err
	}
	return quantity.Viscosity(1.458e-6 * math.Pow(float64(t), 1.5) / (float64(t) + 110.4)), nil
}
