// Package energy tells what a volume under pressure or vacuum can do when it gives way, and how hard it pushes.
//
// Under pressure, gas at p_t (absolute) in a volume V that expands to the ambient p_a without taking up heat gives at most
//
//	E = p_t V/(k − 1) · [1 − (p_a/p_t)^((k−1)/k)]    ASME PCC-2 article 501, the form from memory
//
// in J, with pressures in Pa, V in m³ and k = cp/cv of the gas, 1.4 for air and nitrogen, 1.667 for helium. Of it the
// expanding gas spends a part on pushing the ambient air away; that part is not subtracted, as in the article.
//
// Under vacuum the surroundings do the work. Air at p_a that follows a wall inward through a volume V' does p_a V', of which
// the gas inside, at p_t or more, takes up at least p_t V'. V' is at most V, hence
//
//	E ≤ (p_a − p_t) V
//
// which is what is taken: never too little, p_a V for a perfect vacuum, and at p_t = 0.2 p_a about twice what a collapse
// without heat sets free (derived here, no source). Liquids and the stretched walls store energy too; it is not in here.
//
// A seal or a lid of diameter d carries F = p π d²/4 in N, p being the gauge pressure.
package energy

import (
	"math"

	"jointwalk/calc/quantity"
)

// Vessel is a closed volume of gas.
type Vessel struct {
	// Pressure of the gas, gauge; below zero is vacuum.
	Pressure quantity.Gauge
	// Ambient pressure of the place.
	Ambient quantity.Absolute
	// Volume of the gas.
	Volume quantity.Volume
	// HeatRatio k of the gas, above 1; at most 1.667 for any gas.
	HeatRatio float64
}

// Stored is the energy that the vessel can set free, 0 where the gas is at ambient pressure and never below. Errors are a
// *quantity.Fault, "not-positive" or "not-a-number", of the field "ambient-pressure", "pressure" (no absolute pressure is
// left), "volume" or "heat-ratio" (not above 1).
func (v Vessel) Stored() (quantity.Energy, error) {
	if err := v.check(); err != nil {
		return 0, err
	}
	if v.Pressure < 0 {
		return quantity.Energy(-float64(v.Pressure) * float64(v.Volume)), nil
	}
	inside := float64(v.Pressure.Absolute(v.Ambient))
	// 1 − (p_a/p_t)^((k−1)/k), kept exact where p_t is close to p_a.
	share := -math.Expm1(-(v.HeatRatio - 1) / v.HeatRatio * math.Log1p(float64(v.Pressure)/float64(v.Ambient)))
	return quantity.Energy(inside * float64(v.Volume) / (v.HeatRatio - 1) * share), nil
}

func (v Vessel) check() error {
	if err := quantity.Positive("ambient-pressure", float64(v.Ambient)); err != nil {
		return err
	}
	if err := quantity.Positive("pressure", float64(v.Pressure.Absolute(v.Ambient))); err != nil {
		return err
	}
	if err := quantity.Positive("volume", float64(v.Volume)); err != nil {
		return err
	}
	return quantity.Positive("heat-ratio", v.HeatRatio-1)
}

// Push is the force of a gauge pressure on a round seal or lid, p π d²/4; a vacuum pulls, below zero. Errors are a
// *quantity.Fault of the field "pressure" (not a number) or "diameter".
func Push(p quantity.Gauge, diameter quantity.Length) (quantity.Force, error) {
	if p-p != 0 {
		return 0, &quantity.Fault{Code: quantity.CodeNotANumber, Field: "pressure"}
	}
	if err := quantity.Positive("diameter", float64(diameter)); err != nil {
		return 0, err
	}
	d := float64(diameter)
	return quantity.Force(float64(p) * math.Pi / 4 * d * d), nil
}
