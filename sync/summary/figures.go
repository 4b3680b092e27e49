package summary

// Phrase is one sentence as a code with its parameters. Numbers are plain
// strings with a dot.
type Phrase struct {
	Code  string            `json:"code"`
	Args  map[string]string `json:"args,omitempty"`
	Names []string          `json:"names,omitempty"`
}

// Figure is a number that matters: median and 95 % interval as plain strings
// in Unit with its reference Ref, and positions on the bar, 0 to 1 on a log
// scale from 0.001 to 100 of the unit. MolPerSecond holds the same three in
// mol/s for comparing two computations.
type Figure struct {
	Median       string    `json:"median"`
	Low          string    `json:"low"`
	High         string    `json:"high"`
	Unit         string    `json:"unit"`
	Ref          string    `json:"ref"`
	Bar          Bar       `json:"bar"`
	MolPerSecond []float64 `json:"molPerSecond"`
}

// Bar holds positions 0 to 1 on the log scale; Limit and Allowance are -1
// where the program has none.
type Bar struct {
	Low       float64 `json:"low"`
	Median    float64 `json:"median"`
	High      float64 `json:"high"`
	Limit     float64 `json:"limit"`
	Allowance float64 `json:"allowance"`
}

// Range is median and 95 % interval as plain strings (percent for shares).
type Range struct {
	Median string `json:"median"`
	Low    string `json:"low"`
	High   string `json:"high"`
}

// Part is one line of an uncertainty budget: an input's code and its percent
// of the variance.
type Part struct {
	Input   string `json:"input"`
	Percent int    `json:"percent"`
}

// Estimate is what an observation says of a leak. CannotSay is a reason code
// where there is no figure. Flow is the volume flow at ambient conditions in
// mm³/s. Share and OfAllowance are percent, nil without a limit. Dominant is
// the input that most of the width comes from; Advice says what would narrow
// it, CountTo about how many bubbles that takes where it is counting on. ByEye
// says that bubbles were counted and sized by eye: that measures only roughly.
type Estimate struct {
	CannotSay   string   `json:"cannotSay,omitempty"`
	Figure      *Figure  `json:"figure,omitempty"`
	Flow        *Range   `json:"flow,omitempty"`
	Share       *Range   `json:"share,omitempty"`
	OfAllowance *Range   `json:"ofAllowance,omitempty"`
	Budget      []Part   `json:"budget,omitempty"`
	Dominant    string   `json:"dominant,omitempty"`
	Advice      string   `json:"advice,omitempty"`
	CountTo     int      `json:"countTo,omitempty"`
	ByEye       bool     `json:"byEye,omitempty"`
	Warnings    []string `json:"warnings,omitempty"`
}

// Stamp says who did a thing, and when by the device's clock. ClockOff is by how
// many minutes that clock was ahead of the server's, left out up to five.
type Stamp struct {
	By       string `json:"by"`
	Name     string `json:"name"`
	Time     string `json:"time"`
	ClockOff int    `json:"clockOff,omitempty"`
}
