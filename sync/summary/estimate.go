package summary

import (
	"errors"
	"math"

	"jointwalk/calc/bubble"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/calc/share"
	"jointwalk/calc/spread"
	"jointwalk/sync/record"
)

// scene is what an observation was seen under.
type scene struct {
	conditions record.Conditions
	program    *record.Program
	circuit    string
}

// Estimate answers what an observation says, while it is being entered.
func (d *Desk) Estimate(q EstimateQuestion) (EstimateAnswer, error) {
	f, err := d.seen(d.Book.FixtureOfRound(q.Round), UnknownRound)
	if err != nil {
		return EstimateAnswer{}, err
	}
	e := sizeUp(&q.Observation, sceneOf(f, f.Round(q.Round), q.Joint))
	return EstimateAnswer{Estimate: e, Shown: shownOf(e)}, nil
}

func shownOf(e Estimate) *record.Shown {
	if e.Figure == nil {
		return nil
	}
	m := e.Figure.MolPerSecond
	return &record.Shown{Median: m[0], Low: m[1], High: m[2]}
}

// sceneOf is what a round's looks at a joint were seen under. The round keeps
// the program version it started with.
func sceneOf(f *record.FixtureState, r *record.RoundState, joint string) scene {
	s := scene{}
	if r != nil {
		s.conditions = r.Conditions
		if p := f.ProgramVersion(r.Program); p != nil {
			s.program = &p.Program
		}
	}
	if j := f.Joint(joint); j != nil {
		s.circuit = j.Circuit
	}
	return s
}

// sizeUp estimates a leak. What cannot be said has its code in CannotSay.
func sizeUp(o *record.Observation, s scene) Estimate {
	at := ambientOf(s.conditions)
	b, err := weigh(o, at)
	if err != nil {
		return Estimate{CannotSay: codeOf(err)}
	}
	y := yardOf(s.program, at)
	e := Estimate{
		Figure:   y.figure(b.Molar),
		Flow:     flow(b.Volume),
		Dominant: b.Dominant,
		Advice:   b.advice,
		CountTo:  b.countTo,
		ByEye:    byEye(o),
		Warnings: append(s.warnings(o), b.Warnings...),
	}
	if b.AtLeast {
		e.Warnings = append(e.Warnings, WarnAtLeast)
	}
	for _, part := range b.Budget {
		e.Budget = append(e.Budget, Part{Input: part.Input, Percent: int(math.Round(part.Percent))})
	}
	if s.circuit == "test" {
		e.Share, e.OfAllowance = percents(b.Molar, y.limit), percents(b.Molar, y.allowance)
	}
	return e
}

// byEye says whether an observation is of bubbles counted and, one at least, sized by eye.
func byEye(o *record.Observation) bool {
	switch o.How {
	case "collected", "class":
		return false
	}
	for _, s := range o.MoreSizes {
		if s.As != "picture" {
			return true
		}
	}
	return o.Size.As != "picture"
}

// codeOf is the stable code of a calculation's refusal: "size: not-positive".
func codeOf(err error) string {
	var fault *quantity.Fault
	if !errors.As(err, &fault) {
		return BadQuestion
	}
	if fault.Field == "" {
		return fault.Code
	}
	return fault.Field + "-" + fault.Code
}

// trainOf reads an observation into quantities.
func trainOf(o *record.Observation, ambient gas.Ambient) (bubble.Train, error) {
	size, err := sizesOf(o)
	if err != nil {
		return bubble.Train{}, err
	}
	count, err := countOf(o)
	return bubble.Train{Medium: bubble.Medium(o.Medium), Count: count, Size: size, Ambient: ambient}, err
}

func countOf(o *record.Observation) (bubble.Count, error) {
	switch o.How {
	case "window":
		return bubble.Window(o.Count, quantity.Duration(o.Seconds), bubble.ClockByHand), nil
	case "ten":
		return bubble.Intervals(o.Count, quantity.Duration(o.Seconds), bubble.ClockByHand), nil
	case "taps":
		at := make([]quantity.Duration, len(o.Taps))
		for i, t := range o.Taps {
			at[i] = quantity.Duration(t)
		}
		return bubble.Taps(at, bubble.ClockOfTaps), nil
	}
	return bubble.Count{}, &quantity.Fault{Code: bubble.CodeWayUnknown, Field: "count"}
}

// sizesOf is the size that stands for all bubbles that were sized.
func sizesOf(o *record.Observation) (bubble.Size, error) {
	sizes := make([]bubble.Size, 0, record.MostSizes)
	for _, s := range append([]record.Size{o.Size}, o.MoreSizes...) {
		size, err := sizeOf(s)
		if err == nil {
			err = size.Check()
		}
		if err != nil {
			return bubble.Size{}, err
		}
		sizes = append(sizes, size)
	}
	return bubble.OfSeveral(sizes), nil
}

func sizeOf(s record.Size) (bubble.Size, error) {
	if s.As == "picture" {
		m, err := pointedAt(s.Picture)
		return m.Size, err
	}
	if s.As == "tube" {
		tube, err := lengthOf(s.Tube, "tube")
		if err == nil {
			err = quantity.Positive("size", s.Share)
		}
		return bubble.OfTube(s.Share, tube), err
	}
	d, err := lengthOf(s.Diameter, "size")
	if s.As == "ring" {
		return bubble.Matched(d), err
	}
	return bubble.Measured(d), err
}

func lengthOf(a *record.Amount, field string) (quantity.Length, error) {
	if a == nil {
		return 0, &quantity.Fault{Code: quantity.CodeNotPositive, Field: field}
	}
	if err := quantity.Positive(field, a.Value); err != nil {
		return 0, err
	}
	return quantity.From[quantity.Length](a.Value, a.Unit)
}

// figure prints a rate with its interval and its places on the bar.
func (y yard) figure(f spread.Figure[quantity.MolarFlow]) *Figure {
	return &Figure{
		Median: y.number(f.Median), Low: y.number(f.Lo), High: y.number(f.Hi), Unit: y.unit, Ref: y.ref,
		Bar: Bar{
			Low: y.position(f.Lo), Median: y.position(f.Median), High: y.position(f.Hi),
			Limit: y.position(y.limit), Allowance: y.position(y.allowance),
		},
		MolPerSecond: []float64{float64(f.Median), float64(f.Lo), float64(f.Hi)},
	}
}

// flow prints a volume flow in mm³/s.
func flow(f spread.Figure[quantity.VolumeFlow]) *Range {
	number := func(q quantity.VolumeFlow) string { return quantity.Number(float64(q)*1e9, 3) }
	return &Range{Median: number(f.Median), Low: number(f.Lo), High: number(f.Hi)}
}

// percents prints a rate as percent of what is allowed, nil where nothing is.
func percents(f spread.Figure[quantity.MolarFlow], allowed quantity.MolarFlow) *Range {
	if allowed <= 0 {
		return nil
	}
	of, err := share.Of(f, allowed)
	if err != nil {
		return nil
	}
	return &Range{Median: percent(of.Median), Low: percent(of.Lo), High: percent(of.Hi)}
}

// percent prints a part of one in percent: two digits below 10 %, whole above.
func percent(part float64) string {
	p := 100 * part
	if p < 9.95 {
		return quantity.Number(p, 2)
	}
	return quantity.Number(math.Round(p), wholeDigits(p))
}

func wholeDigits(p float64) int {
	return max(1, min(15, 1+int(math.Log10(math.Round(p)))))
}
