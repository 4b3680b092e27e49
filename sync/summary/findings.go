package summary

import "jointwalk/sync/record"

// Findings lists findings for review, newest first.
func (d *Desk) Findings(q FindingsQuestion) (Findings, error) {
	out := Findings{Findings: []FindingCard{}}
	var made []record.By
	for _, f := range d.Book.Fixtures() {
		if !d.sees(f.Site) || (q.Site != "" && q.Site != f.Site) {
			continue
		}
		for _, l := range f.Looks {
			if l.OwnFinding() && q.wants(l) {
				out.Findings, made = append(out.Findings, d.findingCard(f, l)), append(made, l.Made)
			}
		}
	}
	arrange(len(made), func(i, j int) bool { return made[j].Before(made[i]) }, func(i, j int) {
		made[i], made[j] = made[j], made[i]
		out.Findings[i], out.Findings[j] = out.Findings[j], out.Findings[i]
	})
	return out, nil
}

func (q FindingsQuestion) wants(l *record.LookState) bool {
	switch q.Only {
	case "open":
		return l.Stands()
	case "unreviewed":
		return l.Verdict() == ""
	}
	return true
}
