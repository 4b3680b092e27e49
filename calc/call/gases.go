package call

import (
	"jointwalk/calc/air"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/calc/water"
)

const driving = "air,nitrogen,helium,argon,carbon-dioxide,hydrogen-5-nitrogen,oxygen,hydrogen"

var gases = []Entry{{
	Name: "gas", About: "Properties of a gas", do: properties,
	In: []Field{
		{Name: "gas", Is: Word, Words: driving + ",water-vapour"},
		{Name: "water", Max: 0.1, May: true, Doc: "mole fraction of water vapour in air; for air only"},
		{Name: "temperature", Min: 250, Max: 500, Doc: "K"},
		{Name: "pressure", Min: 1, Max: 1e7, Doc: "Pa, absolute"},
	},
	Out: []Field{
		{Name: "molarMass", Doc: "kg/mol"}, {Name: "viscosity", Doc: "Pa s"}, {Name: "heatRatio"}, {Name: "density", Doc: "kg/m3"},
		{Name: "meanSpeed", Doc: "m/s"}, {Name: "freePath", Doc: "m"},
		{Name: "passesFilm", Is: Flag, Doc: "whether it passes through a film of solution"},
	},
}, {
	Name: "barometer", About: "Pressure of the standard atmosphere at an altitude", do: barometer,
	In: []Field{
		{Name: "altitude", Min: -5000, Max: 11000, Doc: "m above sea level"},
		{Name: "geopotential", Is: Flag, May: true, Doc: "the altitude is a geopotential one"},
	},
	Out: []Field{{Name: "pressure", Doc: "Pa"}, {Name: "temperature", Doc: "K"}},
}, {
	Name: "water", About: "Surface tension, vapour pressure and density of water", do: waterOf,
	In:  []Field{{Name: "temperature", Min: 273.15, Max: 373.15, Doc: "K"}},
	Out: []Field{{Name: "tension", Doc: "N/m"}, {Name: "vapour", Doc: "Pa, saturated"}, {Name: "density", Doc: "kg/m3"}},
}}

// gasOf is a gas by its code, with water in it.
func gasOf(code string, water float64) (gas.Gas, error) {
	if water > 0 && code == gas.Air {
		return gas.Moist(water)
	}
	return gas.Of(code)
}

func properties(in args) (answer, error) {
	g, err := gasOf(in.text("gas"), in.number("water"))
	if err != nil {
		return nil, err
	}
	t, p := of[quantity.Temperature](in, "temperature"), of[quantity.Absolute](in, "pressure")
	mu, err := g.Viscosity(t)
	if err != nil {
		return nil, err
	}
	density, err := g.Density(t, p)
	if err != nil {
		return nil, err
	}
	speed, err := g.MeanSpeed(t)
	if err != nil {
		return nil, err
	}
	path, err := g.MeanFreePath(t, p)
	return answer{
		{"molarMass", float64(g.MolarMass())}, {"viscosity", float64(mu)}, {"heatRatio", g.HeatRatio()}, {"density", density},
		{"meanSpeed", speed}, {"freePath", float64(path)}, {"passesFilm", g.Permeates()},
	}, err
}

func barometer(in args) (answer, error) {
	h := of[air.Altitude](in, "altitude")
	if !in.flag("geopotential") {
		h = air.Geometric(quantity.Length(h))
	}
	p, err := h.Pressure()
	if err != nil {
		return nil, err
	}
	t, err := h.Temperature()
	return answer{{"pressure", float64(p)}, {"temperature", float64(t)}}, err
}

func waterOf(in args) (answer, error) {
	t := of[quantity.Temperature](in, "temperature")
	tension, err := water.Tension(t)
	if err != nil {
		return nil, err
	}
	vapour, err := water.SaturationPressure(t)
	if err != nil {
		return nil, err
	}
	density, err := water.Density(t)
	return answer{{"tension", float64(tension)}, {"vapour", float64(vapour)}, {"density", density}}, err
}
