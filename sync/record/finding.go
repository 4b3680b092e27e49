package record

// SeenAgain is the state of a finding whose joint leaked again in a later
// round: the later finding stands for the leak.
const SeenAgain FindingState = "seen-again"

// State tells what became of a finding: the last repair counts, and after it
// the last second look. An engineer's "accept" leaves an open finding accepted
// as it is.
func (l *LookState) State() FindingState {
	mend := l.lastMend()
	second := l.lastSecond()
	switch {
	case l.SeenAgain != "":
		return SeenAgain
	case second != nil && second.IsFinding():
		return Open
	case second != nil && mend != nil && mend.When == "on-spot" && second.Round == l.Round:
		return OnSpot
	case second != nil:
		return Gone
	case mend != nil:
		return Waiting
	case l.Verdict() == "accept":
		return Accepted
	}
	return Open
}

// Stands says whether a finding still counts as a leak of the fixture.
func (l *LookState) Stands() bool {
	if !l.OwnFinding() {
		return false
	}
	state := l.State()
	return state == Open || state == Waiting || state == Accepted
}

// OwnFinding says whether a look is a finding of its own: it leaks, was not
// withdrawn, and is not the second look at another finding.
func (l *LookState) OwnFinding() bool {
	return !l.Withdrawn && l.IsFinding() && l.Second == ""
}

// Newest returns the look that tells most of a finding: the last second look
// at it that leaks and was sized, or else the finding's own look. A leak that a
// later round found at the same joint is a finding of its own and says nothing
// of what this one was.
func (l *LookState) Newest() *LookState {
	if s := l.lastSecond(); s != nil && s.Second == l.ID && s.IsFinding() && s.Observation != nil {
		return s
	}
	return l
}

// Verdict returns the newest review's verdict, "" when none.
func (l *LookState) Verdict() string {
	if len(l.Reviews) == 0 {
		return ""
	}
	return l.Reviews[len(l.Reviews)-1].Verdict
}

func (l *LookState) lastMend() *MendState {
	if len(l.Mends) == 0 {
		return nil
	}
	return l.Mends[len(l.Mends)-1]
}

// lastSecond returns the newest second look that says something. It counts
// only when it came after the last repair, and "nothing seen" only where nothing
// keeps it from closing.
func (l *LookState) lastSecond() *LookState {
	after := 0
	if mend := l.lastMend(); mend != nil {
		after = l.stepOf(mend.Done.Event)
	}
	for i := len(l.Again) - 1; i >= 0; i-- {
		s := l.Again[i]
		if s.Withdrawn || l.stepOf(s.Made.Event) < after {
			continue
		}
		if s.IsFinding() || s.Result == None && s.Obstacle() == "" {
			return s
		}
	}
	return nil
}

// ClearlyNone says that nothing was seen, with the solution on, all around well in
// view, and nobody said of this look that the gap may be full of solution.
func (l *LookState) ClearlyNone() bool {
	return l.Result == None && l.Bounds() && l.Sight == "" && !l.Filled()
}

// Filled says whether the order that was asked at a look lets the gap be full of
// solution.
func (l *LookState) Filled() bool { return l.Wetted == "before" || l.Wetted == "vented" }

// What keeps "nothing seen" from closing a repair.
const (
	RanOff    = "ran-off"    // the solution did not stay on
	NotAround = "not-around" // not seen all around
	NotClose  = "not-close"  // seen from afar, at a slant or in poor light
	WetBefore = "wet-before" // wetted before the pressure came: the gap may be full of it
	WetVented = "wet-vented" // vented since it was wetted: the gap may have drawn it in
)

// Obstacle is the first thing that keeps "nothing seen" from closing a repair, ""
// for none. A gap that filled before the pressure came lets nothing through until
// the liquid is driven out (calc/unseen has how much and how long): it may be dry
// above and leak later.
func (l *LookState) Obstacle() string {
	switch {
	case !l.Stayed:
		return RanOff
	case !l.Back:
		return NotAround
	case l.Sight != "":
		return NotClose
	case l.Order == "before":
		return WetBefore
	case l.Order == "vented":
		return WetVented
	}
	return ""
}

// Unclosed is why the last second look at a repair that still waits did not close
// it, though nothing was seen; "" where there was none.
func (l *LookState) Unclosed() string {
	if l.State() != Waiting {
		return ""
	}
	after := l.stepOf(l.lastMend().Done.Event)
	for i := len(l.Again) - 1; i >= 0; i-- {
		if s := l.Again[i]; !s.Withdrawn && s.Result == None && l.stepOf(s.Made.Event) >= after {
			return s.Obstacle()
		}
	}
	return ""
}

// Bounds says whether a look at which nothing was seen bounds what the joint may
// leak: the solution stayed on, and all around was in view, however well.
func (l *LookState) Bounds() bool {
	return (l.Result == None || l.Result == Partly) && l.Stayed && l.Back
}

// stepOf returns the place of an event in the story, -1 when it has none.
func (l *LookState) stepOf(event string) int {
	for i, s := range l.Story {
		if s.Done.Event == event {
			return i
		}
	}
	return -1
}
