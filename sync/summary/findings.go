package summary

import "jointwalk/sync/record"

// Findings lists findings for review, newest first.
func (d *Desk) Findings(q FindingsQuestion) (Findings, error) {
	out := Findings{Findings: []FindingCard{}}
	var looks []*record.LookState
	of := map[*record.LookState]*record.FixtureState{}
	for _, f := range d.Book.Fixtures() {
		if !d.sees(f.Site) || (q.Site != "" && q.Site != f.Site) {
			continue
		}
		for _, l := range f.Looks {
			if l.OwnFinding() && q.wants(l) {
				looks, of[l] = append(looks, l), f
			}
		}
	}
	looks = shown(looks)
	for i := len(looks) - 1; i >= 0; i-- {
		out.Findings = append(out.Findings, d.findingCard(of[looks[i]], looks[i]))
	}
	return out, nil
}

func (q FindingsQuestion) wants(l *record.LookState) bool {
	switch q.Only {
	case "open":
		return l.Stands()
	case "waiting":
		return l.Stands() && l.State() == record.Waiting
	case "unreviewed":
		return l.Verdict() == ""
	}
	return true
}
