package call

import (
	"jointwalk/calc/decay"
	"jointwalk/calc/quantity"
)

// test is a closed volume watched for a time.
var test = []Field{
	{Name: "volume", Min: 1e-9, Max: 1000, Doc: "m3"},
	{Name: "time", Min: 0.01, Max: 1e6, Doc: "s"},
	{Name: "temperature", Min: 200, Max: 500, Doc: "of the gas, K"},
}

// moment is gas at a moment.
var moment = []Field{
	{Name: "pressure", Min: 1, Max: 1e8, Doc: "Pa, absolute"},
	{Name: "temperature", Min: 200, Max: 500, Doc: "K"},
}

var decayOut = []Field{{Name: "rate", Doc: "mol/s"}, {Name: "drop", Doc: "Pa"}}

var decays = []Entry{{
	Name: "decay-rate", About: "Leak rate of a drop of pressure", do: decayRate, Out: decayOut,
	In: []Field{{Name: "test", Is: Object, Of: test}, {Name: "drop", Min: -1e8, Max: 1e8, Doc: "Pa; below zero where the pressure rose"}},
}, {
	Name: "decay-drop", About: "Drop of pressure of a leak rate", do: decayDrop, Out: decayOut,
	In: []Field{{Name: "test", Is: Object, Of: test}, {Name: "rate", Min: -1, Max: 1, Doc: "mol/s"}},
}, {
	Name: "decay-two", About: "Leak rate between two moments with their temperatures", do: two,
	In: []Field{
		{Name: "volume", Min: 1e-9, Max: 1000, Doc: "m3"}, {Name: "time", Min: 0.01, Max: 1e6, Doc: "s"},
		{Name: "first", Is: Object, Of: moment}, {Name: "second", Is: Object, Of: moment},
	},
	Out: []Field{{Name: "rate", Doc: "mol/s"}},
}, {
	Name: "drift", About: "The temperature that fakes a drop", do: drift,
	In:  []Field{{Name: "state", Is: Object, Of: moment}, {Name: "drop", Min: -1e8, Max: 1e8, Doc: "Pa"}},
	Out: []Field{{Name: "perKelvin", Doc: "Pa/K"}, {Name: "kelvins", Doc: "by which the gas cools to drop so"}},
}, {
	Name: "tail", About: "How a fill settles", do: tail,
	In: []Field{
		{Name: "readings", Is: Objects, Min: 3, Max: 100, Of: []Field{
			{Name: "stabilised", Max: 1e6, Doc: "s"}, {Name: "drop", Min: -1e8, Max: 1e8, Doc: "Pa"},
			{Name: "u", Max: 1e8, May: true, Doc: "standard uncertainty, Pa; of all readings or of none"},
		}},
		{Name: "off", Min: 1e-6, Max: 1e8, May: true, Doc: "that a reading may be off by, Pa"},
	},
	Out: []Field{
		{Name: "settled", Doc: "Pa"}, {Name: "settledU", May: true, Doc: "Pa; null where the readings do not tell"},
		{Name: "tau", Doc: "s"}, {Name: "tauU", May: true, Doc: "s; null where the readings do not tell"},
		{Name: "wait", May: true, Doc: "s of stabilising until a reading is off by no more than was asked; null where nothing was"},
	},
}, {
	Name: "test-time", About: "The shortest time of a test", do: testTime,
	In: []Field{
		{Name: "volume", Min: 1e-9, Max: 1000, Doc: "m3"}, {Name: "temperature", Min: 200, Max: 500, Doc: "of the gas, K"},
		{Name: "pressure", Min: 1, Max: 1e8, Doc: "Pa, absolute"}, {Name: "limit", Min: 1e-18, Max: 1, Doc: "that rejects a part, mol/s"},
		{Name: "allowance", Min: 0.0001, Max: 1, Doc: "share of the limit that the station may leak"},
		{Name: "resolution", Min: 1e-6, Max: 1e6, Doc: "Pa"},
		{Name: "drift", Max: 10, Doc: "standard uncertainty of the gas's temperature, K/s"},
		{Name: "barometer", Max: 10000, Doc: "standard uncertainty of the ambient pressure's change, Pa/s"},
	},
	Out: []Field{
		{Name: "cannot", Is: Text, May: true, Doc: "the reason why no time does it"}, {Name: "time", May: true, Doc: "s"},
		{Name: "limitDrop", May: true, Doc: "Pa"}, {Name: "allowanceDrop", May: true, Doc: "Pa"},
		{Name: "u", May: true, Doc: "standard uncertainty of a reading, Pa"},
	},
}}

func (in args) test() decay.Test {
	t := in.object("test")
	return decay.Test{Volume: of[quantity.Volume](t, "volume"), Time: of[quantity.Duration](t, "time"), Temperature: of[quantity.Temperature](t, "temperature")}
}

func (in args) moment() decay.State {
	return decay.State{Pressure: of[quantity.Absolute](in, "pressure"), Temperature: of[quantity.Temperature](in, "temperature")}
}

func decayRate(in args) (answer, error) {
	drop := of[quantity.Drop](in, "drop")
	n, err := in.test().Rate(drop)
	return answer{{"rate", float64(n)}, {"drop", float64(drop)}}, err
}

func decayDrop(in args) (answer, error) {
	rate := of[quantity.MolarFlow](in, "rate")
	drop, err := in.test().Drop(rate)
	return answer{{"rate", float64(rate)}, {"drop", float64(drop)}}, err
}

func two(in args) (answer, error) {
	n, err := decay.Between(of[quantity.Volume](in, "volume"), of[quantity.Duration](in, "time"), in.object("first").moment(), in.object("second").moment())
	return answer{{"rate", float64(n)}}, err
}

func drift(in args) (answer, error) {
	s := in.object("state").moment()
	per, err := s.PerKelvin()
	if err != nil {
		return nil, err
	}
	kelvins, err := s.Faking(of[quantity.Drop](in, "drop"))
	return answer{{"perKelvin", float64(per)}, {"kelvins", kelvins}}, err
}

func tail(in args) (answer, error) {
	var readings []decay.Settling
	for _, r := range in.objects("readings") {
		readings = append(readings, decay.Settling{
			Stabilised: of[quantity.Duration](r, "stabilised"), Drop: of[quantity.Drop](r, "drop"), U: of[quantity.Drop](r, "u"),
		})
	}
	t, err := decay.TailOf(readings)
	if err != nil {
		return nil, err
	}
	out := answer{
		{"settled", float64(t.Settled)}, {"settledU", known(float64(t.SettledU))},
		{"tau", float64(t.Tau)}, {"tauU", known(float64(t.TauU))}, {"wait", nil},
	}
	if off := of[quantity.Drop](in, "off"); off > 0 {
		var wait quantity.Duration
		wait, err = t.Until(off)
		out[len(out)-1].value = float64(wait)
	}
	return out, err
}

// known is null for an uncertainty that nothing tells.
func known(u float64) any {
	if u < 0 {
		return nil
	}
	return u
}

func testTime(in args) (answer, error) {
	s, err := decay.Plan{
		Volume: of[quantity.Volume](in, "volume"), Temperature: of[quantity.Temperature](in, "temperature"),
		Pressure: of[quantity.Absolute](in, "pressure"), Limit: of[quantity.MolarFlow](in, "limit"), Allowance: in.number("allowance"),
		Resolution: of[quantity.Drop](in, "resolution"), Drift: in.number("drift"), Barometer: in.number("barometer"),
	}.Shortest()
	if err != nil || s.Cannot != "" {
		return answer{{"cannot", s.Cannot}}, err
	}
	return answer{
		{"time", float64(s.Time)}, {"limitDrop", float64(s.LimitDrop)}, {"allowanceDrop", float64(s.AllowanceDrop)}, {"u", float64(s.U)},
	}, nil
}
