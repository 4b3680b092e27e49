package summary

import "jointwalk/sync/record"

// Mark is the shape that shows a joint's or a fixture's state.
type Mark string

// The marks.
const (
	Ring    Mark = "ring"    // nothing seen
	Half    Mark = "half"    // seen partly
	Drop    Mark = "drop"    // leaks
	Burst   Mark = "burst"   // gross
	Dash    Mark = "dash"    // not reached
	Waiting Mark = "waiting" // mended, waits for its second look
	Blank   Mark = "blank"   // not looked at yet
)

// HomeQuestion asks for all sites that this device holds.
type HomeQuestion struct{}

// Home lists sites and their fixtures.
type Home struct {
	Sites []SiteCard `json:"sites"`
}

// SiteCard is a site with its fixtures by name.
type SiteCard struct {
	ID       string        `json:"id"`
	Name     string        `json:"name"`
	Fixtures []FixtureCard `json:"fixtures"`
}

// FixtureCard is a fixture in a list.
type FixtureCard struct {
	ID        string   `json:"id"`
	Site      string   `json:"site"`
	Name      string   `json:"name"`
	Place     string   `json:"place"`
	Tag       string   `json:"tag"`
	Mark      Mark     `json:"mark"`
	Says      []Phrase `json:"says"`
	OpenRound string   `json:"openRound,omitempty"`
	Conflicts int      `json:"conflicts,omitempty"`
}

// TagQuestion asks which fixture carries a tag. Text is what was scanned or
// typed: a link or a code.
type TagQuestion struct {
	Text string `json:"text"`
}

// TagAnswer names the fixture, or says by Problem why not: "tag-damaged" (the
// check character does not fit), "tag-foreign" (no tag of ours), "tag-unknown"
// (a good tag that no fixture here carries).
type TagAnswer struct {
	Code    string `json:"code,omitempty"`
	Fixture string `json:"fixture,omitempty"`
	Name    string `json:"name,omitempty"`
	Problem string `json:"problem,omitempty"`
}

// FixtureQuestion asks for one fixture.
type FixtureQuestion struct {
	ID string `json:"id"`
}

// Fixture is all that a fixture's page shows, joints in place order, rounds
// newest first. Last holds the conditions of the last round or, before the
// first, those the program suggests. Base is the event that an edit of name,
// place, note, tag or site starts from; Seen are those that it has seen besides.
// Tags are all that it was given, newest first; TagOn names the fixture that
// carries its tag now, "" for itself. Photo is its last one that stands.
type Fixture struct {
	ID        string             `json:"id"`
	Site      string             `json:"site"`
	SiteName  string             `json:"siteName"`
	Name      string             `json:"name"`
	Place     string             `json:"place"`
	Note      string             `json:"note"`
	Tag       string             `json:"tag"`
	Mark      Mark               `json:"mark"`
	Says      []Phrase           `json:"says"`
	Program   *ProgramCard       `json:"program,omitempty"`
	Joints    []JointCard        `json:"joints"`
	Retired   []JointCard        `json:"retired"`
	Rounds    []RoundCard        `json:"rounds"`
	Findings  []FindingCard      `json:"findings"`
	OpenRound string             `json:"openRound,omitempty"`
	Last      *record.Conditions `json:"last,omitempty"`
	Cautions  []string           `json:"cautions"`
	Made      Stamp              `json:"made"`
	Base      string             `json:"base"`
	Seen      []string           `json:"seen,omitempty"`
	Tags      []TagCard          `json:"tags"`
	TagOn     string             `json:"tagOn,omitempty"`
	Photo     *PictureCard       `json:"photo,omitempty"`
	Conflicts []*ConflictCard    `json:"conflicts,omitempty"`
}

// ProgramCard is a program version with its limit and allowance as text in
// the program's unit. ID is the event that set it.
type ProgramCard struct {
	ID        string         `json:"id"`
	Program   record.Program `json:"program"`
	Limit     string         `json:"limit"`
	Allowance string         `json:"allowance"`
	Unit      string         `json:"unit"`
	Ref       string         `json:"ref"`
	Set       Stamp          `json:"set"`
}

// JointCard is a joint with its state. Mark is the joint's state now; History
// holds the marks of its last looks, oldest first. Event is what an edit starts
// from; Seen are the events that it has seen besides.
type JointCard struct {
	ID      string         `json:"id"`
	Event   string         `json:"event"`
	Seen    []string       `json:"seen,omitempty"`
	Name    string         `json:"name"`
	Kind    string         `json:"kind"`
	Circuit string         `json:"circuit"`
	Tube    *record.Amount `json:"tube,omitempty"`
	Order   float64        `json:"order"`
	Mark    Mark           `json:"mark"`
	Finding string         `json:"finding,omitempty"`
	State   string         `json:"state,omitempty"`
	History []LookMark     `json:"history"`
}

// LookMark is one look in a strip of looks.
type LookMark struct {
	Mark  Mark   `json:"mark"`
	Time  string `json:"time"`
	Round string `json:"round"`
}

// RoundCard is a round in a list.
type RoundCard struct {
	ID      string   `json:"id"`
	Started Stamp    `json:"started"`
	Ended   *Stamp   `json:"ended,omitempty"`
	Says    []Phrase `json:"says"`
}

// RoundQuestion asks for one round.
type RoundQuestion struct {
	ID string `json:"id"`
}

// Round is all that the looking and the ending of a round show. Findings are
// ranked, largest first.
type Round struct {
	ID          string            `json:"id"`
	Fixture     string            `json:"fixture"`
	FixtureName string            `json:"fixtureName"`
	Site        string            `json:"site"`
	Tag         string            `json:"tag"`
	Started     Stamp             `json:"started"`
	Ended       *Stamp            `json:"ended,omitempty"`
	Conditions  record.Conditions `json:"conditions"`
	Program     *ProgramCard      `json:"program,omitempty"`
	Joints      []RoundJoint      `json:"joints"`
	Done        int               `json:"done"`
	Says        []Phrase          `json:"says"`
	Findings    []FindingCard     `json:"findings"`
	PutBack     []string          `json:"putBack"`
	PutBackDone []string          `json:"putBackDone"`
	Unseen      *Unseen           `json:"unseen,omitempty"`
	Others      []string          `json:"others,omitempty"`
}

// RoundJoint is a joint within a round: what this round saw of it.
type RoundJoint struct {
	ID      string         `json:"id"`
	Name    string         `json:"name"`
	Kind    string         `json:"kind"`
	Circuit string         `json:"circuit"`
	Tube    *record.Amount `json:"tube,omitempty"`
	Mark    Mark           `json:"mark"`
	Before  Mark           `json:"before"`
	Finding string         `json:"finding,omitempty"`
	State   string         `json:"state,omitempty"`
	Figure  *Figure        `json:"figure,omitempty"`
	LookID  string         `json:"lookId,omitempty"`
	EventID string         `json:"eventId,omitempty"`
	Why     string         `json:"why,omitempty"`
	Seconds float64        `json:"seconds,omitempty"`
	Retired bool           `json:"retired,omitempty"`
}

// Unseen bounds what the joints with nothing seen may still leak together:
// High in Unit, or CannotSay with the reason.
type Unseen struct {
	Joints    int    `json:"joints"`
	High      string `json:"high,omitempty"`
	Unit      string `json:"unit,omitempty"`
	Ref       string `json:"ref,omitempty"`
	Share     string `json:"share,omitempty"`
	CannotSay string `json:"cannotSay,omitempty"`
}

// FindingsQuestion asks for findings: all sites or one; Only may be "open" or
// "unreviewed".
type FindingsQuestion struct {
	Site string `json:"site,omitempty"`
	Only string `json:"only,omitempty"`
}

// Findings is the review list, newest first.
type Findings struct {
	Findings []FindingCard `json:"findings"`
}

// FindingCard is a finding in a list.
type FindingCard struct {
	ID          string  `json:"id"`
	Fixture     string  `json:"fixture"`
	FixtureName string  `json:"fixtureName"`
	Round       string  `json:"round"`
	Joint       string  `json:"joint"`
	JointName   string  `json:"jointName"`
	Circuit     string  `json:"circuit"`
	Mark        Mark    `json:"mark"`
	State       string  `json:"state"`
	Figure      *Figure `json:"figure,omitempty"`
	Share       *Range  `json:"share,omitempty"`
	CannotSay   string  `json:"cannotSay,omitempty"`
	Seen        Stamp   `json:"seen"`
	Review      string  `json:"review,omitempty"`
}

// FindingQuestion asks for one finding.
type FindingQuestion struct {
	ID string `json:"id"`
}

// Finding is a finding in whole: what was seen, what it says, what became of
// it. Shown is the figure that stood on the phone; Agrees says whether this
// computation gives the same to 1e-9. EventID is the event that an amendment
// starts from; Seen are those that it has seen besides.
type Finding struct {
	Card        FindingCard         `json:"card"`
	Site        string              `json:"site"`
	EventID     string              `json:"eventId"`
	Observation *record.Observation `json:"observation,omitempty"`
	Wiped       string              `json:"wiped,omitempty"`
	Note        string              `json:"note,omitempty"`
	Conditions  record.Conditions   `json:"conditions"`
	Program     *ProgramCard        `json:"program,omitempty"`
	Estimate    Estimate            `json:"estimate"`
	Shown       *record.Shown       `json:"shown,omitempty"`
	Agrees      bool                `json:"agrees"`
	Story       []Step              `json:"story"`
	Pictures    []PictureCard       `json:"pictures"`
	Seen        []string            `json:"seen,omitempty"`
}

// TagCard is a tag that a fixture was given, and by whom.
type TagCard struct {
	Code  string `json:"code"`
	Given Stamp  `json:"given"`
}

// PictureCard is a picture of a finding. Event is the one that added it. One that
// was withdrawn has no bytes any more: then Withdrawn says by whom and when, and
// Why why.
type PictureCard struct {
	Event     string `json:"event"`
	Hash      string `json:"hash"`
	Bytes     int    `json:"bytes"`
	Type      string `json:"type"`
	Width     int    `json:"width"`
	Height    int    `json:"height"`
	Taken     Stamp  `json:"taken"`
	Withdrawn *Stamp `json:"withdrawn,omitempty"`
	Why       string `json:"why,omitempty"`
}

// Step is one thing that happened to a finding, oldest first. What is
// "seen", "amended", "mended", "second-look", "reviewed", "picture",
// "withdrawn"; Codes are the vocabulary codes that go with it.
type Step struct {
	What  string   `json:"what"`
	Event string   `json:"event"`
	Who   Stamp    `json:"who"`
	Codes []string `json:"codes,omitempty"`
	Note  string   `json:"note,omitempty"`
	Off   bool     `json:"off,omitempty"`
}

// EstimateQuestion asks what an observation under a round's conditions says,
// while it is being entered.
type EstimateQuestion struct {
	Round       string             `json:"round"`
	Joint       string             `json:"joint"`
	Observation record.Observation `json:"observation"`
}

// EstimateAnswer is the estimate and what to keep as Shown.
type EstimateAnswer struct {
	Estimate Estimate      `json:"estimate"`
	Shown    *record.Shown `json:"shown,omitempty"`
}
