package froth_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/froth"
	"jointwalk/calc/gas"
	"jointwalk/calc/laws"
	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

// collar is froth of 2 cm² that grew by 2 mm in two minutes.
func collar() froth.Froth {
	return froth.Froth{Area: 2e-4, AreaU: 0.3e-4, Height: 2e-3, HeightU: 0.5e-3, State: froth.Fresh, Time: 120, Clock: 2, Ambient: gas.Usual()}
}

func TestLaws(t *testing.T) {
	laws.Hold(t, laws.Kind[froth.Froth]{
		Any: func(t *rapid.T) froth.Froth {
			share := func(name string) float64 { return rapid.Float64Range(0.02, 0.2).Draw(t, name) }
			f := froth.Froth{
				Area:    quantity.Area(rapid.Float64Range(1e-5, 1e-3).Draw(t, "area")),
				Height:  quantity.Length(rapid.Float64Range(0.5e-3, 5e-3).Draw(t, "height")),
				State:   rapid.SampledFrom([]froth.State{froth.Fresh, froth.Drained}).Draw(t, "state"),
				Time:    quantity.Duration(rapid.Float64Range(10, 600).Draw(t, "time")),
				Ambient: laws.Ambient(t),
			}
			f.AreaU, f.HeightU = f.Area*quantity.Area(share("area u")), f.Height*quantity.Length(share("height u"))
			f.Clock = f.Time * quantity.Duration(share("clock"))
			return f
		},
		At: func(f froth.Froth) gas.Ambient { return f.Ambient },
		More: map[string]func(*froth.Froth, float64){
			"area":     func(f *froth.Froth, by float64) { f.Area *= quantity.Area(by) },
			"height":   func(f *froth.Froth, by float64) { f.Height *= quantity.Length(by) },
			"hurry":    func(f *froth.Froth, by float64) { f.Time /= quantity.Duration(by); f.Clock /= quantity.Duration(by) },
			"pressure": func(f *froth.Froth, by float64) { f.Ambient.Pressure *= quantity.Absolute(by) },
		},
		Doubt: map[string]func(*froth.Froth){
			froth.InputArea:   func(f *froth.Froth) { f.AreaU *= 2 },
			froth.InputHeight: func(f *froth.Froth) { f.HeightU *= 2 },
			froth.InputClock:  func(f *froth.Froth) { f.Clock *= 2 },
		},
		Scalings: map[string]laws.Scaling[froth.Froth]{
			"twice the area":   {Times: 2, By: func(f *froth.Froth) { f.Area, f.AreaU = 2*f.Area, 2*f.AreaU }},
			"twice the height": {Times: 2, By: func(f *froth.Froth) { f.Height, f.HeightU = 2*f.Height, 2*f.HeightU }},
			"twice the time":   {Times: 0.5, By: func(f *froth.Froth) { f.Time, f.Clock = 2*f.Time, 2*f.Clock }},
		},
	})
}

// Gas is at least the 0.64 of touching spheres and never more than all of the froth.
func TestGasFraction(t *testing.T) {
	f := collar()
	f.AreaU, f.HeightU, f.Clock = 0, 0, 0
	whole := float64(f.Area) * float64(f.Height) / float64(f.Time)
	for _, state := range []froth.State{froth.Fresh, froth.Drained} {
		f.State = state
		e, err := f.Estimate()
		if err != nil {
			t.Fatal(err)
		}
		if low, high := float64(e.Volume.Lo)/whole, float64(e.Volume.Hi)/whole; low < 0.64 || high > 1 {
			t.Errorf("%s froth holds from %v to %v of gas", state, low, high)
		}
	}
	if e, _ := f.Estimate(); e.Dominant != froth.InputFraction || len(e.Warnings) != 1 || e.AtLeast {
		t.Errorf("%s dominates, warnings %v, at least %v", e.Dominant, e.Warnings, e.AtLeast)
	}
}

func TestFaults(t *testing.T) {
	for want, spoil := range map[string]func(*froth.Froth){
		"froth-state-unknown state":        func(f *froth.Froth) { f.State = "old" },
		"not-positive area":                func(f *froth.Froth) { f.Area = 0 },
		"not-a-number height":              func(f *froth.Froth) { f.Height = quantity.Length(math.NaN()) },
		"too-large height-uncertainty":     func(f *froth.Froth) { f.HeightU = 3e-3 },
		"not-positive area-uncertainty":    func(f *froth.Froth) { f.AreaU = -1 },
		"not-positive time":                func(f *froth.Froth) { f.Time = 0 },
		"too-large clock":                  func(f *froth.Froth) { f.Clock = 121 },
		"not-positive ambient-temperature": func(f *froth.Froth) { f.Ambient.Temperature = 0 },
	} {
		f := collar()
		spoil(&f)
		_, err := f.Estimate()
		var fault *quantity.Fault
		if !errors.As(err, &fault) || fault.Code+" "+fault.Field != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

func ExampleFroth_Estimate() {
	e, err := collar().Estimate()
	if err != nil {
		panic(err)
	}
	median, _ := quantity.Print(e.Molar.Median, "std cm3/min@0C", 2)
	fmt.Println(median.Number, "std cm3/min@0C,", e.Dominant, "makes it wide")
	// Output: 0.14 std cm3/min@0C, height makes it wide
}
