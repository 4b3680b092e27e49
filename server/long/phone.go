package main

import (
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"sync/atomic"
	"time"

	"jointwalk/server/example"
	"jointwalk/sync/exchange"
	"jointwalk/sync/journal"
)

const (
	mostBatch = 40                    // events in a push
	mostPause = 8 * time.Millisecond  // of a phone after an answer
	missed    = 10 * time.Millisecond // until a phone tries again when nobody answered
)

// phone pushes one story after the other, as fast as its pauses let it.
type phone struct {
	*client
	installation, person, site string
	chance                     *rand.Rand
	bytes                      io.Reader // for ids and tags
	stories                    []*story
	unanswered                 *atomic.Int64 // pushes under way, of all phones
	lostAnswers, duplicates    int
}

// work pushes until stop is closed. An error is a word of the server that breaks an earlier one, or one that no
// phone of an honest server hears.
func (p *phone) work(stop <-chan struct{}) error {
	for {
		s, err := p.current()
		if err != nil {
			return err
		}
		pause, err := p.once(s)
		if err != nil {
			return err
		}
		select {
		case <-stop:
			return nil
		case <-time.After(pause):
		}
	}
}

// current is the story that is being handed in; a new one when all of the last is acknowledged.
func (p *phone) current() (*story, error) {
	if n := len(p.stories); n > 0 && p.stories[n-1].acked < len(p.stories[n-1].lines) {
		return p.stories[n-1], nil
	}
	lines, err := example.Lines(example.Scene{Installation: p.installation, Site: p.site, Technician: p.person, Engineer: p.person,
		Now: time.Now(), Random: p.bytes})
	if err != nil {
		return nil, err
	}
	first, err := journal.Parse(lines[0])
	if err != nil {
		return nil, err
	}
	s := &story{site: p.site, log: first.Log, lines: lines}
	p.stories = append(p.stories, s)
	return s, nil
}

// once makes one push and gives the pause after it.
func (p *phone) once(s *story) (time.Duration, error) {
	if !s.met {
		if err := p.meet(s.log); errors.Is(err, errNoAnswer) {
			return missed, nil
		} else if err != nil {
			return 0, err
		}
		s.met = true
	}
	upto := min(s.acked+1+p.chance.IntN(mostBatch), len(s.lines))
	s.sent = max(s.sent, upto)
	p.unanswered.Add(1)
	answer, err := p.push(s.lines[s.acked:upto])
	p.unanswered.Add(-1)
	if errors.Is(err, errNoAnswer) {
		p.lostAnswers++
		return missed, nil
	}
	if err != nil {
		return 0, err
	}
	if err := p.heard(s, answer, upto); err != nil {
		return 0, err
	}
	return time.Duration(p.chance.Int64N(int64(mostPause))), nil
}

// heard takes the server's word for the events up to there.
func (p *phone) heard(s *story, answer exchange.Answer, upto int) error {
	for i, verdict := range answer.Answers {
		seq := uint64(s.acked + i + 1)
		if verdict.Log != s.log || verdict.Seq != seq || verdict.Is == exchange.Aside {
			return fmt.Errorf("event %d of log %s was answered with %+v", seq, s.log, verdict)
		}
		if verdict.Is == exchange.Duplicate {
			p.duplicates++
		}
	}
	if held := answer.Upto[s.log]; held < uint64(upto) {
		return fmt.Errorf("log %s: acknowledged up to %d, and the server lacks something after %d", s.log, upto, held)
	}
	s.acked = upto
	return nil
}
