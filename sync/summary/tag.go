package summary

import "jointwalk/sync/record"

// TagUnknown is the problem of a good tag that no fixture here carries.
const TagUnknown = "tag-unknown"

// Tag tells which fixture carries a tag. A foreign text is never an error: it
// is answered with its problem.
func (d *Desk) Tag(q TagQuestion) (TagAnswer, error) {
	code, problem := record.ParseTag(q.Text)
	if problem != "" {
		return TagAnswer{Code: code, Problem: problem}, nil
	}
	f := d.Book.FixtureByTag(code)
	if f == nil || !d.sees(f.Site) {
		return TagAnswer{Code: code, Problem: TagUnknown}, nil
	}
	return TagAnswer{Code: code, Fixture: f.ID, Name: f.Name}, nil
}
