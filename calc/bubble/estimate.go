package bubble

import (
	"math"

	"jointwalk/calc/estimate"
	"jointwalk/calc/gas"
	"jointwalk/calc/spread"
)

// The inputs of the budget.
const (
	InputSize  = "size"
	InputShape = "shape"
	InputCount = "count"
	InputClock = "clock"
	// Under water only.
	InputDepth  = "depth"
	InputVapour = "vapour"
)

// What pays next.
const (
	// AdviceCountOn: longer or better counting narrows the result most.
	AdviceCountOn = "count-on"
	// AdviceSizeAgain: sizing more bubbles of the leak does, up to Several.
	AdviceSizeAgain = "size-again"
	// AdviceSizeBetter: Several were sized; only a better way of sizing does.
	AdviceSizeBetter = "size-better"
	// AdviceEnough: neither does much, or the result is narrow already.
	AdviceEnough = "enough"
)

// What to tell beside the result.
const (
	// WarnTooFast: more than FastestForAnEye a second.
	WarnTooFast = "too-fast-for-an-eye"
	// WarnFewBubbles: fewer than five bubbles or intervals.
	WarnFewBubbles = "few-bubbles"
	// WarnIrregular: the taps say that bubbles come at random or in bursts.
	WarnIrregular = "irregular"
	// WarnSizeVague: the size is known to no better than a quarter.
	WarnSizeVague = "size-vague"
	// WarnClockRough: the time is known to no better than a tenth.
	WarnClockRough = "clock-rough"
)

// Judgement: common practice, no source.
const (
	// FastestForAnEye is the rate, in bubbles a second, that an eye can count.
	FastestForAnEye = 3.0
	fewBubbles      = 5
	vagueSize       = 0.25
	roughClock      = 0.1
	// narrow is the standard deviation of the logarithm that is enough: 95 % in ±16 %.
	narrow = 0.08
	// small is the percentage of variance not worth the effort: half the
	// uncertainty of such an input narrows the result by less than a tenth.
	small = 25
)

// Estimate is what a train says of its leak. Its budget has the parts of size, shape, count and clock, in this order, and then
// those of depth and vapour where an Immersion is said.
type Estimate struct {
	estimate.Estimate
	// Rate is the bubbles a second as counted.
	Rate float64
	// Advice is one of the Advice codes.
	Advice string
	// CountTo is, where the advice is to count on, about how many bubbles would make the size what the width comes from; 0
	// otherwise.
	CountTo int
}

// Estimate is the leak rate of a train, its width and where the width comes
// from. Errors are *quantity.Fault: "not-positive", "not-a-number" or
// "too-large" with the field "size", "size-uncertainty", "count", "time",
// "clock", "ambient-pressure" or "ambient-temperature"; "out-of-range" with "depth" or "ambient-temperature"; CodeMediumUnknown,
// CodeWayUnknown, CodeTooFewTaps, CodeTapsDisordered.
func (t Train) Estimate() (Estimate, error) {
	if err := t.check(); err != nil {
		return Estimate{}, err
	}
	e := t.leak()
	e.Warnings = t.warnings()
	e.Passing(t.Medium == Film && t.Passes)
	count, size := weigh(e.Budget)
	advised := Estimate{Estimate: e, Rate: t.Count.Rate(), Advice: advice(count, size, e.Width, t.Size.N)}
	if advised.Advice == AdviceCountOn {
		advised.CountTo = t.Count.upTo(count, size)
	}
	return advised, nil
}

// leak is the estimate: at ambient pressure unless an Immersion is said.
func (t Train) leak() estimate.Estimate {
	if t.Medium == Water && t.Under != nil {
		return t.wet()
	}
	return t.dry()
}

// dry is Q = (π/6) d³ s n/T at ambient pressure.
func (t Train) dry() estimate.Estimate {
	shape := spread.Distribution(spread.Exact(1))
	if t.Medium == Film {
		shape = spread.Rectangular{Lo: 0.5, Hi: 1}
	}
	constant := math.Pi / 6 * float64(gas.Molar(1, t.Ambient))
	return estimate.Of([]estimate.Input{
		{Name: InputSize, Of: t.Size.Distribution()},
		{Name: InputShape, Of: shape},
		{Name: InputCount, Of: t.Count.Number()},
		{Name: InputClock, Of: t.Count.Took()},
	}, t.Ambient, func(x []float64) float64 { return constant * x[0] * x[0] * x[0] * x[1] * x[2] / x[3] })
}

// weigh is the percentage of the variance that comes from counting, and from sizing.
func weigh(budget []spread.Part) (count, size float64) {
	for _, p := range budget {
		switch p.Input {
		case InputCount, InputClock:
			count += p.Percent
		case InputSize:
			size = p.Percent
		}
	}
	return count, size
}

// advice weighs what counting could win against what sizing could, where so many bubbles were sized.
func advice(count, size, width float64, sized int) string {
	switch {
	case width < narrow || max(count, size) < small:
		return AdviceEnough
	case count > size:
		return AdviceCountOn
	case sized >= Several:
		return AdviceSizeBetter
	default:
		return AdviceSizeAgain
	}
}

// warnings are the codes that apply.
func (t Train) warnings() []string {
	var codes []string
	warn := func(code string, is bool) {
		if is {
			codes = append(codes, code)
		}
	}
	warn(WarnTooFast, t.Count.Rate() > FastestForAnEye)
	warn(WarnFewBubbles, t.Count.N < fewBubbles)
	warn(WarnIrregular, t.Count.Way == ByTaps && t.Count.train().irregular())
	warn(WarnSizeVague, t.Size.U > vagueSize*t.Size.Diameter)
	warn(WarnClockRough, t.Count.Clock > roughClock*t.Count.Time)
	return codes
}
