package summary

import (
	"jointwalk/calc/quantity"
	"jointwalk/calc/unseen"
	"jointwalk/sync/record"
)

// unseenIn bounds what the test side's joints with nothing seen in a round may
// still leak together; nil when there are none.
func unseenIn(f *record.FixtureState, r *record.RoundState) *Unseen {
	bounding, beside := noneLooks(f, r, nil)
	out := &Unseen{Joints: len(bounding), Beside: len(beside)}
	switch {
	case len(bounding)+len(beside) == 0:
		return nil
	case len(bounding) == 0: // the reason stands for all
		bounding, out.Joints, out.Beside = beside, len(beside), 0
	}
	bound, err := unseen.Together(quantities(bounding, r))
	switch {
	case err != nil:
		out.CannotSay = codeOf(err)
	case bound.Cannot != "":
		out.CannotSay = bound.Cannot
	default:
		out.bound(bound.Upper, f, r)
		out.Weak = weak(bounding)
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

// noneLooks are the looks of a round, on the test side, at joints of which nothing
// worse stands than nothing seen: those that bound a leak, and those beside of which
// nothing can be said. Joints in without are left out.
func noneLooks(f *record.FixtureState, r *record.RoundState, without map[string]bool) (bounding, beside []*record.LookState) {
	for _, j := range f.Joints {
		in := looksIn(j, r.ID)
		if j.Circuit != "test" || len(in) == 0 || without[j.ID] {
			continue
		}
		last := in[len(in)-1]
		switch mark := markInRound(in); {
		case mark != Ring && mark != Half:
		case last.Bounds():
			bounding = append(bounding, last)
		default:
			beside = append(beside, last)
		}
	}
	return bounding, beside
}

// weak is how many of some looks were seen partly.
func weak(looks []*record.LookState) int {
	n := 0
	for _, l := range looks {
		if seenPartly(l) {
			n++
		}
	}
	return n
}

// seenPartly says whether a look was from afar, at a slant or in poor light.
func seenPartly(l *record.LookState) bool { return l.Sight != "" || l.Result == record.Partly }

// less is why a look at which nothing was seen says less than a good one, or
// nothing; "" for a good one, and for one at which something was seen.
func less(l *record.LookState) string {
	switch {
	case l.Result != record.None && l.Result != record.Partly:
		return ""
	case !l.Stayed:
		return unseen.CannotSolutionLeft
	case !l.Back:
		return unseen.CannotBackHidden
	case seenPartly(l):
		return string(unseen.Partly)
	}
	return ""
}

func quantities(looks []*record.LookState, r *record.RoundState) []unseen.Look {
	var out []unseen.Look
	for _, l := range looks {
		look := watchedIn(r)
		look.Time, look.Stayed, look.Around = quantity.Duration(l.Seconds), l.Stayed, l.Back
		if seenPartly(l) {
			look.Sight = unseen.Partly
		}
		if l.Filled() && look.Path != nil {
			look.Path = look.Path.Filled()
		}
		out = append(out, look)
	}
	return out
}

// watchedIn is a look under a round's conditions that was seen well, with no time yet.
func watchedIn(r *record.RoundState) unseen.Look {
	look := unseen.Look{Sight: unseen.Close, Stayed: true, Around: true, Ambient: ambientOf(r.Conditions)}
	if p, err := quantity.From[quantity.Gauge](r.Conditions.Pressure.Value, r.Conditions.Pressure.Unit); err == nil {
		look.Path = unseen.WetPath(p)
		if r.Conditions.Wetted == "before" {
			look.Path = look.Path.Filled()
		}
	}
	return look
}
