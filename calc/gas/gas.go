// Package gas turns volumes of gas into amounts and back, and knows the gases that a station is tested with.
//
// Gas in a bubble is at ambient pressure and temperature, near enough ideal:
//
//	n = p V / (R T)
//
// with n in mol, p absolute in Pa, V in m³, T in K and R = 8.314462618
// J/(mol K) (CODATA 2018). Air at 100 kPa and 20 °C deviates by 0.03 %.
//
// A Gas comes from Of, Mixture or Moist and has
//
//	M   molar mass, kg/mol                 Σ x M of its parts, x their mole fractions
//	k   heat-capacity ratio, 25 °C         Cp/(Cp − R), Cp = Σ x Cp
//	μ   viscosity, Pa·s, by temperature    one law a species (species.go), Wilke's rule for a mixture
//	c̄   mean speed of the molecules, m/s   √(8 R T/(π M))
//	ρ   density, kg/m³                     p M/(R T)
//	λ   mean free path, m                  μ/(½ ρ c̄) = (μ/p) √(π R T/(2 M))
//
// Viscosities are those at low pressure. For every species they are within 1 % of the published tables at 0 to 50 °C,
// water vapour where a table has it, from 27 °C; at 1 MPa a gas has about 1 % more (from memory). What mixing adds stands
// at Mixture.
package gas

import "jointwalk/calc/quantity"

// R is the molar gas constant in J/(mol K).
const R = quantity.GasConstant

// Ambient is the state of the gas where it comes out.
type Ambient struct {
	// Pressure is the barometric pressure of the place, not reduced to sea level.
	Pressure quantity.Absolute
	// Temperature of the air around the joint.
	Temperature quantity.Temperature
}

// Usual is 101.325 kPa and 20 °C: what is taken where nobody noted the ambient.
// Common practice, no source.
func Usual() Ambient { return Ambient{quantity.Atmosphere, 293.15} }

// Check is nil when both values are above zero and finite, and otherwise a
// *quantity.Fault of the field "ambient-pressure" or "ambient-temperature".
func (a Ambient) Check() error {
	if err := quantity.Positive("ambient-pressure", float64(a.Pressure)); err != nil {
		return err
	}
	return quantity.Positive("ambient-temperature", float64(a.Temperature))
}

// Molar is the molar flow p Q/(R T) of a volume flow Q at a. An ambient that
// Check refuses is a caller's mistake.
func Molar(q quantity.VolumeFlow, a Ambient) quantity.MolarFlow {
	return quantity.MolarFlow(float64(q) * density(a))
}

// Volume is the volume flow n R T/p of a molar flow n at a: Molar's inverse.
func Volume(n quantity.MolarFlow, a Ambient) quantity.VolumeFlow {
	return quantity.VolumeFlow(float64(n) / density(a))
}

// density is p/(R T) in mol/m³.
func density(a Ambient) float64 {
	if a.Check() != nil {
		panic("gas: ambient pressure and temperature must be above zero")
	}
	return float64(a.Pressure) / (R * float64(a.Temperature))
}
