package record

import (
	"encoding/json"
	"fmt"
	"testing"

	"jointwalk/sync/journal"
)

// twentyThousand are the events of twelve fixtures: rounds of looks, a repair
// and a review in each.
func twentyThousand(tb testing.TB) []journal.Event {
	var events []journal.Event
	seq := map[string]uint64{}
	write := func(fixture int, kind Kind, of string, body any) {
		raw, err := json.Marshal(body)
		if err != nil {
			tb.Fatal(err)
		}
		log := fmt.Sprintf("0197a1b0-0000-7000-8000-%012d", len(events)%5)
		seq[log]++
		n := len(events)
		events = append(events, journal.Event{
			V: 1, ID: fmt.Sprintf("0197a1b1-0000-7000-8000-%012d", n), Log: log, Seq: seq[log], Tick: uint64(n + 1), By: "person-a",
			Time:  fmt.Sprintf("2026-03-%02dT%02d:%02d:%02d.000Z", n/3600%28+1, n/1200%24, n/60%60, n%60),
			About: journal.About{Site: "site-a", Fixture: fmt.Sprintf("fixture-%d", fixture), Of: of}, Kind: string(kind), Body: raw,
		})
	}
	for f := range 12 {
		write(f, FixtureRegistered, "", RegisteredBody{Name: fmt.Sprintf("Rig %d", f), Tag: "4K7Q2M9XTC" + string(CheckCharacter("4K7Q2M9XTC"))})
		for j := range 12 {
			write(f, JointAdded, fmt.Sprintf("j%d-%d", f, j), Joint{Name: fmt.Sprintf("Joint %d", j), Kind: "compression", Circuit: "test", Order: float64(j)})
		}
	}
	for n := 0; len(events) < 20000; n++ {
		f := n % 12
		round := fmt.Sprintf("r%d", n)
		write(f, RoundStarted, round, roundOf())
		for j := range 12 {
			look := Look{Round: round, Joint: fmt.Sprintf("j%d-%d", f, j), Result: None, Seconds: 60, Stayed: true, Back: true}
			if j == n%12 {
				look.Result, look.Observation = Leaks, train(12)
			}
			write(f, LookMade, fmt.Sprintf("l%d-%d", n, j), look)
		}
		write(f, FindingMended, fmt.Sprintf("l%d-%d", n, n%12), Mend{When: "later", Cause: "loose", Action: "tightened"})
		write(f, RoundEnded, round, RoundEnd{PutBack: []string{"guard"}})
	}
	return events[:20000]
}

// BenchmarkAdd20k takes 20,000 parsed events in, as a phone does at its start.
func BenchmarkAdd20k(b *testing.B) {
	events := twentyThousand(b)
	for b.Loop() {
		bookOf(events)
	}
}

// BenchmarkAdd20kBackwards is the worst order of arrival.
func BenchmarkAdd20kBackwards(b *testing.B) {
	events := twentyThousand(b)
	for b.Loop() {
		book := NewBook()
		for i := len(events) - 1; i >= 0; i-- {
			book.Add(events[i])
		}
	}
}

// BenchmarkFold20k takes them in and replays all twelve fixtures.
func BenchmarkFold20k(b *testing.B) {
	events := twentyThousand(b)
	for b.Loop() {
		bookOf(events).Fixtures()
	}
}

// BenchmarkFoldOneOf20k takes them in and replays the one fixture asked for.
func BenchmarkFoldOneOf20k(b *testing.B) {
	events := twentyThousand(b)
	for b.Loop() {
		bookOf(events).FixtureOfRound("r7")
	}
}
