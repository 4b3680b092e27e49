package main

import (
	"slices"
	"time"
)

// figures are what a run measured. Times are in ms.
type figures struct {
	Date          string  `json:"date"`
	Seed          uint64  `json:"seed"`
	Clients       int     `json:"clients"`
	Kills         int     `json:"kills"`         // under load
	StartKills    int     `json:"startKills"`    // while the server was still starting
	InFlight      int     `json:"inFlight"`      // kills with at least one push unanswered
	LostAnswers   int     `json:"lostAnswers"`   // pushes that got no answer
	Duplicates    int     `json:"duplicates"`    // events sent again that had been kept: their answer was lost
	Acknowledged  int     `json:"acknowledged"`  // events
	Unanswered    int     `json:"unanswered"`    // events kept whose acknowledgement never arrived
	Missing       int     `json:"missing"`       // acknowledged, and not in the pulls; a run with any fails
	Doubled       int     `json:"doubled"`       // in the pulls more than once; a run with any fails
	Checks        int     `json:"checks"`        // of the store's file by bbolt, each clean or the run fails
	Bytes         int64   `json:"bytes"`         // of the store's file at the end
	BackMedian    float64 `json:"backMedian"`    // from the start of the process to its first good answer
	Back95        float64 `json:"back95"`        // the same, 95 of 100 are faster
	BackMost      float64 `json:"backMost"`      // the same, the slowest
	LoadSeconds   float64 `json:"loadSeconds"`   // pushes were going on
	EventsPerLoad float64 `json:"eventsPerLoad"` // acknowledged a second of load
}

// measure fills in what follows from the times back and the time under load.
func (f *figures) measure(back []time.Duration, load time.Duration) {
	sorted := slices.Sorted(slices.Values(back))
	f.BackMedian, f.Back95, f.BackMost = ms(share(sorted, 0.5)), ms(share(sorted, 0.95)), ms(share(sorted, 1))
	f.LoadSeconds = float64(load.Milliseconds()) / 1000
	if load > 0 {
		f.EventsPerLoad = float64(int(float64(f.Acknowledged) / load.Seconds()))
	}
}

// share is the smallest value that at least this share of all does not exceed; 0 for none.
func share(sorted []time.Duration, part float64) time.Duration {
	if len(sorted) == 0 {
		return 0
	}
	at := int(part*float64(len(sorted))+0.999999) - 1
	return sorted[max(0, min(at, len(sorted)-1))]
}

func ms(d time.Duration) float64 { return float64(d.Microseconds()/100) / 10 }
