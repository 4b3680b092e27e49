package summary

import (
	"strconv"

	"jointwalk/calc/quantity"
	"jointwalk/sync/record"
)

// The codes of phrases. The catalogue holds a sentence for each.
const (
	SayNoJoints    = "no-joints"
	SayNoProgram   = "no-program"
	SayNeverLooked = "never-looked"
	SayGross       = "gross-open"       // n, names
	SayLeaks       = "leaks-open"       // n, names
	SayLeaksShare  = "leaks-open-share" // n, names, share of the limit in percent, sum in unit and ref
	SayAccepted    = "accepted"         // n, names: leaks accepted as they are
	SayAside       = "leaks-aside"      // n, names: not on the test side
	SayWaiting     = "waiting"          // n, names
	SayNotReached  = "not-reached"      // n, names
	SayPartly      = "partly"           // n, names
	SayNotLooked   = "not-looked"       // n, names
	SayTight       = "all-tight"        // n joints with nothing seen
	SayRoundOpen   = "round-running"    // done, all
	SayGivenUp     = "given-up"         // a round that ended before any joint was looked at
)

func phrase(code string, names []string) Phrase {
	return Phrase{Code: code, Args: map[string]string{"n": strconv.Itoa(len(names))}, Names: names}
}

// tally collects what a set of joints has to say.
type tally struct {
	gross, leaks, accepted, aside, waiting, notReached, partly, blank, tight []string
	sum                                                                      float64 // mol/s on the test side
	sized                                                                    bool
}

// count adds a joint in the state that a mark shows. cards makes the cards of its
// findings that leak: it is asked of a leak only, since an estimate takes longer
// than all the rest, and most findings of old rounds are closed.
func (t *tally) count(name, circuit string, mark Mark, cards func() []FindingCard) {
	list := &t.blank
	switch mark {
	case Burst:
		list = &t.gross
	case Drop:
		list = t.leak(circuit, cards())
	case Waiting:
		list = &t.waiting
	case Dash:
		list = &t.notReached
	case Half:
		list = &t.partly
	case Ring:
		list = &t.tight
	}
	*list = append(*list, name)
}

// leak gives the list that a joint with leaks belongs to, and adds those that are
// neither mended nor accepted to the sum.
func (t *tally) leak(circuit string, cards []FindingCard) *[]string {
	open := notAccepted(cards)
	switch {
	case len(open) == 0 && len(cards) > 0:
		return &t.accepted
	case circuit != "test":
		return &t.aside
	}
	for _, card := range open {
		if card.Figure != nil {
			t.sum += card.Figure.MolPerSecond[0]
			t.sized = true
		}
	}
	return &t.leaks
}

func notAccepted(cards []FindingCard) []FindingCard {
	var open []FindingCard
	for _, card := range cards {
		if card.State == string(record.Open) || card.State == string(record.SeenAgain) {
			open = append(open, card)
		}
	}
	return open
}

// leaksStill says whether a finding was left leaking by its own round.
func leaksStill(l *record.LookState) bool {
	return l.Stands() || l.State() == record.SeenAgain
}

// phrases are the sentences in the order in which they matter.
func (t *tally) phrases(y yard) []Phrase {
	out := []Phrase{}
	for _, list := range []struct {
		code  string
		names []string
	}{
		{SayGross, t.gross}, {SayWaiting, t.waiting}, {SayLeaks, t.leaks}, {SayAside, t.aside}, {SayAccepted, t.accepted},
		{SayNotReached, t.notReached}, {SayPartly, t.partly}, {SayNotLooked, t.blank},
	} {
		switch {
		case len(list.names) == 0:
		case list.code == SayLeaks:
			out = append(out, t.leaksPhrase(y))
		default:
			out = append(out, phrase(list.code, list.names))
		}
	}
	if len(out) == 0 && len(t.tight) > 0 {
		out = append(out, phrase(SayTight, t.tight))
	}
	return out
}

// leaksPhrase adds up the medians: "together about 40 % of the limit".
func (t *tally) leaksPhrase(y yard) Phrase {
	p := phrase(SayLeaks, t.leaks)
	if !t.sized {
		return p
	}
	p.Args["sum"], p.Args["unit"], p.Args["ref"] = y.number(quantity.MolarFlow(t.sum)), y.unit, y.ref
	if y.limit > 0 {
		p.Code = SayLeaksShare
		p.Args["share"] = percent(t.sum / float64(y.limit))
	}
	return p
}

// fixtureSays is a fixture's state in sentences.
func (d *Desk) fixtureSays(f *record.FixtureState) []Phrase {
	joints := 0
	t := &tally{}
	for _, j := range f.Joints {
		if j.Retired {
			continue
		}
		joints++
		t.count(j.Name, j.Circuit, jointMark(j), func() []FindingCard { return d.cards(f, j.Looks, (*record.LookState).Stands) })
	}
	switch {
	case joints == 0:
		return []Phrase{{Code: SayNoJoints}}
	case len(t.blank) == joints:
		return append([]Phrase{{Code: SayNeverLooked}}, noProgram(f)...)
	}
	return append(t.phrases(d.fixtureYard(f)), noProgram(f)...)
}

func noProgram(f *record.FixtureState) []Phrase {
	if f.Program() != nil {
		return nil
	}
	return []Phrase{{Code: SayNoProgram}}
}

// fixtureYard measures by the program in force, under the last round's ambient.
func (d *Desk) fixtureYard(f *record.FixtureState) yard {
	c := record.Conditions{}
	if n := len(f.Rounds); n > 0 {
		c = f.Rounds[n-1].Conditions
	}
	if p := f.Program(); p != nil {
		return yardOf(&p.Program, ambientOf(c))
	}
	return showAsUsual
}
