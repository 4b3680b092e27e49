package summary

import (
	"math"

	"jointwalk/sync/record"
)

// sameTo is how far two computations of one figure may differ, relatively:
// processors differ in the last bits of some functions.
const sameTo = 1e-9

// Finding tells all of one finding.
func (d *Desk) Finding(q FindingQuestion) (Finding, error) {
	f, err := d.seen(d.Book.FixtureOfLook(q.ID), UnknownFinding)
	if err != nil {
		return Finding{}, err
	}
	l := f.LookByID(q.ID)
	newest := l.Newest()
	out := Finding{
		Card: d.findingCard(f, l), Site: f.Site, EventID: l.Base, Observation: newest.Observation,
		Wiped: l.Wiped, Vented: l.Vented, Rewets: l.Rewets, Note: l.Note, Estimate: d.estimateOf(f, l), Shown: newest.Shown,
		Story: d.story(l), Pictures: []PictureCard{}, Seen: f.Beside(record.Noun{Kind: "look", ID: l.ID}, l.Base),
	}
	if r := f.Round(l.Round); r != nil {
		out.Conditions, out.Program = r.Conditions, d.programCard(f.ProgramVersion(r.Program))
	}
	if l.Vented == "went-on" {
		out.Estimate.Warnings = append([]string{WarnWentOn}, out.Estimate.Warnings...)
	}
	if j := f.Joint(l.Joint); j != nil {
		out.Spares = f.Spares(j.Kind)
	}
	out.Agrees = agrees(newest.Shown, out.Estimate.Figure)
	for _, p := range l.Pictures {
		out.Pictures = append(out.Pictures, d.pictureCard(p))
	}
	return out, nil
}

func (d *Desk) pictureCard(p *record.PictureState) PictureCard {
	card := PictureCard{Event: p.Taken.Event, Hash: p.Hash, Bytes: p.Bytes, Type: p.Type, Width: p.Width, Height: p.Height, Arrows: p.Arrows, Taken: d.stamp(p.Taken)}
	if w := p.Withdrawn; w != nil {
		who := d.stamp(*w)
		card.Withdrawn, card.Why = &who, p.Why
	}
	return card
}

// agrees says whether what the person saw and what is computed now are the
// same figure.
func agrees(shown *record.Shown, now *Figure) bool {
	if shown == nil || now == nil {
		return shown == nil && now == nil
	}
	for i, was := range []float64{shown.Median, shown.Low, shown.High} {
		if math.Abs(was-now.MolPerSecond[i]) > sameTo*math.Abs(was) {
			return false
		}
	}
	return true
}

// What a step of a story is.
const (
	StepSeen      = "seen"
	StepAmended   = "amended"
	StepMended    = "mended"
	StepSecond    = "second-look"
	StepReviewed  = "reviewed"
	StepPicture   = "picture"
	StepWithdrawn = "withdrawn"
	StepNote      = "note"
)

// story is what happened to a finding, oldest first in the order of display.
func (d *Desk) story(l *record.LookState) []Step {
	var told []*record.Step
	for i := range l.Story {
		told = append(told, &l.Story[i])
	}
	record.Arrange(told, func(a, b *record.Step) bool { return a.Done.Before(&b.Done) })
	steps := []Step{}
	for _, s := range told {
		step := Step{Event: s.Done.Event, Who: d.stamp(s.Done), Off: s.Withdrawn}
		step.What, step.Codes, step.Note = toldBy(s.Body)
		if mend, mended := s.Body.(*record.Mend); mended {
			step.Spare = mend.Spare
		}
		if s.Kind == record.LookMade && s != &l.Story[0] {
			step.What = StepSecond
			step.Codes = append(step.Codes, obstacle(l, s.Done.Event)...)
		}
		steps = append(steps, step)
	}
	return steps
}

// obstacle is why a second look at which nothing was seen closes nothing, as codes.
func obstacle(l *record.LookState, event string) []string {
	for _, s := range l.Again {
		if s.Made.Event == event && s.Result == record.None {
			return given(s.Obstacle())
		}
	}
	return nil
}

// given are those codes that are not empty.
func given(all ...string) []string {
	var out []string
	for _, code := range all {
		if code != "" {
			out = append(out, code)
		}
	}
	return out
}

// toldBy is a step's kind, codes and note by its body.
func toldBy(body any) (what string, codes []string, note string) {
	switch b := body.(type) {
	case *record.Look:
		return StepSeen, given(string(b.Result), b.Sign), b.Note
	case *record.LookAmendment:
		return StepAmended, nil, b.Why
	case *record.Mend:
		return StepMended, []string{b.When, b.Cause, b.Action}, b.Note
	case *record.Review:
		return StepReviewed, []string{b.Verdict}, b.Note
	case *record.Picture:
		return StepPicture, nil, ""
	case *record.Noted:
		return StepNote, nil, b.Text
	case *record.Reason:
		return StepWithdrawn, nil, b.Why
	}
	return "", nil, ""
}
