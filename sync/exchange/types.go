package exchange

import "jointwalk/sync/journal"

const (
	// MaxBatch and MaxBatchBytes bound one push.
	MaxBatch      = 200
	MaxBatchBytes = 256 << 10
	// MaxSlice and MaxSliceBytes bound one answer to a pull.
	MaxSlice      = 500
	MaxSliceBytes = 512 << 10
	// ClockHeader carries the sender's own clock with a push, in journal.TimeLayout.
	ClockHeader = "X-Jointwalk-Clock"
)

// What became of a pushed event.
const (
	Applied   = "applied"   // new, kept, in the site's feed
	Duplicate = "duplicate" // held already, the same bytes
	Aside     = "aside"     // kept apart with a code, not in the feed
)

// Codes of a Fault of this package. Those of the server's refusals stand in its answers.
const (
	CodeOffline      = "offline"        // nobody of ours answered
	CodeSignedOut    = "signed-out"     // the server knows no session of this device
	CodeRevoked      = "revoked"        // this device may only hand in what it holds
	CodeTooOld       = "app-too-old"    // the server does not understand this app any more
	CodeServerTooOld = "server-too-old" // the server does not understand this app yet
	CodeNotFound     = "not-found"      // no such route

	CodeUnknownPicture = "unknown-picture"
	CodeNotAPicture    = "not-a-picture"
	CodeLocated        = "picture-location" // it says where it was taken
	CodeWrongHash      = "wrong-hash"
	CodeBadHash        = "bad-hash"
	CodeTooLarge       = "too-large"
	CodeWithdrawn      = "withdrawn" // it was withdrawn: the server never takes it again

	CodeBadAnswer  = "bad-answer"  // what came back is not an answer to this batch
	CodeBadPush    = "bad-push"    // what was pushed is not whole lines
	CodeBadPull    = "bad-pull"    // what came back is not a whole slice
	CodeUnknownLog = "unknown-log" // no device has told of this log yet
	CodeNotYours   = "not-yours"   // its person does not use the device that wrote it
	CodeWrongSite  = "wrong-site"  // its person does not work there
	CodeTooMuch    = "too-much"    // a push beyond its bounds
)

// Receipt is the server's word about an event; it stands outside the line.
type Receipt = journal.Receipt

// Stored is an event as the store gives it back.
type Stored = journal.Pair

// Incoming is one pushed line on its way into the store. Event is zero when the line could not be
// parsed (then Aside is set). Receipt lacks N, which the store gives.
type Incoming struct {
	Line    journal.Line
	Event   journal.Event
	Hash    string
	Receipt Receipt
	Aside   string // not "": set aside with this code
	To      string // the site that this event moves its fixture to, "" for all others
	Fed     bool   // it was in a feed of this server before that was restored: then neither fork nor gap keeps it out
}

// Verdict says what became of one pushed line. Log and Seq are zero for a line that could not be parsed.
type Verdict struct {
	Log  string `json:"log"`
	Seq  uint64 `json:"seq"`
	Is   string `json:"is"`
	Code string `json:"code,omitempty"`
}

// Answer is the answer to a push: one verdict a line, in the order of the lines.
type Answer struct {
	Answers []Verdict         `json:"answers"`
	Upto    map[string]uint64 `json:"upto"` // log → highest seq below which the server lacks nothing
	Now     string            `json:"now"`  // the server's clock, journal.TimeLayout
}

// Keeper is what Hall asks of the store.
type Keeper interface {
	// Add keeps all items in one transaction and gives a verdict for each, in order. An error means that none was kept.
	// Identity is (log, seq): same hash → duplicate; other hash → aside with journal.CodeForked.
	// Items with Aside are set aside under their hash; the same again is no second entry.
	Add(items []Incoming) ([]Verdict, error)
	// Upto is the highest seq of the log up to which nothing is missing, those set aside included.
	Upto(log string) (uint64, error)
	// Fed is how far a log stands in the feeds from its first event on without a gap, at most most.
	Fed(log string, most uint64) (uint64, error)
	// Stand gives the hashes of the events in feeds that stand for these seqs of a log, "" for none.
	Stand(log string, seqs []uint64) ([]string, error)
}

// Feed is what Hall asks of the store.
type Feed interface {
	// Site gives at most max events of the site with n > after, in order of n, and whether there are more.
	Site(site string, after uint64, max int) ([]Stored, bool, error)
	// Last is the site's highest n, 0 for a site without events.
	Last(site string) (uint64, error)
	// Incarnation names this life of the store: another one after a restore.
	Incarnation() string
}
