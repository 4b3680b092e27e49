package web

import (
	"errors"
	"sync"

	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
	"jointwalk/sync/record"
)

// mostComing is how many pictures on their way are remembered at most: a phone's batch has fewer.
const mostComing = 10_000

// coming remembers who adds pictures while their events are judged: a withdrawal may come in one batch with what it takes
// back. What is forgotten is in the feeds by then, or comes again with its batch.
type coming struct {
	mu sync.Mutex
	by map[[2]string]string // fixture and event → person
}

func (c *coming) note(e journal.Event) {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.by == nil || len(c.by) >= mostComing {
		c.by = map[[2]string]string{}
	}
	c.by[[2]string{e.About.Fixture, e.ID}] = e.By
}

func (c *coming) addedBy(fixture, event string) (person string, known bool) {
	c.mu.Lock()
	defer c.mu.Unlock()
	person, known = c.by[[2]string{fixture, event}]
	return person, known
}

// forbidsWithdrawal says why a person's event that withdraws a picture may not: it gives no reason, or the picture came in this very
// batch from somebody else, where people share a phone. "" for any other event.
func (s *Server) forbidsWithdrawal(p Person, e journal.Event) (code string, err error) {
	if record.Kind(e.Kind) != record.Withdrawn {
		return "", nil
	}
	by, picture, err := s.parts.Album.AddedBy(e.About.Fixture, e.Base)
	if !picture && err == nil {
		by, picture = s.coming.addedBy(e.About.Fixture, e.Base)
	}
	if err != nil || !picture {
		return "", err
	}
	var fault *record.Fault
	if errors.As(record.CheckReason(e.Body), &fault) {
		return fault.Code, nil
	}
	if by != e.By && !p.does(supervises, e.About.Site) {
		return codeNotYours, nil
	}
	return "", nil
}

// wasWithdrawn says whether a picture was refused because it was withdrawn.
func wasWithdrawn(err error) bool {
	var refusal *Refusal
	return errors.As(err, &refusal) && refusal.Code == exchange.CodeWithdrawn
}
