package call

import (
	"math"

	"jointwalk/calc/gum"
	"jointwalk/calc/quantity"
	"jointwalk/calc/share"
	"jointwalk/calc/spread"
)

var statistics = []Entry{{
	Name: "poisson", About: "Exact limits of the mean of a count", do: poisson,
	In: []Field{
		{Name: "n", Is: Whole, Max: 100000},
		{Name: "confidence", Min: 0.5, Max: 0.9999, Doc: "one-sided, of each limit"},
	},
	Out: []Field{{Name: "lower"}, {Name: "upper"}},
}, {
	Name: "product", About: "Uncertainty of a product of powers, to first order", do: product,
	In: []Field{
		{Name: "constant", Min: -1e30, Max: 1e30},
		{Name: "factors", Is: Objects, Min: 1, Max: 20, Of: []Field{
			{Name: "name", Is: Text, Max: 40}, {Name: "value", Min: 1e-300, Max: 1e300, Doc: "above zero"},
			{Name: "u", Max: 1e300, Doc: "standard uncertainty"},
			{Name: "degreesOfFreedom", Min: 1, Max: 1e9, May: true, Doc: "unlimited where left out"}, {Name: "power", Min: -20, Max: 20},
		}},
		{Name: "probability", Min: 0.5, Max: 0.9999, May: true, Doc: "0.95 where left out"},
	},
	Out: []Field{
		{Name: "value"}, {Name: "u", Doc: "combined standard uncertainty"},
		{Name: "degreesOfFreedom", May: true, Doc: "effective; null for unlimited"}, {Name: "coverage", Doc: "factor k"},
		{Name: "expanded", Doc: "k u"}, {Name: "budget", Is: Objects, Of: budgetOut},
	},
}, {
	Name: "share", About: "A leak against limit and allowance", do: shares,
	In: []Field{
		{Name: "rate", Min: 1e-20, Max: 1, Doc: "mol/s"}, {Name: "limit", Min: 1e-20, Max: 1, Doc: "mol/s"},
		{Name: "allowance", Min: 0.0001, Max: 1, May: true, Doc: "share of the limit; 0.1 where left out"},
	},
	Out: []Field{{Name: "ofLimit", Doc: "1 is all of it"}, {Name: "ofAllowance", Doc: "1 is all of it"}, {Name: "allowance", Doc: "mol/s"}},
}}

func poisson(in args) (answer, error) {
	n, confidence := int(in.number("n")), in.number("confidence")
	return answer{{"lower", spread.LowerLimit(n, confidence)}, {"upper", spread.UpperLimit(n, confidence)}}, nil
}

func product(in args) (answer, error) {
	var m gum.Measurement
	value, slopes := in.number("constant"), []float64{}
	for _, f := range in.objects("factors") {
		m.Inputs = append(m.Inputs, gum.Input{Name: f.text("name"), Value: f.number("value"), U: f.number("u"), DoF: f.number("degreesOfFreedom")})
		value *= math.Pow(f.number("value"), f.number("power"))
	}
	for _, f := range in.objects("factors") {
		slopes = append(slopes, f.number("power")*value/f.number("value"))
	}
	r, err := m.Linear(value, slopes)
	if err != nil {
		return nil, err
	}
	p := or(in, "probability", 0.95)
	return answer{
		{"value", r.Value}, {"u", r.U}, {"degreesOfFreedom", limited(r.DoF)}, {"coverage", r.Factor(p)}, {"expanded", r.Expanded(p)},
		{"budget", budget(r.Budget)},
	}, nil
}

func budget(parts []gum.Part) []answer {
	out := make([]answer, len(parts))
	for i, p := range parts {
		out[i] = part(p.Input, p.Percent)
	}
	return out
}

// limited is null for what has no limit.
func limited(v float64) any {
	if math.IsInf(v, 1) {
		return nil
	}
	return v
}

func shares(in args) (answer, error) {
	rate, limit := of[quantity.MolarFlow](in, "rate"), of[quantity.MolarFlow](in, "limit")
	allowance, err := share.Allowance(limit, or(in, "allowance", share.UsualAllowance))
	if err != nil {
		return nil, err
	}
	return answer{{"ofLimit", float64(rate / limit)}, {"ofAllowance", float64(rate / allowance)}, {"allowance", float64(allowance)}}, nil
}
