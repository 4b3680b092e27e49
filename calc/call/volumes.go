package call

import (
	"jointwalk/calc/decay"
	"jointwalk/calc/quantity"
)

var volumeOut = []Field{{Name: "volume", Is: Object, Of: figureOut, Doc: "m3"}}

var volumes = []Entry{{
	Name: "volume-by-leak", About: "A volume from the drop of a known leak", do: volumeByLeak, Out: volumeOut,
	In: []Field{
		{Name: "rate", Min: 1e-18, Max: 1, Doc: "under the test's conditions, mol/s"}, {Name: "rateU", Max: 1, Doc: "mol/s"},
		{Name: "more", Min: 1e-6, Max: 1e8, Doc: "by which the pressure dropped more with the leak open, Pa"}, {Name: "moreU", Max: 1e8, Doc: "Pa"},
		{Name: "time", Min: 0.01, Max: 1e6, Doc: "s"}, {Name: "timeU", Max: 1e6, May: true, Doc: "s"},
		{Name: "temperature", Min: 200, Max: 500, Doc: "of the gas, K"}, {Name: "temperatureU", Max: 50, May: true, Doc: "K"},
	},
}, {
	Name: "volume-by-expansion", About: "A volume from gas let into it", do: volumeByExpansion, Out: volumeOut,
	In: []Field{
		{Name: "known", Min: 1e-9, Max: 1000, Doc: "m3"}, {Name: "knownU", Max: 1000, Doc: "m3"},
		{Name: "before", Min: 1, Max: 1e8, Doc: "pressure in the known volume before, Pa absolute"}, {Name: "beforeU", Max: 1e8, Doc: "Pa"},
		{Name: "other", Min: 1, Max: 1e8, Doc: "pressure in the other volume before, Pa absolute"}, {Name: "otherU", Max: 1e8, Doc: "Pa"},
		{Name: "after", Min: 1, Max: 1e8, Doc: "settled pressure in both, Pa absolute"}, {Name: "afterU", Max: 1e8, Doc: "Pa"},
	},
}, {
	Name: "slope", About: "Leak rate from a record of pressure and temperature", do: slope,
	In: []Field{
		{Name: "volume", Min: 1e-9, Max: 1000, Doc: "m3"}, {Name: "volumeU", Max: 1000, Doc: "m3"},
		{Name: "samples", Is: Objects, Min: 3, Max: 10000, Of: []Field{
			{Name: "time", Max: 1e9, Doc: "s"}, {Name: "pressure", Min: 1, Max: 1e8, Doc: "Pa, absolute"},
			{Name: "temperature", Min: 200, Max: 500, Doc: "K"},
		}},
	},
	Out: []Field{{Name: "rate", Doc: "mol/s"}, {Name: "u", Doc: "standard uncertainty, mol/s"}, {Name: "degreesOfFreedom"}},
}}

// measured is the number of a name with its uncertainty.
func measured[Q ~float64](in args, name string) decay.Measured[Q] {
	return decay.Measured[Q]{Value: of[Q](in, name), U: of[Q](in, name+"U")}
}

func volumeByLeak(in args) (answer, error) {
	f, err := decay.KnownLeak{
		Rate: measured[quantity.MolarFlow](in, "rate"), More: measured[quantity.Drop](in, "more"),
		Time: measured[quantity.Duration](in, "time"), Temperature: measured[quantity.Temperature](in, "temperature"),
	}.Volume()
	return answer{{"volume", figure(f)}}, err
}

func volumeByExpansion(in args) (answer, error) {
	f, err := decay.Expansion{
		Known: measured[quantity.Volume](in, "known"), Before: measured[quantity.Absolute](in, "before"),
		Other: measured[quantity.Absolute](in, "other"), After: measured[quantity.Absolute](in, "after"),
	}.Volume()
	return answer{{"volume", figure(f)}}, err
}

func slope(in args) (answer, error) {
	var samples []decay.Sample
	for _, s := range in.objects("samples") {
		samples = append(samples, decay.Sample{Time: of[quantity.Duration](s, "time"), State: s.moment()})
	}
	s, err := decay.SlopeOf(measured[quantity.Volume](in, "volume"), samples)
	return answer{{"rate", float64(s.Rate)}, {"u", float64(s.U)}, {"degreesOfFreedom", s.DegreesOfFreedom}}, err
}
