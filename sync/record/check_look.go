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
	b.checkTried(c)
	if b.Sight != "" {
		c.code("sight", b.Sight, Sights)
	}
	if b.Sign != "" {
		c.code("sign", b.Sign, Signs)
	}
	if b.Wetted != "" {
		c.code("wetted", b.Wetted, Orders)
	}
	b.checkResult(c)
}

// checkTried checks which spot it is and what was tried there.
func (b *Look) checkTried(c *checker) {
	c.text("spot", b.Spot, SpotLength, false)
	if b.Wiped != "" {
		c.code("wiped", b.Wiped, Wipes)
	}
	if b.Vented != "" {
		c.code("vented", b.Vented, Vents)
	}
	c.within("rewets", float64(b.Rewets), 0, MostRewets)
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
	case Gross:
		if b.Observation != nil {
			b.Observation.check(c)
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
	if b.Vented != nil {
		c.code("vented", *b.Vented, Vents)
	}
	if b.Rewets != nil {
		c.within("rewets", float64(*b.Rewets), 0, MostRewets)
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
	switch o.How {
	case "class":
		c.code("class", o.Class, Classes)
		c.code("as", o.Size.As, unsized)
	case "collected":
		c.code("as", o.Size.As, unsized)
		o.checkTime(c)
		c.positive("volume", o.Volume, VolumeUnits)
		if o.Head != nil {
			c.unit("head", *o.Head, LengthUnits)
		}
	case "dome", "froth":
		o.checkTime(c)
		o.checkSizes(c)
		if o.Height != nil || o.How == "froth" {
			c.positive("height", o.Height, LengthUnits)
		}
	case "taps":
		o.checkTaps(c)
		o.checkSizes(c)
	default:
		c.within("count", float64(o.Count), 1, 1e6)
		o.checkTime(c)
		o.checkSizes(c)
	}
}

var unsized = []string{"none"}

func (o *Observation) checkTime(c *checker) {
	c.above("seconds", o.Seconds)
	c.within("seconds", o.Seconds, 0, LongestLook)
}

func (o *Observation) checkSizes(c *checker) {
	o.Size.check(c)
	if len(o.MoreSizes) >= MostSizes {
		c.fail(OutOfRange, "moreSizes")
	}
	for i := range o.MoreSizes {
		o.MoreSizes[i].check(c)
	}
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
	switch s.As {
	case "tube":
		c.within("share", s.Share, 1e-3, 20)
		c.positive("tube", s.Tube, LengthUnits)
	case "picture":
		if s.Picture == nil {
			c.fail(Missing, "picture")
			return
		}
		s.Picture.check(c)
	default:
		c.positive("diameter", s.Diameter, LengthUnits)
	}
}

// How many points Pointed has.
const (
	MarksOfScale = 4
	LeastRim     = 3
	MostRim      = 16
)

func (p *Pointed) check(c *checker) {
	c.hash("hash", p.Hash)
	c.within("width", float64(p.Width), 1, 100_000)
	c.within("height", float64(p.Height), 1, 100_000)
	if p.Tube != nil {
		c.positive("tube", p.Tube, LengthUnits)
	} else {
		c.positive("long", p.Long, LengthUnits)
		c.positive("short", p.Short, LengthUnits)
	}
	c.within("marks", float64(len(p.Marks)), MarksOfScale, MarksOfScale)
	c.within("rim", float64(len(p.Rim)), LeastRim, MostRim)
	p.spots(c, "marks", p.Marks)
	p.spots(c, "rim", p.Rim)
}

func (p *Pointed) spots(c *checker, field string, spots []Spot) {
	for _, at := range spots {
		c.within(field, at.X, 0, float64(p.Width))
		c.within(field, at.Y, 0, float64(p.Height))
	}
}
