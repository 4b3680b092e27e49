// Package water is liquid water and its vapour: the surface tension that holds a
// bubble, the vapour that moist air and a wet test side take up, the density
// behind the head of a collecting measure.
//
// All of it by τ = 1 − T/Tc, with Tc = 647.096 K:
//
//	σ  = 235.8 mN/m · τ^1.256 (1 − 0.625 τ)              IAPWS R1-76(2014), 248.15 K to Tc
//	ln p/pc = (Tc/T) Σ aᵢ τ^(1, 1.5, 3, 3.5, 4, 7.5)     IAPWS SR1-86(1992), pc = 22.064 MPa
//	ρ/ρc = 1 + Σ bᵢ τ^(1, 2, 5, 16, 43, 110)/3           IAPWS SR1-86(1992), ρc = 322 kg/m³
//
// σ is that of clean water: a solution that wets has half of it and less, so
// take the solution's own. p and ρ are those of water with nothing but its vapour
// over it: air of 100 kPa makes p 0.4 % more, air of 1 MPa some 3 %, and ρ 0.05 %
// more (from memory).
package water

import (
	"math"

	"jointwalk/calc/quantity"
)

// The ends of the ranges.
const (
	// Supercooled is how far below freezing Tension still answers.
	Supercooled quantity.Temperature = 248.15
	// Freezing is 0 °C, 0.01 K below the triple point where SR1-86 begins: its equations run on smoothly.
	Freezing = quantity.ZeroCelsius
	// Boiling is 100 °C.
	Boiling quantity.Temperature = 373.15
	// Critical is the critical temperature Tc.
	Critical quantity.Temperature = 647.096
)

// Tension is the surface tension σ against air or vapour, from Supercooled to
// Critical. Errors are *quantity.Fault of the field "temperature":
// "out-of-range", "not-a-number".
func Tension(t quantity.Temperature) (quantity.Tension, error) {
	tau, err := within(t, Supercooled, Critical)
	if err != nil {
		return 0, err
	}
	return quantity.Tension(0.2358 * math.Pow(tau, 1.256) * (1 - 0.625*tau)), nil
}

// SaturationPressure is the pressure p at which vapour and water are in balance,
// from Freezing to Critical: where all pressure is below it water boils, where the
// vapour's part is, it evaporates. Errors as Tension.
func SaturationPressure(t quantity.Temperature) (quantity.Absolute, error) {
	tau, err := within(t, Freezing, Critical)
	if err != nil {
		return 0, err
	}
	root := math.Sqrt(tau)
	cube := tau * tau * tau
	sum := -7.85951783*tau + 1.84408259*tau*root - 11.7866497*cube +
		22.6807411*cube*root - 15.9618719*cube*tau + 1.80122502*cube*cube*tau*root
	return quantity.Absolute(22.064e6 * math.Exp(float64(Critical/t)*sum)), nil
}

// Density is the density ρ of the liquid in kg/m³, from Freezing to Boiling.
// Errors as Tension.
func Density(t quantity.Temperature) (float64, error) {
	tau, err := within(t, Freezing, Boiling)
	if err != nil {
		return 0, err
	}
	third := math.Cbrt(tau)
	return 322 * (1 + third*1.99274064 + third*third*1.09965342 -
		0.510839303*math.Pow(third, 5) - 1.75493479*math.Pow(third, 16) -
		45.5170352*math.Pow(third, 43) - 6.74694450e5*math.Pow(third, 110)), nil
}

// Weight is by how much the pressure grows with each metre of depth, ρ g in Pa/m. Range and errors as Density.
func Weight(t quantity.Temperature) (float64, error) {
	density, err := Density(t)
	return density * quantity.Gravity, err
}

// within is τ of a temperature that lies from lo to hi.
func within(t, lo, hi quantity.Temperature) (float64, error) {
	if err := quantity.Within("temperature", t, lo, hi); err != nil {
		return 0, err
	}
	return float64(1 - t/Critical), nil
}
