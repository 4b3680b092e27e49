package record

import "slices"

func (b *Look) check(c *checker) {
	c.text("round", b.Round, NameLength, true)
	c.text("joint", b.Joint, NameLength, true)
	if !slices.Contains(Results, b.Result) {
		c.fail(UnknownCode, "result")
	}
	c.within("seconds", b.Seconds, 0, LongestLook)
	c.text("note", b.Note, NoteLength, false)
	if b.Wiped != "" {
		c.code("wiped", b.Wiped, Wipes)
	}
	b.checkResult(c)
}

func (b *Look) checkResult(c *checker) {
	switch b.Result {
	case NotReached:
		c.code("why", b.Why, Whys)
	case Leaks:
		if b.Observation != nil {
			b.Observation.check(c)
		} else if b.Second == "" {
			c.fail(Missing, "observation")
		}
	}
}

func (b *LookAmendment) check(c *checker) {
	if b.Result != nil && !slices.Contains(Results, *b.Result) {
		c.fail(UnknownCode, "result")
	}
	if b.Wiped != nil {
		c.code("wiped", *b.Wiped, Wipes)
	}
	if b.Note != nil {
		c.text("note", *b.Note, NoteLength, false)
	}
	c.text("why", b.Why, NoteLength, false)
	c.ids("seen", b.Seen)
	if b.Observation != nil {
		b.Observation.check(c)
	}
}

func (o *Observation) check(c *checker) {
	c.code("medium", o.Medium, Solutions)
	c.code("how", o.How, Counts)
	if o.How == "taps" {
		o.checkTaps(c)
	} else {
		c.within("count", float64(o.Count), 1, 1e6)
		c.above("seconds", o.Seconds)
		c.within("seconds", o.Seconds, 0, LongestLook)
	}
	o.Size.check(c)
}

func (o *Observation) checkTaps(c *checker) {
	if len(o.Taps) < 2 || len(o.Taps) > MostTaps {
		c.fail(OutOfRange, "taps")
		return
	}
	for i := 1; i < len(o.Taps); i++ {
		if !(o.Taps[i] > o.Taps[i-1]) || o.Taps[i] > LongestLook {
			c.fail(OutOfRange, "taps")
		}
	}
}

func (s *Size) check(c *checker) {
	c.code("as", s.As, SizeAs)
	if s.As == "tube" {
		c.within("share", s.Share, 1e-3, 20)
		c.positive("tube", s.Tube, LengthUnits)
		return
	}
	c.positive("diameter", s.Diameter, LengthUnits)
}
