package collect_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/collect"
	"jointwalk/calc/gas"
	"jointwalk/calc/laws"
	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

// cylinder is 10 cm³ in two minutes over water at 23 °C, 50 mm of head left.
func cylinder() collect.Measure {
	return collect.Measure{
		Volume: 10e-6, VolumeU: 0.1e-6, Time: 120, Clock: 1, Over: true, Head: 50e-3, HeadU: 3e-3,
		Ambient: gas.Ambient{Pressure: quantity.Atmosphere, Temperature: 296.15}, TemperatureU: 0.5,
	}
}

func rate(t testing.TB, m collect.Measure) float64 {
	t.Helper()
	e, err := m.Estimate()
	if err != nil {
		t.Fatal(err)
	}
	return float64(e.Molar.Median)
}

// An open textbook of general chemistry, chapter on mixtures of gases, worked example (from memory): 0.200 L of argon over
// water at 26 °C, 750 torr in all, of which 25.2 torr are vapour, leaves 725 torr of argon. In one second that is a rate.
func TestGasOverWater(t *testing.T) {
	const torr = 101325.0 / 760
	m := collect.Measure{Volume: 0.2e-3, Time: 1, Over: true, Ambient: gas.Ambient{Pressure: 750 * torr, Temperature: 299.15}}
	want := 725 * torr * 0.2e-3 / (8.314462618 * 299.15)
	if got := rate(t, m); math.Abs(got/want-1) > 0.001 {
		t.Errorf("%v mol, want %v to the example's digits", got, want)
	}
}

// A metre of water is 9.79 kPa at 20 °C (ρ = 998.2 kg/m³, handbooks, from memory): so much less presses on the gas when the
// level inside is the higher one, and as much more when it is the lower one.
func TestHead(t *testing.T) {
	m := collect.Measure{Volume: 1e-5, Time: 10, Over: true, Ambient: gas.Usual()}
	level := rate(t, m)
	for head, sign := range map[quantity.Length]float64{1: -1, -1: 1} {
		m.Head = head
		moved := (rate(t, m) - level) * 8.314462618 * 293.15 * 10 / 1e-5
		if math.Abs(moved/(sign*998.2*9.80665)-1) > 1e-4 {
			t.Errorf("%v m of head is %v Pa", head, moved)
		}
	}
}

// Dry: plain p V/(R T t), head and vapour nothing.
func TestDry(t *testing.T) {
	m := cylinder()
	m.Over, m.VolumeU, m.Clock, m.TemperatureU = false, 0, 0, 0
	want := 101325 * 10e-6 / (8.31446261815324 * 296.15 * 120)
	if got := rate(t, m); math.Abs(got/want-1) > 1e-12 {
		t.Errorf("%v, want %v", got, want)
	}
	if e, _ := m.Estimate(); e.Molar.Lo != e.Molar.Hi || e.AtLeast {
		t.Errorf("%+v", e.Molar)
	}
}

func TestLaws(t *testing.T) {
	laws.Hold(t, laws.Kind[collect.Measure]{
		Any: func(t *rapid.T) collect.Measure {
			m := collect.Measure{
				Volume:  quantity.Volume(rapid.Float64Range(0.5e-6, 1e-3).Draw(t, "volume")),
				Time:    quantity.Duration(rapid.Float64Range(5, 3600).Draw(t, "time")),
				Over:    rapid.Bool().Draw(t, "over water"),
				Head:    quantity.Length(rapid.Float64Range(-0.3, 0.5).Draw(t, "head")),
				HeadU:   quantity.Length(rapid.Float64Range(0.001, 0.02).Draw(t, "head u")),
				Ambient: gas.Ambient{Pressure: quantity.Absolute(rapid.Float64Range(7e4, 1.1e5).Draw(t, "p")), Temperature: quantity.Temperature(rapid.Float64Range(274, 312).Draw(t, "T"))},
			}
			m.VolumeU = m.Volume * quantity.Volume(rapid.Float64Range(0.005, 0.1).Draw(t, "volume u"))
			m.Clock = m.Time * quantity.Duration(rapid.Float64Range(0.005, 0.1).Draw(t, "clock"))
			m.TemperatureU = quantity.Temperature(rapid.Float64Range(0.1, 2).Draw(t, "T u"))
			return m
		},
		At: func(m collect.Measure) gas.Ambient { return m.Ambient },
		More: map[string]func(*collect.Measure, float64){
			"volume":    func(m *collect.Measure, f float64) { m.Volume *= quantity.Volume(f) },
			"hurry":     func(m *collect.Measure, f float64) { m.Time /= quantity.Duration(f); m.Clock /= quantity.Duration(f) },
			"barometer": func(m *collect.Measure, f float64) { m.Ambient.Pressure *= quantity.Absolute(f) },
		},
		Doubt: map[string]func(*collect.Measure){
			collect.InputVolume: func(m *collect.Measure) { m.VolumeU *= 2 },
			collect.InputClock:  func(m *collect.Measure) { m.Clock *= 2 },
			collect.InputHead:   func(m *collect.Measure) { m.HeadU *= 2 },
		},
		Scalings: map[string]laws.Scaling[collect.Measure]{
			"twice the volume": {Times: 2, By: func(m *collect.Measure) { m.Volume, m.VolumeU = 2*m.Volume, 2*m.VolumeU }},
			"twice the time":   {Times: 0.5, By: func(m *collect.Measure) { m.Time, m.Clock = 2*m.Time, 2*m.Clock }},
		},
	})
}

// Water in the way means less gas: vapour and head take some of the pressure.
func TestWaterTakesSome(t *testing.T) {
	wet, dry := cylinder(), cylinder()
	dry.Over = false
	if r := rate(t, wet) / rate(t, dry); r < 0.95 || r > 0.98 {
		t.Errorf("50 mm of head and 2.8 kPa of vapour leave %v", r)
	}
}

func TestFaults(t *testing.T) {
	for want, spoil := range map[string]func(*collect.Measure){
		"not-positive volume":                  func(m *collect.Measure) { m.Volume = 0 },
		"too-large volume-uncertainty":         func(m *collect.Measure) { m.VolumeU = 11e-6 },
		"not-positive time":                    func(m *collect.Measure) { m.Time = -1 },
		"too-large clock":                      func(m *collect.Measure) { m.Clock = 121 },
		"out-of-range head":                    func(m *collect.Measure) { m.Head = 2.1 },
		"not-a-number head":                    func(m *collect.Measure) { m.Head = quantity.Length(math.NaN()) },
		"out-of-range head-uncertainty":        func(m *collect.Measure) { m.HeadU = 0.21 },
		"out-of-range temperature":             func(m *collect.Measure) { m.Ambient.Temperature = 320 },
		"out-of-range temperature-uncertainty": func(m *collect.Measure) { m.TemperatureU = 6 },
		"out-of-range ambient-pressure":        func(m *collect.Measure) { m.Ambient.Pressure = 40e3 },
		"not-positive ambient-temperature":     func(m *collect.Measure) { m.Ambient.Temperature = 0 },
	} {
		m := cylinder()
		spoil(&m)
		_, err := m.Estimate()
		var fault *quantity.Fault
		if !errors.As(err, &fault) || fault.Code+" "+fault.Field != want {
			t.Errorf("%v, want %s", err, want)
		}
		if fault != nil && fault.Code == quantity.CodeRange && fault.Min >= fault.Max {
			t.Errorf("%s: from %v to %v", want, fault.Min, fault.Max)
		}
	}
}

// The pressure of the gas stays above zero where everything that is allowed comes together.
func TestWorstCorner(t *testing.T) {
	m := collect.Measure{
		Volume: 1e-6, Time: 1, Over: true, Head: 2, HeadU: 0.2, TemperatureU: 5,
		Ambient: gas.Ambient{Pressure: 50e3, Temperature: 313.15},
	}
	e, err := m.Estimate()
	if err != nil || !(e.Molar.Lo > 0) || e.Sample.Quantile(0) <= 0 {
		t.Errorf("%+v, %v", e.Molar, err)
	}
}

func ExampleMeasure_Estimate() {
	e, err := cylinder().Estimate()
	if err != nil {
		panic(err)
	}
	number := func(q quantity.MolarFlow) string {
		p, _ := quantity.Print(q, "std cm3/min@0C", 3)
		return p.Number
	}
	fmt.Println(number(e.Molar.Median), "from", number(e.Molar.Lo), "to", number(e.Molar.Hi), "std cm3/min@0C")
	// Output: 4.46 from 4.35 to 4.58 std cm3/min@0C
}
