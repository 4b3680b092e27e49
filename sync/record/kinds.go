package record

// Kind names what happened. Kinds are for ever: additive only, never renamed.
type Kind string

// The kinds of version 1.
const (
	FixtureRegistered Kind = "fixture-registered"
	FixtureEdited     Kind = "fixture-edited"
	ProgramSet        Kind = "program-set"
	JointAdded        Kind = "joint-added"
	JointEdited       Kind = "joint-edited"
	JointRetired      Kind = "joint-retired"
	RoundStarted      Kind = "round-started"
	RoundEnded        Kind = "round-ended"
	LookMade          Kind = "look-made"
	LookAmended       Kind = "look-amended"
	FindingMended     Kind = "finding-mended"
	FindingReviewed   Kind = "finding-reviewed"
	PictureAdded      Kind = "picture-added"
	Withdrawn         Kind = "withdrawn"
	FixtureMoved      Kind = "fixture-moved"
	NoteAdded         Kind = "note-added"
)

// Version is the body version written by this build for every kind.
const Version = 1

// Result is what a look at one joint gave.
type Result string

// The results of a look.
const (
	None       Result = "none"        // nothing seen
	Leaks      Result = "leaks"       // bubbles, with an observation
	Gross      Result = "gross"       // solution blown off, heard or felt: fix first
	Partly     Result = "partly"      // nothing seen on the part that could be seen
	NotReached Result = "not-reached" // not looked at, with the reason why
)

// FindingState is what became of a finding.
type FindingState string

// The states of a finding.
const (
	Open     FindingState = "open"
	Waiting  FindingState = "waiting"  // mended, waits for its second look
	OnSpot   FindingState = "on-spot"  // mended on the spot and seen tight
	Gone     FindingState = "gone"     // gone on a second look
	Accepted FindingState = "accepted" // accepted as it is
)

// The vocabularies of the fields that hold a code. Words for them live in the
// app's catalogue.
var (
	JointKinds = []string{
		"compression", "flared", "push-to-connect", "pipe-thread", "face-seal", "part-seal",
		"instrument-port", "quick-coupling", "hose-barb", "bulkhead", "valve-seat", "valve-stem",
		"regulator", "filter-bowl", "check-valve", "manifold-plug", "gasket", "rod-seal",
		"tube-wall", "weld",
	}
	Circuits  = []string{"test", "reference", "supply", "control", "clamp", "vent"}
	Gases     = []string{"air", "nitrogen", "helium", "argon", "carbon-dioxide", "hydrogen-5-nitrogen"}
	Solutions = []string{"film", "water"}
	Wettings  = []string{"after", "before"}
	Orders    = []string{"after", "before", "vented"}
	Results   = []Result{None, Leaks, Gross, Partly, NotReached}
	Whys      = []string{"hidden", "guarded", "hot", "electric", "not-allowed", "no-time", "other"}
	Wipes     = []string{"came-back", "stayed-away", "not-tried"}
	Signs     = []string{"heard", "felt", "blown-off"}
	Sights    = []string{"partly"}
	Vents     = []string{"stopped", "went-on", "not-tried"}
	Counts    = []string{"window", "ten", "taps", "collected", "class", "dome", "froth"}
	Classes   = []string{"froth-creeping", "string", "growing-bursting", "heard", "blown-off"} // those of calc/class
	SizeAs    = []string{"tube", "diameter", "none", "picture", "ring"}
	Causes    = []string{"loose", "seal-worn", "seal-missing", "dirt", "scratched", "cracked", "sealant", "wrong-part", "unknown"}
	Actions   = []string{"tightened", "seal-replaced", "part-replaced", "cleaned", "resealed", "rerouted", "other"}
	Mendings  = []string{"on-spot", "later"}
	Verdicts  = []string{"accept", "look-again"}
	PutBacks  = []string{"settings", "background", "times", "blanks", "valves", "dried", "guard", "calibrated-leak"}
)
