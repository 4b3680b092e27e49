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
// places it among the fixture's joints. Run names the run of tube or hose that it
// sits on: work on one joint of a run may move the others. "" where none is given.
type Joint struct {
	Name    string  `json:"name"`
	Kind    string  `json:"kind"`
	Circuit string  `json:"circuit"`
	Tube    *Amount `json:"tube,omitempty"`
	Order   float64 `json:"order"`
	Pin     *Pin    `json:"pin,omitempty"`
	Run     string  `json:"run,omitempty"`
}

// Pin is where a joint is in a photo of its fixture: from the photo's left and
// top edge, as parts of its width and height, 0 to 1. Photo is the photo's hash;
// without one the pin is taken off.
type Pin struct {
	Photo string  `json:"photo"`
	X     float64 `json:"x"`
	Y     float64 `json:"y"`
}

// JointEdit is the body of JointEdited; a field left out stays as it is.
type JointEdit struct {
	Name    *string  `json:"name,omitempty"`
	Kind    *string  `json:"kind,omitempty"`
	Circuit *string  `json:"circuit,omitempty"`
	Tube    *Amount  `json:"tube,omitempty"`
	Order   *float64 `json:"order,omitempty"`
	Pin     *Pin     `json:"pin,omitempty"`
	Run     *string  `json:"run,omitempty"`
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
// PutBacks) and, where some were not or the round was left open for long, why.
type RoundEnd struct {
	PutBack []string `json:"putBack"`
	Note    string   `json:"note,omitempty"`
}

// Size is a bubble's diameter as seen: a share of the joint's tube, or a
// diameter; "none" where no bubble was sized; "picture" where it was pointed at
// in one; "ring" is the Diameter of a ring of true size that the bubble was held
// beside.
type Size struct {
	As       string   `json:"as"`
	Share    float64  `json:"share,omitempty"`
	Tube     *Amount  `json:"tube,omitempty"`
	Diameter *Amount  `json:"diameter,omitempty"`
	Picture  *Pointed `json:"picture,omitempty"`
}

// Pointed is what a person pointed at in a picture of Width by Height pixels: four
// Marks of a scale and some points on a bubble's Rim. The scale is a card with the
// sides Long and Short, its corners the marks, one after the other around it; or
// else a Tube of that outer diameter, with two marks on one of its edges and two
// on the other. The diameter is always computed anew from these.
type Pointed struct {
	Hash   string  `json:"hash"`
	Width  int     `json:"width"`
	Height int     `json:"height"`
	Long   *Amount `json:"long,omitempty"`
	Short  *Amount `json:"short,omitempty"`
	Tube   *Amount `json:"tube,omitempty"`
	Marks  []Spot  `json:"marks"`
	Rim    []Spot  `json:"rim"`
}

// Spot is a place in a picture, in pixels from its left and top edge.
type Spot struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
}

// Observation is the raw thing seen. Medium is "film" or "water". How says how.
// A train of bubbles, each of a Size, was counted: "window" (Count bubbles in
// Seconds on a stopwatch), "ten" (Count bubbles timed from the first to the
// last), "taps" (one tap a bubble, Taps in seconds from the start). "collected":
// a Volume of gas came together over water in Seconds; Head is how far the level
// in the measure stands above that outside, below zero where it is lower, nil
// where nobody looked. "class": what could not be counted, by what it looks like.
// These two have the Size "none". "dome": one bubble grew from nothing in Seconds
// to a cap whose base has the Size, Height high, nil where nobody looked. "froth"
// of small bubbles grew in Seconds by a Height, on a patch as wide as the Size.
type Observation struct {
	Medium  string    `json:"medium"`
	How     string    `json:"how"`
	Count   int       `json:"count,omitempty"`
	Seconds float64   `json:"seconds,omitempty"`
	Taps    []float64 `json:"taps,omitempty"`
	Size    Size      `json:"size"`
	// MoreSizes are those of other bubbles of the same leak, at most MostSizes with Size.
	MoreSizes []Size  `json:"moreSizes,omitempty"`
	Volume    *Amount `json:"volume,omitempty"`
	Head      *Amount `json:"head,omitempty"`
	Class     string  `json:"class,omitempty"`
	Height    *Amount `json:"height,omitempty"`
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
// whether all around the joint could be seen. Sight is "partly" where it was seen
// from afar, at a slant or in poor light, "" where it was seen well. Sign is how a
// gross leak showed. Second names the finding whose second look this is. Spot
// tells several spots of one joint apart: "" is the first, and in a look without
// leak the joint as a whole. Wiped says whether the bubbles came back after
// wiping, Vented whether they stopped when the joint was vented; Rewets counts
// how often it was wetted again.
// Wetted is
// the order of pressure and wetting, as asked at a second look: "after" (wetted
// under pressure, which stayed on), "before" (wetted before the pressure came) or
// "vented" (vented since it was wetted); "" as the round's conditions say.
type Look struct {
	Round       string       `json:"round"`
	Joint       string       `json:"joint"`
	Result      Result       `json:"result"`
	Seconds     float64      `json:"seconds,omitempty"`
	Stayed      bool         `json:"stayed"`
	Back        bool         `json:"back"`
	Sight       string       `json:"sight,omitempty"`
	Sign        string       `json:"sign,omitempty"`
	Why         string       `json:"why,omitempty"`
	Note        string       `json:"note,omitempty"`
	Wiped       string       `json:"wiped,omitempty"`
	Observation *Observation `json:"observation,omitempty"`
	Shown       *Shown       `json:"shown,omitempty"`
	Second      string       `json:"second,omitempty"`
	Spot        string       `json:"spot,omitempty"`
	Vented      string       `json:"vented,omitempty"`
	Rewets      int          `json:"rewets,omitempty"`
	Wetted      string       `json:"wetted,omitempty"`
}

// LookAmendment is the body of LookAmended: a later correction of a look. Base
// of the event names the look's event or its last amendment. A field left out
// stays as it is.
type LookAmendment struct {
	Result      *Result      `json:"result,omitempty"`
	Observation *Observation `json:"observation,omitempty"`
	Shown       *Shown       `json:"shown,omitempty"`
	Wiped       *string      `json:"wiped,omitempty"`
	Vented      *string      `json:"vented,omitempty"`
	Rewets      *int         `json:"rewets,omitempty"`
	Note        *string      `json:"note,omitempty"`
	Why         string       `json:"why,omitempty"`
	Seen        []string     `json:"seen,omitempty"`
}

// Mend is the body of FindingMended: cause and action. A repair closes
// nothing; a second look under pressure does. Spare is the spare part that went
// in, in the person's own words.
type Mend struct {
	When   string `json:"when"`
	Vented bool   `json:"vented"`
	Cause  string `json:"cause"`
	Action string `json:"action"`
	Note   string `json:"note,omitempty"`
	Spare  string `json:"spare,omitempty"`
}

// Review is the body of FindingReviewed: the engineer's answer.
type Review struct {
	Verdict string `json:"verdict"`
	Note    string `json:"note,omitempty"`
}

// Picture is the body of PictureAdded: a picture of a finding, by its hash.
// The picture itself travels apart. Arrows point at what it shows: they stand
// beside the picture, not in it, so that it can still be measured.
type Picture struct {
	Hash   string  `json:"hash"`
	Bytes  int     `json:"bytes"`
	Type   string  `json:"type"`
	Width  int     `json:"width"`
	Height int     `json:"height"`
	Arrows []Arrow `json:"arrows,omitempty"`
}

// Arrow points from one place in a picture to another, each from its left and
// top edge as parts of its width and height, 0 to 1.
type Arrow struct {
	FromX float64 `json:"fromX"`
	FromY float64 `json:"fromY"`
	X     float64 `json:"x"`
	Y     float64 `json:"y"`
}

// Noted is the body of NoteAdded: something worth knowing of a fixture, a joint,
// a round or a look, in free words. It is taken back as a whole.
type Noted struct {
	Text string `json:"text"`
}
