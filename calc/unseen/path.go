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
	// Liquid is the viscosity η in Pa·s of solution that stands in the whole path, because the joint was wetted before the
	// pressure came; zero where only its mouth is wet.
	Liquid float64
}

// What is taken where nothing else is known.
const (
	// UsualTension of a surfactant solution: 25 to 33 mN/m in the textbooks.
	UsualTension = 0.028
	// UsualLength of a path. Judgement: common practice, no source.
	UsualLength quantity.Length = 5e-3
	// AirViscosity at 300 K, from the CRC table.
	AirViscosity = 18.5e-6
	// SolutionViscosity is that of water at 20 °C, from memory: a surfactant changes little.
	SolutionViscosity = 1.0e-3
)

// WetPath is a path of usual length through which air drives the usual solution.
func WetPath(p quantity.Gauge) *Path {
	return &Path{Pressure: p, Tension: UsualTension, Length: UsualLength, Viscosity: AirViscosity}
}

// Filled is p with solution in the whole path: what a joint must be taken for that was wetted before the pressure came.
func (p *Path) Filled() *Path {
	filled := *p
	filled.Liquid = SolutionViscosity
	return &filled
}

// Diameter is that below which a path may be plugged still after a time: 4σ/p, and more where it has to be blown free along
// its length L. Gas drives a liquid out of a tube in
//
//	T = 16 η L²/(d² (p − 4σ/d))
//
// (laminar, the liquid's column growing shorter), so that d = (2σ + √(4σ² + 16 η L² p/T))/p. It wants a Pressure and a
// time above zero.
func (p Path) Diameter(time quantity.Duration) quantity.Length {
	l := float64(p.Length)
	root := math.Sqrt(4*p.Tension*p.Tension + 16*p.Liquid*l*l*float64(p.Pressure)/float64(time))
	return quantity.Length((2*p.Tension + root) / float64(p.Pressure))
}

// floor is the laminar leak of a path that may be plugged still.
func (p Path) floor(time quantity.Duration, a gas.Ambient) quantity.MolarFlow {
	d := float64(p.Diameter(time))
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
	if p.Liquid != 0 {
		if err := quantity.Positive("liquid-viscosity", p.Liquid); err != nil {
			return err
		}
	}
	return quantity.Positive("viscosity", p.Viscosity)
}
