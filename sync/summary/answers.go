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

// FixtureCard is a fixture in a list. Waiting is how many of its repairs wait for
// their second look.
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
	Waiting   int      `json:"waiting,omitempty"`
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
// carries its tag now, "" for itself. Photo is its last one that stands. Notes are
// those of itself and its joints, newest first. Running are its open rounds, newest
// first; OpenRound is the first of them.
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
	Running   []OpenRound        `json:"running,omitempty"`
	Last      *record.Conditions `json:"last,omitempty"`
	Cautions  []string           `json:"cautions"`
	Made      Stamp              `json:"made"`
	Base      string             `json:"base"`
	Seen      []string           `json:"seen,omitempty"`
	Tags      []TagCard          `json:"tags"`
	TagOn     string             `json:"tagOn,omitempty"`
	Photo     *PictureCard       `json:"photo,omitempty"`
	Notes     []NoteCard         `json:"notes"`
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

// JointCard is a joint with its state. Mark is the joint's state now, Finding the
// worst finding that stands and Standing how many do; History holds the marks of
// its last looks, oldest first. Event is what an edit starts
// from; Seen are the events that it has seen besides. Less is its last look's.
type JointCard struct {
	ID      string         `json:"id"`
	Event   string         `json:"event"`
	Seen    []string       `json:"seen,omitempty"`
	Name    string         `json:"name"`
	Kind    string         `json:"kind"`
	Circuit string         `json:"circuit"`
	Tube    *record.Amount `json:"tube,omitempty"`
	Order   float64        `json:"order"`
	Pin     *record.Pin    `json:"pin,omitempty"`
	Run     string         `json:"run,omitempty"`
	Mark    Mark           `json:"mark"`
	Finding string         `json:"finding,omitempty"`
	State   string         `json:"state,omitempty"`
	Less    string         `json:"less,omitempty"`
	History []LookMark     `json:"history"`

	Standing int `json:"standing,omitempty"`
}

// LookMark is one look in a strip of looks. Less is why one at which nothing was
// seen says less than a good one ("partly", a sight), or nothing ("solution-left",
// "back-not-seen").
type LookMark struct {
	Mark  Mark   `json:"mark"`
	Time  string `json:"time"`
	Round string `json:"round"`
	Less  string `json:"less,omitempty"`
}

// RoundCard is a round in a list.
type RoundCard struct {
	ID      string   `json:"id"`
	Started Stamp    `json:"started"`
	Ended   *Stamp   `json:"ended,omitempty"`
	Says    []Phrase `json:"says"`
}

// OpenRound is a round that has not ended: Done of All joints were looked at. Left is
// when the last thing was done in it, where that is more than a day ago.
type OpenRound struct {
	ID      string `json:"id"`
	Started Stamp  `json:"started"`
	Done    int    `json:"done"`
	All     int    `json:"all"`
	Left    *Stamp `json:"left,omitempty"`
}

// RoundQuestion asks for one round.
type RoundQuestion struct {
	ID string `json:"id"`
}

// Round is all that the looking and the ending of a round show. Findings are
// ranked, largest first. Notes are those of the round and of the joints, newest
// first. EndNote is what was said at its end. Others are the other rounds that are
// open on the same fixture. Left is when the last thing was done before it was left
// open for more than a day, until now or until it ended. Changed is who set another
// program while it was open: the round keeps the one that it began with.
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
	Notes       []NoteCard        `json:"notes"`
	EndNote     string            `json:"endNote,omitempty"`
	Others      []OpenRound       `json:"others,omitempty"`
	Left        *Stamp            `json:"left,omitempty"`
	Changed     *Stamp            `json:"changed,omitempty"`
}

// RoundJoint is a joint within a round: what this round saw of it. Waits is the
// finding whose repair waits for its second look there, of whatever round. Moved are
// the joints that the last work on it may have moved since this round saw them tight.
// Less is that of its last look, as in LookMark.
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
	Sign    string         `json:"sign,omitempty"`
	LookID  string         `json:"lookId,omitempty"`
	EventID string         `json:"eventId,omitempty"`
	Why     string         `json:"why,omitempty"`
	Seconds float64        `json:"seconds,omitempty"`
	Less    string         `json:"less,omitempty"`
	Retired bool           `json:"retired,omitempty"`
	Waits   string         `json:"waits,omitempty"`
	Moved   []string       `json:"moved,omitempty"`

	// Walk is its place, from 1, on the way from pin to pin of the fixture's photo, 0 for a joint that is not pinned.
	Walk int `json:"walk,omitempty"`

	// Spots are all that this round found leaking at it, oldest first; Finding, State and Figure are those of the worst that
	// stands. Leaking of them leak now, Together about so much in the figures' unit, "" where fewer than two were sized.
	// NextSpot names another one.
	Spots    []SpotCard `json:"spots,omitempty"`
	Leaking  int        `json:"leaking,omitempty"`
	Together string     `json:"together,omitempty"`
	NextSpot string     `json:"nextSpot,omitempty"`
}

// SpotCard is one spot of a joint at which a round found a leak. Spot tells it
// apart on a screen, "" where it is the only one; Named is its name in the look.
type SpotCard struct {
	Finding string  `json:"finding"`
	Spot    string  `json:"spot,omitempty"`
	Named   string  `json:"named,omitempty"`
	Mark    Mark    `json:"mark"`
	State   string  `json:"state"`
	Figure  *Figure `json:"figure,omitempty"`
}

// Unseen bounds what the joints with nothing seen may still leak together:
// High in Unit, or CannotSay with the reason. Weak of the Joints were seen partly,
// which makes the bound wider; of Beside more nothing can be said.
type Unseen struct {
	Joints    int    `json:"joints"`
	Weak      int    `json:"weak,omitempty"`
	Beside    int    `json:"beside,omitempty"`
	High      string `json:"high,omitempty"`
	Unit      string `json:"unit,omitempty"`
	Ref       string `json:"ref,omitempty"`
	Share     string `json:"share,omitempty"`
	CannotSay string `json:"cannotSay,omitempty"`
}

// WatchQuestion asks what a look at some joints of a round shows as its clock
// runs, if nothing is seen. Bubbling are wetted with them: they leak, and are
// neither bounded nor left. Back says whether they are seen all around.
type WatchQuestion struct {
	Round    string   `json:"round"`
	Joints   []string `json:"joints"`
	Bubbling []string `json:"bubbling,omitempty"`
	Back     bool     `json:"back"`
}

// Watch is what a look shows as its clock runs. Only the test side counts:
// Counted joints of those that were asked about, and Left ones that are not looked
// at yet. Enough is the time in seconds after which the round bounds the leak below
// the allowance, if all that are left are looked at as long; 0 where the program
// has no limit or, with the reason in Cannot, where no time does it. Short earlier
// looks do not do it, and must be made again for as long. Steps hold the
// bounds by rising time, in Unit with its reference.
type Watch struct {
	Unit    string      `json:"unit"`
	Ref     string      `json:"ref"`
	Counted int         `json:"counted"`
	Left    int         `json:"left"`
	Enough  int         `json:"enough"`
	Short   int         `json:"short,omitempty"`
	Cannot  string      `json:"cannot,omitempty"`
	Steps   []WatchStep `json:"steps"`
}

// WatchStep is what is bounded once the clock has run for Seconds: High for the
// group, All for all that this round saw, Share the latter's percent of the limit.
type WatchStep struct {
	Seconds int    `json:"seconds"`
	High    string `json:"high"`
	All     string `json:"all"`
	Share   string `json:"share,omitempty"`
}

// FindingsQuestion asks for findings: all sites or one; Only may be "open",
// "waiting" or "unreviewed".
type FindingsQuestion struct {
	Site string `json:"site,omitempty"`
	Only string `json:"only,omitempty"`
}

// Findings is the review list, newest first.
type Findings struct {
	Findings []FindingCard `json:"findings"`
}

// FindingCard is a finding in a list. Spot tells it apart from others that the
// round found at the joint, "" where it is the only one. Obstacle is why the last
// second look, at which nothing was seen, did not close its repair: "ran-off",
// "not-around", "not-close", "wet-before" or "wet-vented".
type FindingCard struct {
	ID          string  `json:"id"`
	Fixture     string  `json:"fixture"`
	FixtureName string  `json:"fixtureName"`
	Round       string  `json:"round"`
	Joint       string  `json:"joint"`
	JointName   string  `json:"jointName"`
	Spot        string  `json:"spot,omitempty"`
	Circuit     string  `json:"circuit"`
	Mark        Mark    `json:"mark"`
	State       string  `json:"state"`
	Sign        string  `json:"sign,omitempty"`
	Figure      *Figure `json:"figure,omitempty"`
	Share       *Range  `json:"share,omitempty"`
	CannotSay   string  `json:"cannotSay,omitempty"`
	Seen        Stamp   `json:"seen"`
	Review      string  `json:"review,omitempty"`
	Obstacle    string  `json:"obstacle,omitempty"`
}

// FindingQuestion asks for one finding.
type FindingQuestion struct {
	ID string `json:"id"`
}

// Finding is a finding in whole: what was seen, what it says, what became of
// it. Shown is the figure that stood on the phone; Agrees says whether this
// computation gives the same to 1e-9. EventID is the event that an amendment
// starts from; Seen are those that it has seen besides. Spares are the spare parts
// that repairs of the fixture used, likeliest first.
type Finding struct {
	Card        FindingCard         `json:"card"`
	Site        string              `json:"site"`
	EventID     string              `json:"eventId"`
	Observation *record.Observation `json:"observation,omitempty"`
	Wiped       string              `json:"wiped,omitempty"`
	Vented      string              `json:"vented,omitempty"`
	Rewets      int                 `json:"rewets,omitempty"`
	Note        string              `json:"note,omitempty"`
	Conditions  record.Conditions   `json:"conditions"`
	Program     *ProgramCard        `json:"program,omitempty"`
	Estimate    Estimate            `json:"estimate"`
	Shown       *record.Shown       `json:"shown,omitempty"`
	Agrees      bool                `json:"agrees"`
	Story       []Step              `json:"story"`
	Pictures    []PictureCard       `json:"pictures"`
	Seen        []string            `json:"seen,omitempty"`
	Spares      []string            `json:"spares,omitempty"`
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

	Arrows []record.Arrow `json:"arrows,omitempty"`
}

// NoteCard is a note. Of is the id of what it is about: the fixture, a joint, a
// round or a look; JointName names the joint, its own or that of its look.
type NoteCard struct {
	Event     string `json:"event"`
	Of        string `json:"of"`
	JointName string `json:"jointName,omitempty"`
	Text      string `json:"text"`
	Added     Stamp  `json:"added"`
}

// Step is one thing that happened to a finding, oldest first. What is
// "seen", "amended", "mended", "second-look", "reviewed", "picture",
// "withdrawn", "note"; Codes are the vocabulary codes that go with it.
type Step struct {
	What  string   `json:"what"`
	Event string   `json:"event"`
	Who   Stamp    `json:"who"`
	Codes []string `json:"codes,omitempty"`
	Note  string   `json:"note,omitempty"`
	Spare string   `json:"spare,omitempty"`
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
