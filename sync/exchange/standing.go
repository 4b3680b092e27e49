package exchange

import "jointwalk/sync/journal"

// Reach says whether the server answered last.
type Reach string

// The reaches of a Phone.
const (
	Unknown Reach = "unknown" // nothing was tried since the start
	Reached Reach = "reached"
	Offline Reach = "offline"
)

// standing is what the server last said, for a person to read. It does not outlive a start.
type standing struct {
	reach     Reach
	signedOut bool
	server    string
	offset    *int64
	lost      *Lost
	tooOld    string
	problem   string
	synced    string
}

// Standing is how a phone stands towards the server.
type Standing struct {
	Unsent        int    // events that the server has not acknowledged
	Oldest        string // time of the oldest of them, by the device's clock; "" for none
	Pictures      int    // pictures that the server has not confirmed
	OldestPicture string
	Asides        int    // events that the server keeps apart
	Log           string // id of the log that is written now
	Reach         Reach
	SignedOut     bool
	Revoked       bool
	TooOld        string // CodeTooOld: the app; CodeServerTooOld: the server; "" for neither
	Server        string // its version, "" before it answered
	ClockOffset   *int64 // the device's clock minus the server's, ms; nil before it answered
	Lost          *Lost  // an earlier log of this device that ended unsent
	Problem       string // code of what keeps the exchange from going on though reached
	Synced        string // when a whole turn last went through, by the device's clock
	Paused        bool   // since Stop
	Doing         *Doing // nil while nothing takes long
}

// Standing says how this phone stands.
func (p *Phone) Standing() Standing {
	s := Standing{
		Unsent: p.outbox.Unsent(), Oldest: p.outbox.Oldest(), Asides: len(p.asides), Log: p.pool.Log().ID(), Revoked: p.revoked,
		Reach: p.reach, SignedOut: p.signedOut, TooOld: p.tooOld, Server: p.server, ClockOffset: p.offset, Lost: p.lost,
		Problem: p.problem, Synced: p.synced, Paused: p.paused, Doing: p.doing(),
	}
	if s.Reach == "" {
		s.Reach = Unknown
	}
	for _, picture := range p.pool.Pictures().List() {
		if picture.Confirmed {
			continue
		}
		s.Pictures++
		if s.OldestPicture == "" {
			s.OldestPicture = picture.At
		}
	}
	return s
}

// Export is a part of what the server has not acknowledged, as lines, beginning behind the first after of them.
// more says that there is another part behind it.
func (p *Phone) Export(after int) (lines []journal.Line, more bool, err error) {
	lines, err = p.outbox.source.After(p.outbox.acked, after+MaxBatch+1, 1<<30)
	lines = lines[min(after, len(lines)):]
	if len(lines) > MaxBatch {
		return lines[:MaxBatch], true, err
	}
	return lines, false, err
}
