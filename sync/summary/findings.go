package summary

import (
	"cmp"
	"slices"

	"jointwalk/sync/record"
)

// Findings lists findings for review, newest first.
func (d *Desk) Findings(q FindingsQuestion) (Findings, error) {
	out := Findings{Findings: []FindingCard{}}
	for _, f := range d.Book.Fixtures() {
		if !d.sees(f.Site) || (q.Site != "" && q.Site != f.Site) {
			continue
		}
		out.Findings = append(out.Findings, d.cards(f, f.Looks, q.wants)...)
	}
	slices.SortStableFunc(out.Findings, func(a, b FindingCard) int {
		return cmp.Or(cmp.Compare(b.Seen.Time, a.Seen.Time), cmp.Compare(a.ID, b.ID))
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
