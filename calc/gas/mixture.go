package gas

import (
	"math"

	"jointwalk/calc/quantity"
)

// The codes of a *quantity.Fault that is this package's own.
const (
	// CodeUnknown: no gas has this code; Text is the code. Field "gas".
	CodeUnknown = "gas-unknown"
	// CodeFraction: a mole fraction is no number from 0 to 1. Field "fraction".
	CodeFraction = "fraction-range"
	// CodeSum: the mole fractions do not add up to 1. Field "fraction".
	CodeSum = "fraction-sum"
)

// Gas is a species or a mixture. It comes from Of, Mixture or Moist; the zero
// Gas is none, and to use it a caller's mistake.
type Gas struct {
	code  string
	parts []part
}

type part struct {
	*species
	share float64
}

// Part is a gas and its mole fraction, 0 to 1, in a mixture.
type Part struct {
	Gas      Gas
	Fraction float64
}

// Of is the gas of a code, one of Codes. The error is a *quantity.Fault of CodeUnknown.
func Of(code string) (Gas, error) {
	if code == Forming {
		return Gas{Forming, []part{{find(Hydrogen), 0.05}, {find(Nitrogen), 0.95}}}, nil
	}
	s := find(code)
	if s == nil {
		return Gas{}, &quantity.Fault{Code: CodeUnknown, Field: "gas", Text: code}
	}
	return Gas{code, []part{{s, 1}}}, nil
}

// Mixture is a mixture of gases; a part may be a mixture itself, and a fraction
// zero. Against the kinetic theory of a pair of gases (own reckoning at 300 K),
// Wilke's rule is within 1 % for like molecules, for up to a tenth of hydrogen
// and for helium in nitrogen; half and more of hydrogen comes out up to 10 % too
// viscous, helium with carbon dioxide up to 5 % too little. Errors are
// *quantity.Fault: CodeFraction, and CodeSum where the fractions miss 1 by more
// than a millionth.
func Mixture(parts []Part) (Gas, error) {
	mixed, sum := Gas{code: Mixed}, 0.0
	for _, p := range parts {
		if !(p.Fraction >= 0 && p.Fraction <= 1) {
			return Gas{}, &quantity.Fault{Code: CodeFraction, Field: "fraction"}
		}
		sum += p.Fraction
		mixed.add(p)
	}
	if math.Abs(sum-1) > 1e-6 {
		return Gas{}, &quantity.Fault{Code: CodeSum, Field: "fraction"}
	}
	return mixed, nil
}

// add puts the species of p into g, each with its share of the whole.
func (g *Gas) add(p Part) {
	for _, s := range p.Gas.known() {
		if p.Fraction > 0 {
			g.parts = append(g.parts, part{s.species, s.share * p.Fraction})
		}
	}
}

// Moist is air with a mole fraction of water vapour, 0 to 1: its partial
// pressure over the pressure of the air. The error is a *quantity.Fault of CodeFraction.
func Moist(water float64) (Gas, error) {
	dry, vapour := Gas{parts: []part{{find(Air), 1}}}, Gas{parts: []part{{find(WaterVapour), 1}}}
	g, err := Mixture([]Part{{vapour, water}, {dry, 1 - water}})
	if err != nil {
		return Gas{}, err
	}
	g.code = MoistAir
	return g, nil
}

// known are the parts of g, of which every Gas has one.
func (g Gas) known() []part {
	if len(g.parts) == 0 {
		panic("gas: a Gas comes from Of, Mixture or Moist")
	}
	return g.parts
}
