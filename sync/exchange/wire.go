package exchange

import (
	"encoding/json"

	"jointwalk/sync/journal"
)

const (
	// Speaks numbers the exchange that this build speaks; Oldest is the oldest that it still understands.
	Speaks = 2
	Oldest = 2
)

// The routes of the exchange.
const (
	PathMeet      = "/api/meet"
	PathPush      = "/api/push"
	PathPull      = "/api/pull"
	PathFrontiers = "/api/frontiers"
	PathFill      = "/api/fill"
	PathPictures  = "/api/pictures/"
	PathOlder     = "/api/older"
)

const (
	typeJSON   = "application/json"
	typeLines  = "application/x-ndjson"
	typeChunk  = "application/octet-stream"
	methodGet  = "GET"
	methodPost = "POST"
)

// Request is what a phone wants carried to the server. Path is on the server and has its query; Type is
// the body's content type, "" without a body; Clock goes into ClockHeader where it is not "".
type Request struct {
	Method, Path, Type, Clock string
	Body                      []byte
}

// Reply is what came back. Status 0 means that nobody answered.
type Reply struct {
	Status int
	Body   []byte
}

// Greeting is what a phone says of itself at the beginning of a whole turn.
type Greeting struct {
	Speaks      int               `json:"speaks"`
	App         string            `json:"app"`               // version of the app
	Log         string            `json:"log"`               // the log that it writes now
	Seq         uint64            `json:"seq"`               // how far that goes
	Earlier     []string          `json:"earlier,omitempty"` // logs that it wrote before and still holds
	Clock       string            `json:"clock"`             // its clock, journal.TimeLayout
	Me          string            `json:"me,omitempty"`      // Mark of the Welcome that it knows
	Incarnation string            `json:"incarnation,omitempty"`
	Cursors     map[string]string `json:"cursors,omitempty"` // site → where its next pull begins
}

// Welcome is the server's answer to a Greeting.
type Welcome struct {
	Speaks      int             `json:"speaks"`
	Oldest      int             `json:"oldest"` // a phone that speaks less is too old
	Version     string          `json:"version"`
	Incarnation string          `json:"incarnation"`
	Now         string          `json:"now"`               // the server's clock, journal.TimeLayout
	Mark        string          `json:"mark"`              // of me: unlike any other's
	Me          json.RawMessage `json:"me,omitempty"`      // who the phone belongs to; left out where the phone knows
	News        []string        `json:"news,omitempty"`    // sites with more than the phone's cursors say
	Behind      uint64          `json:"behind,omitempty"`  // how many events of their feeds that is
	Foreign     bool            `json:"foreign,omitempty"` // the log is another device's: begin a new one
	Lost        *Lost           `json:"lost,omitempty"`
}

// Lost is a log of this device that ended before all of it was sent, as far as the server was told.
type Lost struct {
	Log  string `json:"log"`
	Told uint64 `json:"told"` // how far the phone once said that it goes
	Upto uint64 `json:"upto"` // how far the server has it
}

// Frontiers is what a phone holds, and in the answer how far the server's feeds have that.
type Frontiers struct {
	Upto journal.Frontier `json:"upto"`
	// Ends are, by log, the places where a run of lines ends that follow each other on the phone.
	Ends map[string][]uint64 `json:"ends,omitempty"`
	// Hash is, by log, how the hashes begin of the lines that stand in those places, and in Upto; "" for none.
	Hash map[string][]string `json:"hash,omitempty"`
}

// hashStart is how much of a hash tells lines of one place apart.
const hashStart = 16

// Part is how much of a picture the server holds.
type Part struct {
	Have  int64 `json:"have"`
	Whole bool  `json:"whole"`
}

// who is what the exchange itself reads of a Welcome's me.
type who struct {
	Device struct {
		ID string `json:"id"`
	} `json:"device"`
	Sites []siteID `json:"sites"`
}

type siteID struct {
	ID string `json:"id"`
}
