package journal

// Log is the device's own log: events written here, in order, chained.
type Log struct{}

// OpenLog reads the log in file. A torn tail is cut off; a bad line in the middle is skipped,
// counted and told by Damage. id (a new UUIDv7) becomes the log's id when file holds no event yet.
// older are read-only files with earlier lines of this device, oldest first; mostly there are none.
func OpenLog(file File, id string, older ...File) (*Log, error) { panic("journal: not built yet") }

// ID is the id that the next event will carry.
func (l *Log) ID() string { panic("journal: not built yet") }

// Owns says whether id is a log of this device, the present one or an earlier one.
func (l *Log) Owns(id string) bool { panic("journal: not built yet") }

// Seq is the seq of the last event of the present log, 0 when it has none.
func (l *Log) Seq() uint64 { panic("journal: not built yet") }

// Tick is the highest tick written or witnessed.
func (l *Log) Tick() uint64 { panic("journal: not built yet") }

// Witness raises the Lamport counter to a tick that was seen elsewhere.
func (l *Log) Witness(tick uint64) { panic("journal: not built yet") }

// Renew starts another log in the same file: what the device does when it learns of a fork.
// The next event has seq 1. Earlier lines stay.
func (l *Log) Renew(id string) { panic("journal: not built yet") }

// Append writes the drafts: one buffer, one write, one flush, then read back. When it returns
// nil the lines are kept ("saved"). On any error nothing is kept, the log is as before and usable.
// Each event gets the highest tick seen so far + 1.
func (l *Log) Append(drafts []Draft) ([]Line, error) { panic("journal: not built yet") }

// After gives the lines beyond upto, in the order written, at most most lines and size bytes
// (the first line is given even when it is longer).
func (l *Log) After(upto Frontier, most, size int) ([]Line, error) { panic("journal: not built yet") }

// Count is the number of lines beyond upto.
func (l *Log) Count(upto Frontier) int { panic("journal: not built yet") }

// Each calls visit with every line in the order written, until visit returns false. The line is the caller's.
func (l *Log) Each(visit func(Line) bool) error { panic("journal: not built yet") }

// Damage is what was found when the log was opened.
func (l *Log) Damage() Damage { panic("journal: not built yet") }

// Damage tells what was wrong with a file when it was opened.
type Damage struct {
	Torn   int        // bytes cut off the end: a write that was never acknowledged
	Bad    int        // stretches in the middle that could not be read and were skipped
	Broken int        // lines whose prev is not the hash of the line before them
	Aside  []Fragment // the bytes of Bad, still in the file (at most MaxAside bytes in all)
}

// Fragment is a piece of a file that could not be read.
type Fragment struct {
	Offset int64
	Bytes  []byte
}
