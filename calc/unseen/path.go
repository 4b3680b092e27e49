package unseen

import (
	"math"

	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
)

// Path is a thin way through a joint that the solution may plug.
type Path struct {
	// Pressure that drives the gas out; at or below zero no bubble can come.
	Pressure quantity.Gauge
	// Tension is the surface tension σ of the solution in N/m.
	Tension float64
	// Length of the path.
	Length quantity.Length
	// Viscosity μ of the gas in Pa·s.
	Viscosity float64
}

// What is taken where nothing else is known.
const (
	// UsualTension of a surfactant solution: 25 to 33 mN/m in the textbooks.
	UsualTension = 0.028
	// UsualLength of a path. Judgement: common practice, no source.
	UsualLength quantity.Length = 5e-3
	// AirViscosity at 300 K, from the CRC table.
	AirViscosity = 18.5e-6
)

// WetPath is a path of usual length through which air drives the usual solution.
func WetPath(p quantity.Gauge) *Path {
	return &Path{Pressure: p, Tension: UsualTension, Length: UsualLength, Viscosity: AirViscosity}
}

// Diameter is 4σ/p: thinner paths stay plugged. It wants a Pressure above zero.
func (p Path) Diameter() quantity.Length {
	return quantity.Length(4 * p.Tension / float64(p.Pressure))
}

// floor is the laminar leak of a path of that diameter.
func (p Path) floor(a gas.Ambient) quantity.MolarFlow {
	d := float64(p.Diameter())
	in, out := float64(p.Pressure.Absolute(a.Pressure)), float64(a.Pressure)
	pv := math.Pi * d * d * d * d * (in*in - out*out) / (256 * p.Viscosity * float64(p.Length))
	return quantity.MolarFlow(pv / (gas.R * float64(a.Temperature)))
}

// check refuses a path without tension, length or viscosity, and a pressure
// that is no number.
func (p Path) check() error {
	if p.Pressure-p.Pressure != 0 {
		return &quantity.Fault{Code: quantity.CodeNotANumber, Field: "pressure"}
	}
	if err := quantity.Positive("tension", p.Tension); err != nil {
		return err
	}
	if err := quantity.Positive("path-length", float64(p.Length)); err != nil {
		return err
	}
	return quantity.Positive("viscosity", p.Viscosity)
}
