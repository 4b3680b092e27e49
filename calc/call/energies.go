package call

import (
	"jointwalk/calc/energy"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
)

var energies = []Entry{{
	Name: "stored-energy", About: "Energy that gas in a volume can set free", do: stored,
	In: []Field{
		{Name: "pressure", Min: -300000, Max: 1e8, Doc: "Pa, gauge"},
		{Name: "ambient", Min: 50000, Max: 300000, May: true, Doc: "Pa; 101325 where left out"},
		{Name: "volume", Min: 1e-9, Max: 1000, Doc: "m3"}, {Name: "gas", Is: Word, Words: driving},
	},
	Out: []Field{{Name: "energy", Doc: "J"}},
}, {
	Name: "seal-force", About: "Force of the pressure on a round seal", do: pushed,
	In:  []Field{{Name: "pressure", Min: -300000, Max: 1e8, Doc: "Pa, gauge"}, {Name: "diameter", Min: 1e-5, Max: 10, Doc: "m"}},
	Out: []Field{{Name: "force", Doc: "N; below zero it pulls"}},
}}

func stored(in args) (answer, error) {
	g, err := gas.Of(in.text("gas"))
	if err != nil {
		return nil, err
	}
	e, err := energy.Vessel{
		Pressure: of[quantity.Gauge](in, "pressure"), Ambient: or(in, "ambient", quantity.Atmosphere),
		Volume: of[quantity.Volume](in, "volume"), HeatRatio: g.HeatRatio(),
	}.Stored()
	return answer{{"energy", float64(e)}}, err
}

func pushed(in args) (answer, error) {
	f, err := energy.Push(of[quantity.Gauge](in, "pressure"), of[quantity.Length](in, "diameter"))
	return answer{{"force", float64(f)}}, err
}
