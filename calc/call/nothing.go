package call

import (
	"jointwalk/calc/quantity"
	"jointwalk/calc/unseen"
)

// look is how one joint was watched without a bubble.
var look = []Field{
	{Name: "time", Max: 1e6, May: true, Doc: "s, wet and under pressure"},
	{Name: "light", Is: Word, Words: "bright,dim"},
	{Name: "access", Is: Word, Words: "magnified,near,far"},
	{Name: "stayed", Is: Flag, Doc: "whether the solution stayed all that time"},
	{Name: "around", Is: Flag, Doc: "whether it was seen all round"},
	{Name: "pressure", Min: -200000, Max: 1e8, May: true, Doc: "Pa, gauge; plugging is left out of account where left out"},
	{Name: "wetted", Is: Word, Words: "after,before", May: true, Doc: "whether the solution came after the pressure; after where left out"},
}

var nothing = []Entry{{
	Name: "unseen", About: "What nothing seen at joints says of the sum of their leaks", do: unseenOf,
	In: []Field{{Name: "looks", Is: Objects, Min: 1, Max: 500, Of: look}, scene},
	Out: []Field{
		{Name: "cannot", Is: Text, May: true, Doc: "the reason why nothing can be said"},
		{Name: "upper", May: true, Doc: "95 % upper limit of the sum of the leaks, mol/s"},
		{Name: "flow", May: true, Doc: "at ambient pressure and temperature, m3/s"},
		{Name: "from", Is: Text, May: true, Doc: "clock or plugging"},
		{Name: "smallest", May: true, Doc: "diameter of the smallest bubble that would have been seen, m"},
	},
}, {
	Name: "look-time", About: "How long to look so that nothing seen bounds the sum of the leaks", do: lookTime,
	In: []Field{
		{Name: "looks", Is: Objects, Min: 1, Max: 500, Of: look, Doc: "their times do not count"},
		{Name: "sum", Min: 1e-18, Max: 1, Doc: "that the sum of the leaks is to be bounded by, mol/s"},
		scene,
	},
	Out: []Field{
		{Name: "cannot", Is: Text, May: true, Doc: "the reason why no time does it"},
		{Name: "time", May: true, Doc: "s, each joint"},
	},
}}

// looks are a group's looks as they are reckoned with.
func (in args) looks() ([]unseen.Look, error) {
	at, _, err := in.ambient()
	var looks []unseen.Look
	for _, l := range in.objects("looks") {
		look := unseen.Look{
			Time: of[quantity.Duration](l, "time"), Stayed: l.flag("stayed"), Around: l.flag("around"), Ambient: at,
			Smallest: unseen.SmallestSeen(unseen.Light(l.text("light")), unseen.Access(l.text("access"))),
		}
		if pressure, there := l["pressure"].(float64); there {
			look.Path = unseen.WetPath(quantity.Gauge(pressure))
			if l.text("wetted") == "before" {
				look.Path = look.Path.Filled()
			}
		}
		looks = append(looks, look)
	}
	return looks, err
}

func unseenOf(in args) (answer, error) {
	looks, err := in.looks()
	if err != nil {
		return nil, err
	}
	b, err := unseen.Together(looks)
	if b.Cannot != "" {
		return answer{{"cannot", b.Cannot}}, err
	}
	return answer{{"upper", float64(b.Upper)}, {"flow", float64(b.Volume)}, {"from", b.From}, {"smallest", float64(b.Smallest)}}, err
}

func lookTime(in args) (answer, error) {
	looks, err := in.looks()
	if err != nil {
		return nil, err
	}
	n, err := unseen.TimeFor(looks, of[quantity.MolarFlow](in, "sum"))
	if n.Cannot != "" {
		return answer{{"cannot", n.Cannot}}, err
	}
	return answer{{"time", float64(n.Time)}}, err
}
