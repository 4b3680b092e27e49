package summary

import (
	"math"
	"strings"
	"testing"

	"jointwalk/sync/record"
)

// straightOn is a card straight on, ten pixels a millimetre, and a rim of 50 pixels.
func straightOn() *record.Pointed {
	return &record.Pointed{
		Hash: strings.Repeat("a", 64), Width: 1600, Height: 1200, Long: mm(85.6), Short: mm(53.98),
		Marks: []record.Spot{{X: 300, Y: 300}, {X: 1156, Y: 300}, {X: 1156, Y: 839.8}, {X: 300, Y: 839.8}},
		Rim:   []record.Spot{{X: 775, Y: 600}, {X: 800, Y: 575}, {X: 825, Y: 600}, {X: 800, Y: 625}},
	}
}

// 50 pixels at 10 a millimetre, less what calc/picture takes off for the depth and the hand, worked there by hand: 4.84 mm.
func TestMeasureGivesTheDiameter(t *testing.T) {
	m := must[Measure](t)(leaking(t).desk().Measure(MeasureQuestion{Picture: *straightOn()}))
	near(t, "diameter", m.Diameter, 4.84, 0.001)
	if m.CannotSay != "" || len(m.Outline) == 0 || m.Dominant != "rim" {
		t.Errorf("%+v", m)
	}
}

func TestMeasureSaysWhyNot(t *testing.T) {
	for want, change := range map[string]func(*record.Pointed){
		"scale-crossed":      func(p *record.Pointed) { p.Marks[0], p.Marks[1] = p.Marks[1], p.Marks[0] },
		"scale-out-of-range": func(p *record.Pointed) { p.Marks = p.Marks[:3] },
		"scale-not-positive": func(p *record.Pointed) { p.Short = nil },
		"tube-not-positive":  func(p *record.Pointed) { p.Tube = &record.Amount{Unit: "mm"} },
		"rim-out-of-range":   func(p *record.Pointed) { p.Rim = nil },
	} {
		p := straightOn()
		change(p)
		if m := must[Measure](t)(leaking(t).desk().Measure(MeasureQuestion{Picture: *p})); m.CannotSay != want || m.Diameter != "" {
			t.Errorf("%+v, want %s", m, want)
		}
	}
}

// A leak sized by a picture is sized anew from the points alone: as one with that diameter, and narrower than one judged by eye.
func TestALeakIsSizedByAPicture(t *testing.T) {
	o := *joint7()
	o.Size = record.Size{As: "picture", Picture: straightOn()}
	by := sizeUp(&o, scene{conditions: worked(), circuit: "test"})
	o.Size = record.Size{As: "diameter", Diameter: mm(4.8369)}
	eye := sizeUp(&o, scene{conditions: worked(), circuit: "test"})
	if by.Figure == nil || eye.Figure == nil {
		t.Fatalf("cannot say %q, %q", by.CannotSay, eye.CannotSay)
	}
	a, b := by.Figure.MolPerSecond, eye.Figure.MolPerSecond
	if math.Abs(a[0]/b[0]-1) > 0.02 || !(a[1] > b[1] && a[2] < b[2]) {
		t.Errorf("by picture %v, by eye %v", a, b)
	}
	o.Size = record.Size{As: "picture"}
	if e := sizeUp(&o, scene{conditions: worked()}); e.CannotSay != "scale-out-of-range" {
		t.Errorf("without a picture: %q", e.CannotSay)
	}
}
