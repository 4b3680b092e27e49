package journal

// PoolSize is the number of files that a device makes once, at its first start.
const PoolSize = 16

// Slot is one file of the pool. Fresh means that it did not exist before this start.
type Slot struct {
	Name  string
	File  File
	Fresh bool
}

// Pool is the fixed set of files of a device and the streams that live in them: the own log, the
// state, the pictures and one feed a site. A fresh file is trusted only when all were fresh
// (the first start) or a later start has found it.
type Pool struct{}

// OpenPool reads the headers of all files and recovers every stream. id is a new UUIDv7: the own log's id
// if there is no log yet, and the mark of files claimed from now on.
// Errors: CodeNoTrustedFile, CodeStorageFull, CodeReadFailed, CodeWriteFailed.
func OpenPool(slots []Slot, id string) (*Pool, error) { panic("journal: not built yet") }

// Log is the device's own log.
func (p *Pool) Log() *Log { panic("journal: not built yet") }

// State is the small store of what the device must remember besides events.
func (p *Pool) State() *State { panic("journal: not built yet") }

// Pictures are the pictures that wait to be sent.
func (p *Pool) Pictures() *Pictures { panic("journal: not built yet") }

// Site is the feed of a site; a file is claimed for it when there is none.
// Errors: CodeNoRoomForSite and those of a write.
func (p *Pool) Site(id string) (*Feed, error) { panic("journal: not built yet") }

// Sites are the ids of the sites that have a feed, sorted.
func (p *Pool) Sites() []string { panic("journal: not built yet") }

// DropSite gives a site's file back: its feed is gone. No feed is no error.
func (p *Pool) DropSite(id string) error { panic("journal: not built yet") }

// Report says what was found at the start.
func (p *Pool) Report() Report { panic("journal: not built yet") }

// Report says what a start found in the pool.
type Report struct {
	First  bool         // all files were fresh
	Lost   []string     // names of files that had to be made again
	Free   int          // trusted files that no stream has claimed
	Files  []FileReport // those that hold something, by name
	Damage int          // bad stretches over all files
}

// FileReport says what one file holds. Stream is "own", "state", "pictures", "site:<id>" or "" when
// nothing could be made of it: such a file is left alone.
type FileReport struct {
	Name   string
	Stream string
	Size   int64
	Active bool // false for an older file of a stream, kept but not written
	Damage Damage
}
