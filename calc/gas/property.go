package gas

import "jointwalk/calc/quantity"

// Code is the gas's code: one of Codes, Mixed or MoistAir.
func (g Gas) Code() string {
	g.known()
	return g.code
}

// MolarMass is the mean molar mass.
func (g Gas) MolarMass() (m quantity.MolarMass) {
	for _, p := range g.known() {
		m += quantity.MolarMass(p.share) * p.mass
	}
	return m
}

// HeatRatio is the ratio k of the heat capacities at constant pressure and
// constant volume at 25 °C and low pressure: 1.40 for air, 5/3 for helium.
// Between 0 and 50 °C that of carbon dioxide moves by 0.015 (from memory), the others' less.
func (g Gas) HeatRatio() float64 {
	cp := 0.0
	for _, p := range g.known() {
		cp += p.share * p.heat
	}
	return cp / (cp - R)
}

// Permeates says whether the gas, or a part of it, passes through the film of a
// bubble fast enough to make the bubble too small: helium, carbon dioxide,
// hydrogen. What such bubbles show is "at least". Through a hemisphere of 5 mm
// with a film of 1 µm go about 0.15 (helium) and 3.7 (carbon dioxide) std
// cm³/min. Diffusion data from memory.
func (g Gas) Permeates() bool {
	for _, p := range g.known() {
		if p.permeates {
			return true
		}
	}
	return false
}

// Limits are the lowest and the highest temperature at which Viscosity knows
// the gas: from 100 K, with carbon dioxide in it from 200 K, with water vapour
// from 250 K; up to 500 K.
func (g Gas) Limits() (cold, hot quantity.Temperature) {
	for _, p := range g.known() {
		cold = max(cold, p.cold)
	}
	return cold, hottest
}

// Viscosity is the dynamic viscosity at low pressure. Errors are
// *quantity.Fault of the field "temperature": "out-of-range" beyond Limits, with
// them as Min and Max, and "not-a-number".
func (g Gas) Viscosity(t quantity.Temperature) (quantity.Viscosity, error) {
	cold, hot := g.Limits()
	if err := quantity.Within("temperature", t, cold, hot); err != nil {
		return 0, err
	}
	n := len(g.parts)
	x, m, mu := make([]float64, n), make([]float64, n), make([]float64, n)
	for i, p := range g.parts {
		x[i], m[i], mu[i] = p.share, float64(p.mass), p.viscosity.at(float64(t))
	}
	return quantity.Viscosity(1e-6 * wilke(x, m, mu)), nil
}
