package call

import (
	"jointwalk/calc/flow"
	"jointwalk/calc/quantity"
)

// condition is what drives gas through a leak.
var condition = []Field{
	{Name: "inside", Max: 1e8, Doc: "pressure on the one side, Pa absolute"},
	{Name: "outside", Max: 1e8, Doc: "pressure on the other side, Pa absolute"},
	{Name: "temperature", Min: 250, Max: 500, Doc: "of the gas, K"},
	{Name: "gas", Is: Word, Words: driving},
}

// pathLength is the assumed length of a leak's channel.
var pathLength = Field{Name: "length", Min: 1e-6, Max: 10, May: true, Doc: "m; 0.005 where left out"}

var regimeOut = []Field{
	{Name: "code", Is: Text, Doc: "molecular, transition, slip, laminar, unsettled or turbulent"},
	{Name: "knudsen"}, {Name: "reynolds"}, {Name: "choked", Is: Flag},
}

var flows = []Entry{{
	Name: "path", About: "Flow through a channel or a hole", do: through,
	In: []Field{{Name: "diameter", Min: 1e-9, Max: 0.1, Doc: "m"}, pathLength, {Name: "condition", Is: Object, Of: condition}},
	Out: []Field{
		{Name: "laminar", Doc: "mol/s"}, {Name: "molecular", Doc: "mol/s"}, {Name: "transition", Doc: "mol/s"},
		{Name: "orifice", Doc: "of a short hole of that diameter, mol/s"},
		{Name: "regime", Is: Object, Of: regimeOut, Doc: "of the flow in transition"},
	},
}, {
	Name: "width", About: "Equivalent diameter of a leak", do: width,
	In: []Field{{Name: "rate", Min: 1e-20, Max: 1, Doc: "mol/s"}, pathLength, {Name: "condition", Is: Object, Of: condition}},
	Out: []Field{
		{Name: "channel", Doc: "of a laminar channel of the assumed length, m"}, {Name: "hole", Doc: "of a short hole, m"},
		{Name: "length", Doc: "that was assumed, m"}, {Name: "regime", Is: Object, Of: regimeOut, Doc: "in the channel"},
	},
}, {
	Name: "carry", About: "A leak under another condition", do: carry,
	In: []Field{
		{Name: "joint", Is: Text, Max: 40, Doc: "kind of the joint"},
		{Name: "from", Is: Object, Of: condition}, {Name: "to", Is: Object, Of: condition},
	},
	Out: []Field{
		{Name: "cannot", Is: Text, May: true, Doc: "the reason why it cannot be carried over"},
		{Name: "low", May: true, Doc: "lowest factor of the models that have weight"},
		{Name: "high", May: true, Doc: "highest factor of the models that have weight"},
		{Name: "models", Is: Objects, May: true, Of: []Field{
			{Name: "model", Is: Text}, {Name: "weight", Doc: "how far it is believed of this kind of joint: judgement"}, {Name: "factor"},
		}},
	},
}}

// driven is a condition by its name.
func (in args) driven(name string) (flow.Condition, error) {
	c := in.object(name)
	g, err := gasOf(c.text("gas"), 0)
	if err != nil {
		return flow.Condition{}, err
	}
	t := of[quantity.Temperature](c, "temperature")
	mu, err := g.Viscosity(t)
	return flow.Condition{
		Inside: of[quantity.Absolute](c, "inside"), Outside: of[quantity.Absolute](c, "outside"), Temperature: t,
		Gas: flow.Gas{MolarMass: g.MolarMass(), Viscosity: mu, HeatRatio: g.HeatRatio()},
	}, err
}

func through(in args) (answer, error) {
	c, err := in.driven("condition")
	if err != nil {
		return nil, err
	}
	d := of[quantity.Length](in, "diameter")
	channel := flow.Channel{Diameter: d, Length: or(in, "length", flow.UsualLength)}
	var out answer
	var last quantity.MolarFlow
	for _, model := range []struct {
		name string
		flow func(flow.Condition) (quantity.MolarFlow, error)
	}{{"laminar", channel.Laminar}, {"molecular", channel.Molecular}, {"orifice", flow.Hole(d).Flow}, {"transition", channel.Transition}} {
		if last, err = model.flow(c); err != nil {
			return nil, err
		}
		out = append(out, pair{model.name, float64(last)})
	}
	r, err := flow.RegimeOf(d, last, c)
	return append(out, pair{"regime", regime(r)}), err
}

func regime(r flow.Regime) answer {
	return answer{{"code", r.Code}, {"knudsen", r.Knudsen}, {"reynolds", r.Reynolds}, {"choked", r.Choked}}
}

func width(in args) (answer, error) {
	c, err := in.driven("condition")
	if err != nil {
		return nil, err
	}
	rate, length := of[quantity.MolarFlow](in, "rate"), or(in, "length", flow.UsualLength)
	channel, err := flow.LaminarChannel(rate, length, c)
	if err != nil {
		return nil, err
	}
	hole, err := flow.Hole(1).Sized(rate, c)
	if err != nil {
		return nil, err
	}
	r, err := flow.RegimeOf(channel.Diameter, rate, c)
	return answer{
		{"channel", float64(channel.Diameter)}, {"hole", float64(hole.Diameter())}, {"length", float64(length)}, {"regime", regime(r)},
	}, err
}

func carry(in args) (answer, error) {
	from, err := in.driven("from")
	if err != nil {
		return nil, err
	}
	to, err := in.driven("to")
	if err != nil {
		return nil, err
	}
	c, err := flow.Carry(in.text("joint"), from, to)
	if err != nil || c.Cannot != "" {
		return answer{{"cannot", c.Cannot}}, err
	}
	models := make([]answer, len(c.Shares))
	for i, s := range c.Shares {
		models[i] = answer{{"model", s.Model}, {"weight", s.Weight}, {"factor", s.Factor}}
	}
	return answer{{"low", c.Low}, {"high", c.High}, {"models", models}}, nil
}
