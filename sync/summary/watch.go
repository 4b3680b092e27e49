package summary

import (
	"math"

	"jointwalk/calc/quantity"
	"jointwalk/calc/unseen"
	"jointwalk/sync/record"
)

// told are the times in seconds at which a running clock says something new.
var told = []int{2, 5, 10, 15, 20, 25, 30, 40, 50, 60, 75, 90, 120, 150, 180, 240, 300, 420, 600, 900, 1200, 1800}

// Watch tells what a look at some joints shows as its clock runs.
func (d *Desk) Watch(q WatchQuestion) (Watch, error) {
	f, err := d.seen(d.Book.FixtureOfRound(q.Round), UnknownRound)
	if err != nil {
		return Watch{}, err
	}
	r := f.Round(q.Round)
	y := yardOf(sceneOf(f, r, "").program, ambientOf(r.Conditions))
	w := &watching{yard: y, counted: onTestSide(f, q.Joints)}
	wetted := onTestSide(f, append(append([]string{}, q.Joints...), q.Bubbling...))
	done, _ := noneLooks(f, r, wetted)
	w.done, w.look = quantities(done, r), watchedIn(r)
	w.look.Around = q.Back
	left := leftIn(f, r, wetted)
	out := Watch{Unit: y.unit, Ref: y.ref, Counted: len(w.counted), Left: left, Steps: []WatchStep{}}
	if len(w.counted) == 0 {
		return out, nil
	}
	out.Steps, out.Cannot = w.steps()
	if y.allowance > 0 && out.Cannot == "" {
		out.enough(w, len(q.Joints))
	}
	return out, nil
}

// watching is a group of joints under one clock, and what the round saw before it.
type watching struct {
	yard    yard
	counted map[string]bool
	done    []unseen.Look
	look    unseen.Look
}

// group are n looks as they are watched now.
func (w *watching) group(n int) []unseen.Look {
	looks := make([]unseen.Look, n)
	for i := range looks {
		looks[i] = w.look
	}
	return looks
}

// steps are the bounds by rising time, or the reason why there are none.
func (w *watching) steps() (steps []WatchStep, cannot string) {
	for _, seconds := range told {
		w.look.Time = quantity.Duration(seconds)
		group := w.group(len(w.counted))
		high, err := unseen.Together(group)
		if err != nil || high.Cannot != "" {
			return []WatchStep{}, reasonOf(high.Cannot, err)
		}
		all, err := unseen.Together(append(group, w.done...))
		step := WatchStep{Seconds: seconds, High: w.yard.number(high.Upper)}
		if err == nil && all.Cannot == "" {
			step.All = w.yard.number(all.Upper)
			if w.yard.limit > 0 {
				step.Share = percent(float64(all.Upper) / float64(w.yard.limit))
			}
		}
		steps = append(steps, step)
	}
	return steps, ""
}

// enough finds the time that all joints still to be looked at need, in whole seconds, or why no time does it. Where earlier
// looks were too short it is the time that these need too, and Short are those to look at again. One eye sees the wetted joints
// one after the other, and needs its shortest look at each.
func (out *Watch) enough(w *watching, wetted int) {
	need, err := unseen.TimeAfter(w.done, w.group(len(w.counted)+out.Left), w.yard.allowance)
	out.Cannot = reasonOf(need.Cannot, err)
	if out.Cannot == unseen.CannotEarlier {
		need, err = unseen.TimeFor(w.group(len(w.counted)+out.Left+len(w.done)), w.yard.allowance)
		out.Short = w.short(need.Time)
	}
	if err == nil && need.Cannot == "" {
		out.Enough = int(math.Ceil(max(float64(need.Time), float64(wetted)*float64(unseen.ShortestLook))))
	}
}

// short is how many earlier looks say less than one of a time would. Zero bubbles bound a sum by its weakest look
// (unseen.Together), so that each may be judged by itself.
func (w *watching) short(time quantity.Duration) int {
	w.look.Time = time
	asked, _ := w.look.Bound()
	n := 0
	for _, l := range w.done {
		if b, _ := l.Bound(); b.Upper > asked.Upper {
			n++
		}
	}
	return n
}

func reasonOf(cannot string, err error) string {
	if err != nil {
		return codeOf(err)
	}
	return cannot
}

// onTestSide are those of some joints that the instrument reads.
func onTestSide(f *record.FixtureState, joints []string) map[string]bool {
	out := map[string]bool{}
	for _, id := range joints {
		if j := f.Joint(id); j != nil && j.Circuit == "test" {
			out[id] = true
		}
	}
	return out
}

// leftIn is how many joints of the test side a round has not looked at, those in a group left out.
func leftIn(f *record.FixtureState, r *record.RoundState, group map[string]bool) int {
	left := 0
	for _, j := range f.Joints {
		if j.Circuit == "test" && !j.Retired && !group[j.ID] && len(looksIn(j, r.ID)) == 0 {
			left++
		}
	}
	return left
}
