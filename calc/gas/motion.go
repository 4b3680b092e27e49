package gas

import (
	"math"

	"jointwalk/calc/quantity"
)

// Density is p M/(R T) in kg/m³. Errors are *quantity.Fault: "not-positive" or
// "not-a-number" with the field "temperature" or "pressure".
func (g Gas) Density(t quantity.Temperature, p quantity.Absolute) (float64, error) {
	if err := state(t, p); err != nil {
		return 0, err
	}
	return float64(p) * float64(g.MolarMass()) / (R * float64(t)), nil
}

// MeanSpeed is the mean speed √(8 R T/(π M)) of the molecules in m/s. Errors as
// Density, of the temperature.
func (g Gas) MeanSpeed(t quantity.Temperature) (float64, error) {
	if err := quantity.Positive("temperature", float64(t)); err != nil {
		return 0, err
	}
	return meanSpeed(g.MolarMass(), t), nil
}

// MeanFreePath is FreePath of the gas's own viscosity with Plain. Errors as
// Viscosity and Density.
func (g Gas) MeanFreePath(t quantity.Temperature, p quantity.Absolute) (quantity.Length, error) {
	if err := state(t, p); err != nil {
		return 0, err
	}
	mu, err := g.Viscosity(t)
	if err != nil {
		return 0, err
	}
	return FreePath(mu, g.MolarMass(), t, p, Plain), nil
}

// state refuses a temperature or a pressure that no gas has.
func state(t quantity.Temperature, p quantity.Absolute) error {
	if err := quantity.Positive("temperature", float64(t)); err != nil {
		return err
	}
	return quantity.Positive("pressure", float64(p))
}

// The two customary values of the factor u in μ = u ρ c̄ λ, which defines a mean free path.
const (
	// Plain gives λ = (μ/p) √(π R T/(2 M)). It is the λ by which Knudsen's interpolation through the
	// transition range has its 2.507 and 3.095: √(π/2) times his 2.00 and 2.47 (from memory).
	Plain = 0.5
	// HardSphere is kinetic theory's value for hard spheres and gives λ = √(π/8) (μ/u)/√(ρ p), 0.25 %
	// longer (J. Aerosol Sci. 19 (1988) 159–166).
	HardSphere = 0.4987445
)

// FreePath is the mean free path μ/(u ρ c̄) of a gas of viscosity mu and molar
// mass m at t and p, where u is Plain or HardSphere. An argument that is not
// above zero is a caller's mistake.
func FreePath(mu quantity.Viscosity, m quantity.MolarMass, t quantity.Temperature, p quantity.Absolute, u float64) quantity.Length {
	if !(mu > 0 && m > 0 && t > 0 && p > 0 && u > 0) {
		panic("gas: a mean free path wants arguments above zero")
	}
	density := float64(p) * float64(m) / (R * float64(t))
	return quantity.Length(float64(mu) / (u * density * meanSpeed(m, t)))
}

// meanSpeed is √(8 R T/(π M)).
func meanSpeed(m quantity.MolarMass, t quantity.Temperature) float64 {
	return math.Sqrt(8 * R * float64(t) / (math.Pi * float64(m)))
}
