package summary

import (
	"jointwalk/calc/quantity"
	"jointwalk/calc/unseen"
	"jointwalk/sync/record"
)

// unseenIn bounds what the test side's joints with nothing seen in a round may
// still leak together; nil when there are none.
func unseenIn(f *record.FixtureState, r *record.RoundState) *Unseen {
	looks := noneLooks(f, r)
	if len(looks) == 0 {
		return nil
	}
	out := &Unseen{Joints: len(looks)}
	bound, err := unseen.Together(looks)
	switch {
	case err != nil:
		out.CannotSay = codeOf(err)
	case bound.Cannot != "":
		out.CannotSay = bound.Cannot
	default:
		out.bound(bound.Upper, f, r)
	}
	return out
}

func (u *Unseen) bound(upper quantity.MolarFlow, f *record.FixtureState, r *record.RoundState) {
	y := yardOf(sceneOf(f, r, "").program, ambientOf(r.Conditions))
	u.High, u.Unit, u.Ref = y.number(upper), y.unit, y.ref
	if y.limit > 0 {
		u.Share = percent(float64(upper) / float64(y.limit))
	}
}

// noneLooks are the looks of a round, on the test side, that stand at "nothing
// seen".
func noneLooks(f *record.FixtureState, r *record.RoundState) []unseen.Look {
	var looks []unseen.Look
	for _, j := range f.Joints {
		in := looksIn(j, r.ID)
		if j.Circuit != "test" || len(in) == 0 || markInRound(in) != Ring {
			continue
		}
		looks = append(looks, lookOf(in[len(in)-1], r))
	}
	return looks
}

func lookOf(l *record.LookState, r *record.RoundState) unseen.Look {
	look := unseen.Look{
		Time: quantity.Duration(l.Seconds), Sight: unseen.Close, Stayed: l.Stayed, Around: l.Back,
		Ambient: ambientOf(r.Conditions),
	}
	if p, err := quantity.From[quantity.Gauge](r.Conditions.Pressure.Value, r.Conditions.Pressure.Unit); err == nil {
		look.Path = unseen.WetPath(p)
		if r.Conditions.Wetted == "before" {
			look.Path = look.Path.Filled()
		}
	}
	return look
}
