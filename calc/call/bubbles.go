package call

import (
	"jointwalk/calc/bubble"
	"jointwalk/calc/class"
	"jointwalk/calc/collect"
	"jointwalk/calc/dome"
	"jointwalk/calc/estimate"
	"jointwalk/calc/froth"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
)

// scene is under what something was seen.
var scene = Field{Name: "scene", Is: Object, May: true, Of: []Field{
	{Name: "pressure", Min: 50000, Max: 300000, May: true, Doc: "barometric, Pa; 101325 where left out"},
	{Name: "temperature", Min: 223.15, Max: 333.15, May: true, Doc: "K; 293.15 where left out"},
	{Name: "gas", Is: Word, Words: driving, May: true, Doc: "air where left out"},
}}

// oneSize is that of a bubble.
var oneSize = []Field{
	{Name: "size", Min: 1e-5, Max: 0.1, Doc: "diameter of a bubble, m"},
	{Name: "sizeU", Max: 0.1, Doc: "its standard uncertainty, m"},
}

// count is how many bubbles came in which time.
var count = []Field{
	{Name: "way", Is: Word, Words: "window,intervals,taps"},
	{Name: "n", Is: Whole, Min: 1, Max: 100000, May: true, Doc: "bubbles in the window, or intervals"},
	{Name: "time", Min: 0.05, Max: 1e6, May: true, Doc: "s"},
	{Name: "clock", Max: 1000, May: true, Doc: "standard uncertainty of the time, s; a hand's where left out"},
	{Name: "taps", Is: Numbers, Min: 2, Max: 1000, May: true, Doc: "s, ascending"},
}

var estimateOut = []Field{
	{Name: "rate", Is: Object, Of: figureOut, Doc: "mol/s"},
	{Name: "flow", Is: Object, Of: figureOut, Doc: "at ambient pressure and temperature, m3/s"},
	{Name: "budget", Is: Objects, Of: budgetOut, Doc: "percent of the variance of the logarithm"},
	{Name: "dominant", Is: Text, Doc: "input with the largest part; empty where nothing varies"},
	{Name: "advice", Is: Text, May: true, Doc: "count-on, size-again or enough"},
	{Name: "atLeast", Is: Flag, Doc: "the leak is this or more"},
	{Name: "warnings", Is: Texts},
}

var bubbles = []Entry{{
	Name: "train", About: "The leak rate of a train of bubbles, up to three of them sized", do: train, Out: estimateOut,
	In: append(oneSize, []Field{
		{Name: "more", Is: Objects, Min: 1, Max: bubble.Several - 1, Of: oneSize, May: true, Doc: "other bubbles of the same leak that were sized; the mean of all their volumes counts, and how far they differ"},
		{Name: "medium", Is: Word, Words: "film,water"},
		{Name: "count", Is: Object, Of: count},
		{Name: "depth", Max: 3, May: true, Doc: "of the water, m; counts with its vapour where it is above 0"},
		{Name: "depthU", Max: 1, May: true, Doc: "m"},
		scene,
	}...),
}, {
	Name: "dome", About: "The leak rate of one dome, or of one that bursts and comes back", do: domeOf, Out: estimateOut,
	In: []Field{
		{Name: "base", Min: 1e-5, Max: 0.1, Doc: "diameter of its base, m"},
		{Name: "baseU", Max: 0.1, Doc: "m"},
		{Name: "height", Max: 0.1, May: true, Doc: "m; 0.8 to 1.2 of the base's radius where left out"},
		{Name: "heightU", Max: 0.1, May: true, Doc: "m"},
		{Name: "time", Min: 0.05, Max: 1e6, May: true, Doc: "that it took to grow, s"},
		{Name: "clock", Max: 1000, May: true, Doc: "s"},
		{Name: "bursts", Is: Object, Of: count, May: true, Doc: "how often it burst"},
		scene,
	},
}, {
	Name: "froth", About: "The leak rate of froth that grows", do: frothOf, Out: estimateOut,
	In: []Field{
		{Name: "area", Min: 1e-8, Max: 1, Doc: "m2"},
		{Name: "areaU", Max: 1, Doc: "m2"},
		{Name: "height", Min: 1e-5, Max: 1, Doc: "by which it grew, m"},
		{Name: "heightU", Max: 1, Doc: "m"},
		{Name: "state", Is: Word, Words: "fresh,drained"},
		{Name: "time", Min: 0.05, Max: 1e6, Doc: "s"},
		{Name: "clock", Max: 1000, Doc: "s"},
		scene,
	},
}, {
	Name: "collected", About: "The leak rate of gas collected in a measure", do: collected, Out: estimateOut,
	In: []Field{
		{Name: "volume", Min: 1e-10, Max: 1, Doc: "m3"},
		{Name: "volumeU", Max: 1, Doc: "m3"},
		{Name: "time", Min: 0.05, Max: 1e6, Doc: "s"},
		{Name: "clock", Max: 1000, Doc: "s"},
		{Name: "over", Is: Word, Words: "water,dry"},
		{Name: "head", Min: -2, Max: 2, May: true, Doc: "level in the measure over that outside, m"},
		{Name: "headU", Max: 0.2, May: true, Doc: "m"},
		{Name: "temperatureU", Max: 5, May: true, Doc: "of the gas, K"},
		scene,
	},
}, {
	Name: "class", About: "The leak rate of a class of bubbles", do: classOf, Out: estimateOut,
	In: []Field{{Name: "class", Is: Word, Words: "froth-creeping,string,growing-bursting,heard,blown-off"}, scene},
}}

// ambient is where the gas comes out, and whether it passes through a film.
func (in args) ambient() (at gas.Ambient, passes bool, err error) {
	s := in.object("scene")
	at = gas.Ambient{Pressure: or(s, "pressure", gas.Usual().Pressure), Temperature: or(s, "temperature", gas.Usual().Temperature)}
	if code := s.text("gas"); code != "" {
		var g gas.Gas
		if g, err = gas.Of(code); err == nil {
			passes = g.Permeates()
		}
	}
	return at, passes, err
}

func countOf(in args) bubble.Count {
	way := bubble.Way(in.text("way"))
	if way != bubble.ByTaps {
		clock := or(in, "clock", bubble.ClockByHand)
		return bubble.Count{Way: way, N: int(in.number("n")), Time: of[quantity.Duration](in, "time"), Clock: clock}
	}
	taps, _ := in["taps"].([]any)
	at := make([]quantity.Duration, len(taps))
	for i, tap := range taps {
		seconds, _ := tap.(float64)
		at[i] = quantity.Duration(seconds)
	}
	return bubble.Taps(at, or(in, "clock", bubble.ClockOfTaps))
}

// sizeOf is the size that stands for all bubbles that were sized.
func sizeOf(in args) (bubble.Size, error) {
	var sizes []bubble.Size
	for _, one := range append([]args{in}, in.objects("more")...) {
		size := bubble.Size{Diameter: of[quantity.Length](one, "size"), U: of[quantity.Length](one, "sizeU")}
		if err := size.Check(); err != nil {
			return size, err
		}
		sizes = append(sizes, size)
	}
	return bubble.OfSeveral(sizes), nil
}

func train(in args) (answer, error) {
	at, passes, err := in.ambient()
	if err != nil {
		return nil, err
	}
	size, err := sizeOf(in)
	if err != nil {
		return nil, err
	}
	t := bubble.Train{Medium: bubble.Medium(in.text("medium")), Size: size, Count: countOf(in.object("count")), Ambient: at, Passes: passes}
	if depth := of[quantity.Length](in, "depth"); depth > 0 {
		t.Under = &bubble.Immersion{Depth: depth, DepthU: of[quantity.Length](in, "depthU")}
	}
	e, err := t.Estimate()
	if err != nil {
		return nil, err
	}
	return append(told(e.Estimate), pair{"advice", e.Advice}), nil
}

func domeOf(in args) (answer, error) {
	at, passes, err := in.ambient()
	if err != nil {
		return nil, err
	}
	c := dome.Cap{
		Base:   bubble.Size{Diameter: of[quantity.Length](in, "base"), U: of[quantity.Length](in, "baseU")},
		Height: of[quantity.Length](in, "height"), HeightU: of[quantity.Length](in, "heightU"),
	}
	if bursts := in.object("bursts"); bursts != nil {
		return tell(dome.Bursting{Cap: c, Count: countOf(bursts), Ambient: at, Passes: passes}.Estimate())
	}
	time, clock := of[quantity.Duration](in, "time"), of[quantity.Duration](in, "clock")
	return tell(dome.Grown{Cap: c, Time: time, Clock: clock, Ambient: at, Passes: passes}.Estimate())
}

func frothOf(in args) (answer, error) {
	at, passes, err := in.ambient()
	if err != nil {
		return nil, err
	}
	return tell(froth.Froth{
		Area: of[quantity.Area](in, "area"), AreaU: of[quantity.Area](in, "areaU"),
		Height: of[quantity.Length](in, "height"), HeightU: of[quantity.Length](in, "heightU"), State: froth.State(in.text("state")),
		Time: of[quantity.Duration](in, "time"), Clock: of[quantity.Duration](in, "clock"), Ambient: at, Passes: passes,
	}.Estimate())
}

func collected(in args) (answer, error) {
	at, _, err := in.ambient()
	if err != nil {
		return nil, err
	}
	return tell(collect.Measure{
		Volume: of[quantity.Volume](in, "volume"), VolumeU: of[quantity.Volume](in, "volumeU"),
		Time: of[quantity.Duration](in, "time"), Clock: of[quantity.Duration](in, "clock"), Over: in.text("over") == "water",
		Head: of[quantity.Length](in, "head"), HeadU: of[quantity.Length](in, "headU"), Ambient: at,
		TemperatureU: of[quantity.Temperature](in, "temperatureU"),
	}.Estimate())
}

func classOf(in args) (answer, error) {
	at, passes, err := in.ambient()
	if err != nil {
		return nil, err
	}
	return tell(class.Seen{Class: class.Class(in.text("class")), Ambient: at, Passes: passes}.Estimate())
}

func tell(e estimate.Estimate, err error) (answer, error) {
	if err != nil {
		return nil, err
	}
	return told(e), nil
}

func told(e estimate.Estimate) answer {
	budget := make([]answer, len(e.Budget))
	for i, p := range e.Budget {
		budget[i] = part(p.Input, p.Percent)
	}
	return answer{
		{"rate", figure(e.Molar)}, {"flow", figure(e.Volume)}, {"budget", budget}, {"dominant", e.Dominant},
		{"atLeast", e.AtLeast}, {"warnings", e.Warnings},
	}
}
