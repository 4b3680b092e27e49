package record

import "strings"

// Units that each field of a body takes, as codes of calc/quantity.
var (
	PressureUnits    = []string{"Pa", "kPa", "bar", "mbar", "psi"}
	LengthUnits      = []string{"mm", "in"}
	VolumeUnits      = []string{"cm3", "mL", "L", "in3"}
	TemperatureUnits = []string{"degC", "degF", "K"}
	RateUnits        = []string{"std cm3/min", "std cm3/s", "Pa.m3/s", "mbar.L/s", "mol/s"}
	RateRefs         = []string{"0C", "15C", "20C", "21.1C", "25C", "ANR"}
)

// PictureTypes are the media types that a picture may have.
var PictureTypes = []string{"image/jpeg", "image/png", "image/webp"}

func (b *RegisteredBody) check(c *checker) {
	c.text("name", b.Name, NameLength, true)
	c.text("place", b.Place, NameLength, false)
	c.tag(b.Tag)
}

// tag holds that a text is a tag's code as it is written, nothing around it.
func (c *checker) tag(text string) {
	if code, problem := ParseTag(text); problem != "" || code != text {
		c.fail(TagProblem, "tag")
	}
}

func (b *FixtureEdit) check(c *checker) {
	if b.Name != nil {
		c.text("name", *b.Name, NameLength, true)
	}
	if b.Place != nil {
		c.text("place", *b.Place, NameLength, false)
	}
	if b.Note != nil {
		c.text("note", *b.Note, NoteLength, false)
	}
	if b.Tag != nil {
		c.tag(*b.Tag)
	}
	c.ids("seen", b.Seen)
}

func (b *Move) check(c *checker) {
	c.text("site", b.Site, NameLength, true)
	c.ids("seen", b.Seen)
}

func (b *Program) check(c *checker) {
	c.text("name", b.Name, NameLength, false)
	c.code("gas", b.Gas, Gases)
	c.unit("pressure", b.Pressure, PressureUnits)
	c.positive("volume", &b.Volume, VolumeUnits)
	for _, time := range []struct {
		field string
		value float64
	}{{"fill", b.Fill}, {"stabilise", b.Stabilise}, {"vent", b.Vent}} {
		c.within(time.field, time.value, 0, LongestLook)
	}
	c.above("test", b.Test)
	c.within("allowance", b.Allowance, 0, 1)
	c.code("showUnit", b.ShowUnit, RateUnits)
	if needsRef(b.ShowUnit) {
		c.code("showRef", b.ShowRef, RateRefs)
	}
	b.checkLimit(c)
	c.ids("seen", b.Seen)
}

func (b *Program) checkLimit(c *checker) {
	switch {
	case b.LimitRate != nil && b.LimitDrop != nil:
		c.fail(OutOfRange, "limit")
	case b.LimitRate != nil:
		c.code("limitRate", b.LimitRate.Unit, RateUnits)
		c.above("limitRate", b.LimitRate.Value)
		if needsRef(b.LimitRate.Unit) {
			c.code("limitRef", b.LimitRate.Ref, RateRefs)
		}
	case b.LimitDrop != nil:
		c.positive("limitDrop", b.LimitDrop, PressureUnits)
	}
}

func needsRef(unit string) bool { return unit != "mol/s" }

func (b *Joint) check(c *checker) {
	c.text("name", b.Name, NameLength, true)
	c.code("kind", b.Kind, JointKinds)
	c.code("circuit", b.Circuit, Circuits)
	c.within("order", b.Order, -1e9, 1e9)
	if b.Tube != nil {
		c.positive("tube", b.Tube, LengthUnits)
	}
	c.text("run", b.Run, NameLength, false)
	b.Pin.check(c)
}

func (p *Pin) check(c *checker) {
	if p == nil || *p == (Pin{}) {
		return
	}
	c.hash("pin", p.Photo)
	c.within("pin", p.X, 0, 1)
	c.within("pin", p.Y, 0, 1)
}

func (c *checker) hash(field, text string) {
	if len(text) != 64 {
		c.fail(OutOfRange, field)
	}
}

func (b *JointEdit) check(c *checker) {
	if b.Name != nil {
		c.text("name", *b.Name, NameLength, true)
	}
	if b.Kind != nil {
		c.code("kind", *b.Kind, JointKinds)
	}
	if b.Circuit != nil {
		c.code("circuit", *b.Circuit, Circuits)
	}
	if b.Order != nil {
		c.within("order", *b.Order, -1e9, 1e9)
	}
	if b.Tube != nil {
		c.positive("tube", b.Tube, LengthUnits)
	}
	if b.Run != nil {
		c.text("run", *b.Run, NameLength, false)
	}
	b.Pin.check(c)
	c.ids("seen", b.Seen)
}

func (b *Reason) check(c *checker) { c.text("why", b.Why, NoteLength, false) }

func (b *RoundStart) check(c *checker) {
	k := &b.Conditions
	c.code("gas", k.Gas, Gases)
	c.unit("pressure", k.Pressure, PressureUnits)
	c.unit("ambient", k.Ambient, TemperatureUnits)
	if k.Barometer != nil {
		c.positive("barometer", k.Barometer, PressureUnits)
	}
	c.code("solution", k.Solution, Solutions)
	c.code("wetted", k.Wetted, Wettings)
	c.text("setup", k.Setup, NoteLength, false)
}

func (b *RoundEnd) check(c *checker) {
	for _, code := range b.PutBack {
		c.code("putBack", code, PutBacks)
	}
	c.text("note", b.Note, NoteLength, false)
}

func (b *Mend) check(c *checker) {
	c.code("when", b.When, Mendings)
	c.code("cause", b.Cause, Causes)
	c.code("action", b.Action, Actions)
	c.text("spare", b.Spare, NameLength, false)
	c.text("note", b.Note, NoteLength, false)
}

func (b *Review) check(c *checker) {
	c.code("verdict", b.Verdict, Verdicts)
	c.text("note", b.Note, NoteLength, false)
}

func (b *Picture) check(c *checker) {
	c.code("type", b.Type, PictureTypes)
	c.within("bytes", float64(b.Bytes), 1, 15<<20)
	c.hash("hash", b.Hash)
	if len(b.Arrows) > MostArrows {
		c.fail(OutOfRange, "arrows")
	}
	for _, a := range b.Arrows {
		for _, at := range []float64{a.FromX, a.FromY, a.X, a.Y} {
			c.within("arrows", at, 0, 1)
		}
	}
}

func (b *Noted) check(c *checker) { c.text("text", strings.TrimSpace(b.Text), NoteLength, true) }
