package record

// Amount is a quantity as a person entered it. Units are the codes of
// calc/quantity ("kPa", "mm", "degC", …).
type Amount struct {
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
}

// Rate is a leak rate as entered, with the reference conditions of its unit
// ("0C", "20C", "ANR", …; empty for units that need none).
type Rate struct {
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`
	Ref   string  `json:"ref,omitempty"`
}

// RegisteredBody is the body of FixtureRegistered. Tag is the short code on
// the fixture's label, with its check character.
type RegisteredBody struct {
	Name  string `json:"name"`
	Place string `json:"place,omitempty"`
	Tag   string `json:"tag"`
}

// FixtureEdit is the body of FixtureEdited; a field left out stays as it is. Tag is the code on another label that the
// fixture carries from now on, with its check character; the same label on another fixture before means that one no more.
// Seen here and in other edits names events that the edit has seen besides its
// base; see Conflict.
type FixtureEdit struct {
	Name  *string  `json:"name,omitempty"`
	Place *string  `json:"place,omitempty"`
	Note  *string  `json:"note,omitempty"`
	Tag   *string  `json:"tag,omitempty"`
	Seen  []string `json:"seen,omitempty"`
}

// Move is the body of FixtureMoved: the id of the site at which the fixture
// stands from now on. The event itself is about the site that it leaves.
type Move struct {
	Site string   `json:"site"`
	Seen []string `json:"seen,omitempty"`
}

// Program is the body of ProgramSet: how the fixture is tested. Pressure is
// gauge (below zero is vacuum). The reject limit is a rate, or a drop of
// pressure over the test time. Allowance is the share of the limit that the
// station itself may leak, 0 to 1 (10 % unless the site says otherwise: common
// practice, no source).
type Program struct {
	Name       string  `json:"name"`
	Gas        string  `json:"gas"`
	Pressure   Amount  `json:"pressure"`
	Volume     Amount  `json:"volume"`
	Fill       float64 `json:"fill"`
	Stabilise  float64 `json:"stabilise"`
	Test       float64 `json:"test"`
	Vent       float64 `json:"vent"`
	LimitRate  *Rate   `json:"limitRate,omitempty"`
	LimitDrop  *Amount `json:"limitDrop,omitempty"`
	ShowUnit   string  `json:"showUnit"`
	ShowRef    string  `json:"showRef,omitempty"`
	Background bool    `json:"background"`
	Allowance  float64 `json:"allowance"`

	Seen []string `json:"seen,omitempty"`
}

// Joint is the body of JointAdded: a place that can leak. Tube is the outer
// diameter that bubbles are compared with; zero value when unknown. Order
// places it among the fixture's joints.
type Joint struct {
	Name    string  `json:"name"`
	Kind    string  `json:"kind"`
	Circuit string  `json:"circuit"`
	Tube    *Amount `json:"tube,omitempty"`
	Order   float64 `json:"order"`
}

// JointEdit is the body of JointEdited; a field left out stays as it is.
type JointEdit struct {
	Name    *string  `json:"name,omitempty"`
	Kind    *string  `json:"kind,omitempty"`
	Circuit *string  `json:"circuit,omitempty"`
	Tube    *Amount  `json:"tube,omitempty"`
	Order   *float64 `json:"order,omitempty"`
	Seen    []string `json:"seen,omitempty"`
}

// Reason is the body of JointRetired and Withdrawn: why, in free words or none.
type Reason struct {
	Why string `json:"why,omitempty"`
}

// Conditions are the conditions of a round. Pressure is gauge; Barometer may
// be left out (101.325 kPa is then taken, and said). Wetted says whether the
// joints were wetted after or before pressurising; Setup what is capped,
// sealed, clamped and open, in the person's own words.
type Conditions struct {
	Gas       string  `json:"gas"`
	Pressure  Amount  `json:"pressure"`
	Ambient   Amount  `json:"ambient"`
	Barometer *Amount `json:"barometer,omitempty"`
	Solution  string  `json:"solution"`
	Wetted    string  `json:"wetted"`
	Setup     string  `json:"setup,omitempty"`
}

// RoundStart is the body of RoundStarted. Program is the event id of the
// program version that the round keeps.
type RoundStart struct {
	Program    string     `json:"program,omitempty"`
	Conditions Conditions `json:"conditions"`
}

// RoundEnd is the body of RoundEnded: which things were put back (codes of
// PutBacks) and, where some were not, why.
type RoundEnd struct {
	PutBack []string `json:"putBack"`
	Note    string   `json:"note,omitempty"`
}

// Size is a bubble's diameter as seen: a share of the joint's tube, or a
// diameter.
type Size struct {
	As       string  `json:"as"`
	Share    float64 `json:"share,omitempty"`
	Tube     *Amount `json:"tube,omitempty"`
	Diameter *Amount `json:"diameter,omitempty"`
}

// Observation is the raw thing seen: a train of bubbles. Medium is "film" or
// "water". How says how it was counted: "window" (Count bubbles in Seconds on
// a stopwatch), "ten" (Count bubbles timed from the first to the last), "taps"
// (one tap a bubble, Taps in seconds from the start).
type Observation struct {
	Medium  string    `json:"medium"`
	How     string    `json:"how"`
	Count   int       `json:"count,omitempty"`
	Seconds float64   `json:"seconds,omitempty"`
	Taps    []float64 `json:"taps,omitempty"`
	Size    Size      `json:"size"`
}

// Shown is the estimate that stood on the screen when the finding was saved,
// in mol/s: what the person saw. It is never used to compute anything.
type Shown struct {
	Median float64 `json:"median"`
	Low    float64 `json:"low"`
	High   float64 `json:"high"`
}

// Look is the body of LookMade: what one joint did in a round. Seconds is how
// long it was watched; Stayed says whether the solution stayed on; Back
// whether all around the joint could be seen. Second names the finding whose
// second look this is.
type Look struct {
	Round       string       `json:"round"`
	Joint       string       `json:"joint"`
	Result      Result       `json:"result"`
	Seconds     float64      `json:"seconds,omitempty"`
	Stayed      bool         `json:"stayed"`
	Back        bool         `json:"back"`
	Why         string       `json:"why,omitempty"`
	Note        string       `json:"note,omitempty"`
	Wiped       string       `json:"wiped,omitempty"`
	Observation *Observation `json:"observation,omitempty"`
	Shown       *Shown       `json:"shown,omitempty"`
	Second      string       `json:"second,omitempty"`
}

// LookAmendment is the body of LookAmended: a later correction of a look. Base
// of the event names the look's event or its last amendment. A field left out
// stays as it is.
type LookAmendment struct {
	Result      *Result      `json:"result,omitempty"`
	Observation *Observation `json:"observation,omitempty"`
	Shown       *Shown       `json:"shown,omitempty"`
	Wiped       *string      `json:"wiped,omitempty"`
	Note        *string      `json:"note,omitempty"`
	Why         string       `json:"why,omitempty"`
	Seen        []string     `json:"seen,omitempty"`
}

// Mend is the body of FindingMended: cause and action. A repair closes
// nothing; a second look under pressure does.
type Mend struct {
	When   string `json:"when"`
	Vented bool   `json:"vented"`
	Cause  string `json:"cause"`
	Action string `json:"action"`
	Note   string `json:"note,omitempty"`
}

// Review is the body of FindingReviewed: the engineer's answer.
type Review struct {
	Verdict string `json:"verdict"`
	Note    string `json:"note,omitempty"`
}

// Picture is the body of PictureAdded: a picture of a finding, by its hash.
// The picture itself travels apart.
type Picture struct {
	Hash   string `json:"hash"`
	Bytes  int    `json:"bytes"`
	Type   string `json:"type"`
	Width  int    `json:"width"`
	Height int    `json:"height"`
}
