package call

import "jointwalk/calc/quantity"

const kinds = "length,area,volume,volume-flow,leak-rate,pressure,temperature,duration,energy,force,viscosity,surface-tension,molar-mass"

var units = []Entry{{
	Name: "convert", About: "A number from one unit to another", do: convert,
	In: []Field{
		{Name: "text", Is: Text, Max: 32, Doc: "the number as typed: comma or dot, inches also as fractions"},
		{Name: "kind", Is: Word, Words: kinds},
		{Name: "from", Is: Text, Max: 40, Doc: "unit, a leak rate's with its reference: std cm3/min@20C"},
		{Name: "to", Is: Text, Max: 40, Doc: "unit; SI for that of the kind"},
	},
	Out: []Field{
		{Name: "value"}, {Name: "unit", Is: Text}, {Name: "si", Doc: "the value in SI"},
		{Name: "ucum", Is: Text, May: true, Doc: "the unit's UCUM code, where it has one"},
	},
}}

func convert(in args) (answer, error) {
	switch quantity.Kind(in.text("kind")) {
	case quantity.KindLength:
		return converted[quantity.Length](in)
	case quantity.KindArea:
		return converted[quantity.Area](in)
	case quantity.KindVolume:
		return converted[quantity.Volume](in)
	case quantity.KindVolumeFlow:
		return converted[quantity.VolumeFlow](in)
	case quantity.KindLeakRate:
		return converted[quantity.MolarFlow](in)
	case quantity.KindTemperature:
		return converted[quantity.Temperature](in)
	case quantity.KindDuration:
		return converted[quantity.Duration](in)
	case quantity.KindEnergy:
		return converted[quantity.Energy](in)
	case quantity.KindForce:
		return converted[quantity.Force](in)
	case quantity.KindViscosity:
		return converted[quantity.Viscosity](in)
	case quantity.KindTension:
		return converted[quantity.Tension](in)
	case quantity.KindMolarMass:
		return converted[quantity.MolarMass](in)
	default:
		return converted[quantity.Gauge](in)
	}
}

func converted[Q quantity.Quantity](in args) (answer, error) {
	q, err := quantity.Parse[Q](in.text("text"), in.text("from"))
	if err != nil {
		return nil, err
	}
	to := in.text("to")
	if to == "SI" {
		to = quantity.SI(quantity.Kind(in.text("kind")))
	}
	v, err := quantity.In(q, to)
	out := answer{{"value", v}, {"unit", to}, {"si", float64(q)}}
	if ucum := quantity.UCUM(to); ucum != "" {
		out = append(out, pair{"ucum", ucum})
	}
	return out, err
}
