package store

import (
	"encoding/json"
	"fmt"

	"jointwalk/sync/journal"
)

// Audit is one line of the trail: when, by whom, what was done and to what. It names people by id only: a line is kept
// for good, a name may be erased.
type Audit struct {
	N     uint64 `json:"n"` // given by the store, dense from 1
	At    string `json:"at"`
	By    string `json:"by"` // person id, "" for the server itself
	What  string `json:"what"`
	About string `json:"about"`
	Prev  string `json:"prev"` // given by the store: the hash of the line before, "" for the first
	Hash  string `json:"-"`    // given by the store: the hash of this line as it is kept
}

// Head is the newest line of a trail, by its number and hash. The zero Head is that of a trail without lines.
type Head struct {
	N    uint64 `json:"n"`
	Hash string `json:"hash"`
}

// Line is the line of an audit that comes next after the head. It is kept byte for byte: the next one names its hash.
func (h Head) Line(audit Audit) (journal.Line, error) {
	audit.N, audit.Prev = h.N+1, h.Hash
	return json.Marshal(audit)
}

// ReadAudit reads a line of the trail.
func ReadAudit(line journal.Line) (Audit, error) {
	audit := Audit{Hash: journal.Hash(line)}
	err := json.Unmarshal(line, &audit)
	return audit, err
}

// Head is what the line after this one must name.
func (a Audit) Head() Head { return Head{N: a.N, Hash: a.Hash} }

// Wrong says in plain words why a line cannot be the one after the head, "" when it can.
func (h Head) Wrong(next Audit) string {
	switch {
	case next.N != h.N+1:
		return fmt.Sprintf("line of the trail %d is missing, %d comes instead", h.N+1, next.N)
	case next.Prev != h.Hash && h.N == 0:
		return "line of the trail 1 names a line before it: what stood there is gone"
	case next.Prev != h.Hash:
		return fmt.Sprintf("line of the trail %d names another line before it than %d as it stands here: one of them was changed", next.N, h.N)
	}
	return ""
}

// WrongEnd says in plain words why the trail cannot end here when its store noted another head, "" when it can.
func (h Head) WrongEnd(noted Head) string {
	switch {
	case h == noted:
		return ""
	case h.N == noted.N:
		return fmt.Sprintf("line of the trail %d, the newest, is not the one that was noted as such: it was changed", h.N)
	}
	return fmt.Sprintf("the trail ends at line %d, but line %d was noted as the newest", h.N, noted.N)
}

// trailPage is how many lines of a trail are read at once.
const trailPage = 1000

// WalkTrail calls see with each line of the trail, oldest first, and wrong with each break of its chain. It gives the
// head that it came to. What it cannot tell: a trail that somebody who may write all of the store made anew, or put back to
// an earlier state as a whole. For that a hash noted elsewhere is looked for among the lines.
func WalkTrail(rows Rows, see func(Audit), wrong func(string)) (at Head, err error) {
	tell := func(what string) {
		if what != "" {
			wrong(what)
		}
	}
	for {
		noted, err := rows.Head() // before the lines: what comes in meanwhile is read in the next turn
		if err != nil {
			return at, err
		}
		some, err := rows.Audits(at.N, trailPage)
		if err != nil {
			return at, err
		}
		if len(some) == 0 {
			tell(at.WrongEnd(noted))
			return at, nil
		}
		for _, audit := range some {
			tell(at.Wrong(audit))
			see(audit)
			at = audit.Head()
		}
	}
}
