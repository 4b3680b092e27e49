package main

import (
	"fmt"

	"jointwalk/sync/journal"
)

// story is one log that a phone writes, and how far the server has acknowledged it.
type story struct {
	site  string
	log   string
	lines []journal.Line // seq 1 first
	met   bool           // the server was told of the log
	acked int            // the server's word was heard for this many
	sent  int            // handed over at least once, this many
}

// tally is what a comparison of stories and pulls found.
type tally struct {
	acknowledged, unanswered, missing, doubled int
}

// compare holds the feed of all sites, as it was pulled, against the stories. What is not as it was sent, or was
// never sent, is an error.
func compare(stories []*story, feed []journal.Pair) (tally, error) {
	seen := map[string]int{} // line → times pulled
	for _, pair := range feed {
		seen[string(pair.Line)]++
	}
	var t tally
	known := 0
	for _, s := range stories {
		for i, line := range s.lines[:s.sent] {
			times := seen[string(line)]
			known += times
			t.count(i < s.acked, times)
		}
	}
	if known != len(feed) {
		return t, fmt.Errorf("%d pulled lines are not as any phone sent them", len(feed)-known)
	}
	if t.missing+t.doubled > 0 {
		return t, fmt.Errorf("%d acknowledged events are missing, %d events are there more than once", t.missing, t.doubled)
	}
	return t, nil
}

func (t *tally) count(acked bool, times int) {
	switch {
	case acked && times == 0:
		t.missing++
	case !acked && times > 0:
		t.unanswered++
	}
	if acked {
		t.acknowledged++
	}
	if times > 1 {
		t.doubled++
	}
}
