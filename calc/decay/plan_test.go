package decay_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/decay"
	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

// plan is the worked station's: 200 cm³ at 301.325 kPa and 23 °C, limit 2.00 std cm³/min, allowance 10 %; it reads in pascals.
func plan() decay.Plan {
	limit, _ := quantity.From[quantity.MolarFlow](2, "std cm3/min@0C")
	return decay.Plan{Volume: 200e-6, Temperature: 296.15, Pressure: 301.325e3, Limit: limit, Allowance: 0.1, Resolution: 1, Drift: 0.0005, Barometer: 0.03}
}

// At the shortest time the allowance is twice the standard uncertainty, the limit ten times the resolution, and one of both
// exactly; what is planned with is the plain decay.
func TestShortestIsTight(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := plan()
		p.Allowance = rapid.Float64Range(0.02, 1).Draw(t, "allowance")
		p.Resolution = quantity.Drop(rapid.Float64Range(0.01, 20).Draw(t, "resolution"))
		p.Drift = rapid.Float64Range(0, 0.002).Draw(t, "drift")
		p.Barometer = rapid.Float64Range(0, 2).Draw(t, "barometer")
		s, err := p.Shortest()
		if err != nil {
			t.Fatal(err)
		}
		if s.Cannot != "" {
			return
		}
		drop, _ := decay.Test{Volume: p.Volume, Time: s.Time, Temperature: p.Temperature}.Drop(p.Limit)
		if math.Abs(float64(drop/s.LimitDrop)-1) > 1e-12 || math.Abs(float64(s.AllowanceDrop/s.LimitDrop)/p.Allowance-1) > 1e-12 {
			t.Fatalf("%+v, the limit drops by %v", s, drop)
		}
		kelvin := p.Drift * float64(s.Time) * float64(p.Pressure) / float64(p.Temperature)
		u := math.Sqrt(float64(p.Resolution*p.Resolution)/6 + kelvin*kelvin + math.Pow(p.Barometer*float64(s.Time), 2))
		if math.Abs(float64(s.U)/u-1) > 1e-12 {
			t.Fatalf("u %v, want %v", s.U, u)
		}
		over, fine := float64(s.AllowanceDrop)/(2*u), float64(s.LimitDrop)/float64(10*p.Resolution)
		if over < 1-1e-9 || fine < 1-1e-9 || math.Min(over, fine) > 1+1e-9 {
			t.Fatalf("the allowance is %v of what it must be, the limit %v", over, fine)
		}
	})
}

// Each thing that stands in the way makes the test longer, until no time helps.
func TestShortestGrows(t *testing.T) {
	before, err := plan().Shortest()
	if err != nil || before.Cannot != "" {
		t.Fatal(before, err)
	}
	for name, worse := range map[string]func(*decay.Plan){
		"resolution": func(p *decay.Plan) { p.Resolution *= 2 }, "drift": func(p *decay.Plan) { p.Drift *= 1.5 },
		"barometer": func(p *decay.Plan) { p.Barometer *= 10 }, "allowance": func(p *decay.Plan) { p.Allowance /= 1.5 },
		"volume": func(p *decay.Plan) { p.Volume *= 1.5 },
	} {
		p := plan()
		worse(&p)
		if after, err := p.Shortest(); err != nil || after.Cannot != "" || after.Time <= before.Time {
			t.Errorf("%s: %+v after %+v, %v", name, after, before, err)
		}
	}
}

func TestShortestCannot(t *testing.T) {
	for reason, spoil := range map[string]func(*decay.Plan){
		decay.CannotDrift:     func(p *decay.Plan) { p.Drift = 0.001 },
		decay.CannotBarometer: func(p *decay.Plan) { p.Barometer = 2 },
		decay.CannotLoss:      func(p *decay.Plan) { p.Resolution = 20_000; p.Drift, p.Barometer = 0, 0 },
	} {
		p := plan()
		spoil(&p)
		if s, err := p.Shortest(); err != nil || s != (decay.Shortest{Cannot: reason}) {
			t.Errorf("%+v, %v; want %s", s, err, reason)
		}
	}
}

func TestPlanFaults(t *testing.T) {
	for want, spoil := range map[string]func(*decay.Plan){
		"not-positive volume": func(p *decay.Plan) { p.Volume = 0 }, "not-positive limit": func(p *decay.Plan) { p.Limit = -1 },
		"out-of-range allowance": func(p *decay.Plan) { p.Allowance = 1.1 }, "not-a-number drift": func(p *decay.Plan) { p.Drift = math.NaN() },
		"out-of-range barometer": func(p *decay.Plan) { p.Barometer = -1 }, "not-positive resolution": func(p *decay.Plan) { p.Resolution = 0 },
		"not-positive pressure": func(p *decay.Plan) { p.Pressure = 0 }, "not-positive temperature": func(p *decay.Plan) { p.Temperature = 0 },
	} {
		p := plan()
		spoil(&p)
		_, err := p.Shortest()
		var fault *quantity.Fault
		if !errors.As(err, &fault) || fault.Code+" "+fault.Field != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

func ExamplePlan_Shortest() {
	s, err := plan().Shortest()
	if err != nil {
		panic(err)
	}
	fmt.Printf("%.1f s: the limit drops by %.0f Pa, the allowance by %.1f Pa\n", s.Time, s.LimitDrop, s.AllowanceDrop)
	// Output: 0.5 s: the limit drops by 10 Pa, the allowance by 1.0 Pa
}
