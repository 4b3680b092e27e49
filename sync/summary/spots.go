package summary

import (
	"strconv"

	"jointwalk/calc/quantity"
	"jointwalk/sync/record"
)

// spotOf tells a finding's spot from others of its joint: its own name, "1" for
// the first where the round found more than one, "" where it is the only one.
func spotOf(f *record.FixtureState, l *record.LookState) string {
	j := f.Joint(l.Joint)
	if l.Spot != "" || j == nil {
		return l.Spot
	}
	for _, other := range looksIn(j, l.Round) {
		if other.OwnFinding() && other.Spot != "" {
			return "1"
		}
	}
	return ""
}

// nextSpot names another spot of a joint in a round: the first number from 2
// that none of its findings has.
func nextSpot(looks []*record.LookState) string {
	taken := map[string]bool{}
	for _, l := range looks {
		taken[l.Spot] = taken[l.Spot] || l.OwnFinding()
	}
	n := 2
	for taken[strconv.Itoa(n)] {
		n++
	}
	return strconv.Itoa(n)
}

// spots are the findings of a round at one joint, oldest first.
func (d *Desk) spots(f *record.FixtureState, looks []*record.LookState) []SpotCard {
	var all []SpotCard
	for _, l := range looks {
		if l.OwnFinding() {
			card := d.findingCard(f, l)
			all = append(all, SpotCard{Finding: l.ID, Spot: card.Spot, Named: l.Spot, Mark: card.Mark, State: card.State, Figure: card.Figure})
		}
	}
	return all
}

// leakingNow counts the spots that leak now, and adds up the medians of those that
// have a figure: "" where fewer than two have one.
func leakingNow(spots []SpotCard, y yard) (n int, together string) {
	sum, sized := 0.0, 0
	for _, s := range spots {
		if s.Mark != Drop && s.Mark != Burst {
			continue
		}
		n++
		if s.Figure != nil {
			sum += s.Figure.MolPerSecond[0]
			sized++
		}
	}
	if sized < 2 {
		return n, ""
	}
	return n, y.number(quantity.MolarFlow(sum))
}
