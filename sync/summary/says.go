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

// count adds a joint in the state that a mark shows, with its finding's card
// where it has one.
func (t *tally) count(name, circuit string, mark Mark, card *FindingCard) {
	switch mark {
	case Burst:
		t.gross = append(t.gross, name)
	case Drop:
		t.leak(name, circuit, card)
	case Waiting:
		t.waiting = append(t.waiting, name)
	case Dash:
		t.notReached = append(t.notReached, name)
	case Half:
		t.partly = append(t.partly, name)
	case Ring:
		t.tight = append(t.tight, name)
	default:
		t.blank = append(t.blank, name)
	}
}

func (t *tally) leak(name, circuit string, card *FindingCard) {
	if card != nil && card.State == string(record.Accepted) {
		t.accepted = append(t.accepted, name)
		return
	}
	if circuit != "test" {
		t.aside = append(t.aside, name)
		return
	}
	t.leaks = append(t.leaks, name)
	if card != nil && card.Figure != nil {
		t.sum += card.Figure.MolPerSecond[0]
		t.sized = true
	}
}

// phrases are the sentences in the order in which they matter.
func (t *tally) phrases(y yard) []Phrase {
	out := []Phrase{}
	add := func(code string, names []string) {
		if len(names) > 0 {
			out = append(out, phrase(code, names))
		}
	}
	add(SayGross, t.gross)
	if len(t.leaks) > 0 {
		out = append(out, t.leaksPhrase(y))
	}
	add(SayAside, t.aside)
	add(SayAccepted, t.accepted)
	add(SayWaiting, t.waiting)
	add(SayNotReached, t.notReached)
	add(SayPartly, t.partly)
	add(SayNotLooked, t.blank)
	if len(out) == 0 {
		add(SayTight, t.tight)
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
		t.count(j.Name, j.Circuit, jointMark(j), d.standingCard(f, j))
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

func (d *Desk) standingCard(f *record.FixtureState, j *record.JointState) *FindingCard {
	l := standing(j)
	if l == nil {
		return nil
	}
	card := d.findingCard(f, l)
	return &card
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
