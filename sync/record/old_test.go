package record

import (
	"fmt"
	"slices"
	"testing"

	"jointwalk/sync/journal"
)

// rounds writes n rounds, each with a quiet look at both joints, the one at the
// first under the given changes.
func rounds(s *story, n int, in map[int]func(round string)) {
	s.write(RoundEnded, "r1", RoundEnd{PutBack: []string{}})
	for i := 2; i <= n; i++ {
		round := fmt.Sprintf("r%d", i)
		s.round(round)
		for _, joint := range []string{"j1", "j2"} {
			s.look(round+joint, round, joint, None)
		}
		if do := in[i]; do != nil {
			do(round)
		}
		s.write(RoundEnded, round, RoundEnd{PutBack: []string{}})
	}
}

// oldRounds are the rounds whose events are all old, and complains where only
// some are.
func oldRounds(t *testing.T, s *story) []string {
	t.Helper()
	b := bookOf(s.events)
	told := map[string]bool{}
	var old []string
	for _, e := range s.events {
		round := e.About.Of
		if l := b.Fixture(fixtureID).LookByID(round); l != nil {
			round = l.Round
		}
		is := b.Old(e)
		if was, known := told[round]; known && was != is {
			t.Errorf("round %s is old in parts: %s %s", round, e.Kind, e.ID)
		}
		if told[round] = is; is && !slices.Contains(old, round) {
			old = append(old, round)
		}
	}
	return old
}

func bookOf(events []journal.Event) *Book {
	b := NewBook()
	for _, e := range events {
		b.Add(e)
	}
	return b
}

func TestOldRounds(t *testing.T) {
	cases := []struct {
		name   string
		rounds int
		in     func(*story) map[int]func(string)
		want   []string
	}{
		{"five are kept", 5, nil, nil},
		{"the sixth last is old", 7, nil, []string{"r1", "r2"}},
		{"an open leak is kept", 9, func(s *story) map[int]func(string) {
			return map[int]func(string){3: func(r string) { s.look("l3", r, "j9", Leaks) }}
		}, []string{"r1", "r2", "r4"}},
		{"a leak that waits is kept", 9, func(s *story) map[int]func(string) {
			return map[int]func(string){3: func(r string) { s.look("l3", r, "j9", Leaks); s.mend("l3", "later") }}
		}, []string{"r1", "r2", "r4"}},
		{"a leak that was answered is old", 9, func(s *story) map[int]func(string) {
			return map[int]func(string){3: func(r string) {
				s.look("l3", r, "j9", Leaks)
				s.mend("l3", "later")
				s.second("l4", "l3", r, None)
			}}
		}, []string{"r1", "r2", "r3", "r4"}},
		{"a leak taken back is old", 9, func(s *story) map[int]func(string) {
			return map[int]func(string){3: func(r string) {
				s.writeBase(Withdrawn, "l3", s.look("l3", r, "j9", Leaks), Reason{})
			}}
		}, []string{"r1", "r2", "r3", "r4"}},
		{"the second look that found it leaking is kept", 9, func(s *story) map[int]func(string) {
			return map[int]func(string){
				2: func(r string) { s.look("l3", r, "j9", Gross) },
				4: func(r string) { s.second("l4", "l3", r, Gross) },
			}
		}, []string{"r1", "r3"}},
		{"the last look at a joint is kept", 9, func(s *story) map[int]func(string) {
			s.write(JointAdded, "j3", Joint{Name: "Hidden", Kind: "gasket", Circuit: "test", Order: 3})
			return map[int]func(string){2: func(r string) { s.look("l3", r, "j3", NotReached) }}
		}, []string{"r1", "r3", "r4"}},
	}
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			s := newStory(t)
			var in map[int]func(string)
			if c.in != nil {
				in = c.in(s)
			}
			rounds(s, c.rounds, in)
			if got := oldRounds(t, s); !slices.Equal(got, c.want) {
				t.Errorf("old %v, want %v", got, c.want)
			}
		})
	}
}

func TestARoundThatHasNotEndedIsNotOld(t *testing.T) {
	s := newStory(t)
	for i := 2; i <= 9; i++ {
		s.round(fmt.Sprintf("r%d", i))
	}
	if got := oldRounds(t, s); got != nil {
		t.Errorf("old %v: all are open", got)
	}
}

// Who holds no old rounds sees the same joints and the same standing leaks.
func TestWithoutOldRoundsTheFixtureIsTheSame(t *testing.T) {
	s := newStory(t)
	rounds(s, 12, map[int]func(string){
		2: func(r string) { s.look("kept", r, "j2", Gross) },
		4: func(r string) { s.look("seen-again", r, "j1", Leaks); s.mend("seen-again", "on-spot") },
	})
	whole, light := bookOf(s.events), NewBook()
	dropped := 0
	for _, e := range s.events {
		if whole.Old(e) {
			dropped++
			continue
		}
		light.Add(e)
	}
	if dropped < 10 {
		t.Fatalf("only %d events are old", dropped)
	}
	a, b := whole.Fixture(fixtureID), light.Fixture(fixtureID)
	if got, want := standingLooks(b), standingLooks(a); got != want {
		t.Errorf("standing %s, want %s", got, want)
	}
	if len(b.Rounds) < KeptRounds {
		t.Errorf("%d rounds are held", len(b.Rounds))
	}
	for i, j := range a.Joints {
		if last, held := j.Looks[len(j.Looks)-1], b.Joints[i].Looks; held[len(held)-1].ID != last.ID {
			t.Errorf("the last look at %s differs", j.ID)
		}
	}
}

func standingLooks(f *FixtureState) string {
	all := ""
	for _, l := range f.Looks {
		if l.Stands() {
			all += l.ID + " " + string(l.State()) + " "
		}
	}
	return all
}

// What is old follows what happens: a new round makes another one old.
func TestOldFollowsTheBook(t *testing.T) {
	s := newStory(t)
	rounds(s, 5, nil)
	b := bookOf(s.events)
	start := s.events[3]
	if b.Old(start) {
		t.Error("the first of five is old")
	}
	n := len(s.events)
	s.round("r6")
	for _, e := range s.events[n:] {
		b.Add(e)
	}
	if !b.Old(start) {
		t.Error("the first of six is not old")
	}
	if b.Old(s.events[0]) || b.Old(s.events[1]) || b.Old(journal.Event{About: journal.About{Fixture: "none", Of: "r1"}}) {
		t.Error("what belongs to no round is old")
	}
}
