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

var warm = decay.State{Pressure: 301.325e3, Temperature: 296.15}

// The worked station (derived by hand): 1 K is 1017 Pa at 301.325 kPa and 23 °C; 0.18 K looks like its limit of 183.1 Pa,
// 0.018 K like its allowance. Its vacuum twin: 1 K is 72 Pa.
func TestDriftOfWorkedStation(t *testing.T) {
	per, err := warm.PerKelvin()
	if err != nil {
		t.Fatal(err)
	}
	within(t, "a kelvin", float64(per), 1017, 0.001)
	for drop, kelvins := range map[quantity.Drop]float64{183.1: 0.18, 18.31: 0.018} {
		got, err := warm.Faking(drop)
		if err != nil {
			t.Fatal(err)
		}
		within(t, "the drift that fakes", got, kelvins, 0.02)
	}
	per, _ = decay.State{Pressure: 21.325e3, Temperature: 296.15}.PerKelvin()
	within(t, "a kelvin in vacuum", float64(per), 72, 0.01)
}

// Derived: 60 psia at 20 °C change by 0.204673 psi a kelvin; the mistake of taking 60 psi gauge for absolute shows.
func TestPerKelvinWantsAbsolute(t *testing.T) {
	for psi, want := range map[float64]float64{60: 0.204673, 74.69595: 0.254805} {
		p, _ := quantity.From[quantity.Absolute](psi, "psi")
		per, err := decay.State{Pressure: p, Temperature: 293.15}.PerKelvin()
		if err != nil {
			t.Fatal(err)
		}
		got, _ := quantity.In(per, "psi")
		within(t, "a kelvin", got, want, 1e-5)
	}
}

// With equal temperatures it is the plain decay; and cooling without a leak comes out as none.
func TestBetween(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		volume := quantity.Volume(rapid.Float64Range(1e-6, 1e-2).Draw(t, "volume"))
		time := quantity.Duration(rapid.Float64Range(1, 600).Draw(t, "time"))
		first := decay.State{Pressure: quantity.Absolute(rapid.Float64Range(2e4, 2e6).Draw(t, "p")), Temperature: quantity.Temperature(rapid.Float64Range(260, 330).Draw(t, "T"))}
		drop := quantity.Drop(rapid.Float64Range(0.0001, 0.1).Draw(t, "share")) * quantity.Drop(first.Pressure)
		if rapid.Bool().Draw(t, "rises") {
			drop = -drop
		}
		got, err := decay.Between(volume, time, first, decay.State{Pressure: first.Pressure - quantity.Absolute(drop), Temperature: first.Temperature})
		want, _ := decay.Test{Volume: volume, Time: time, Temperature: first.Temperature}.Rate(drop)
		if err != nil || math.Abs(float64(got-want)) > 1e-9*math.Abs(float64(want))+1e-22 {
			t.Fatalf("%v, %v; want %v", got, err, want)
		}
		cooler := rapid.Float64Range(0.9, 1.1).Draw(t, "cooler")
		shut := decay.State{Pressure: first.Pressure * quantity.Absolute(cooler), Temperature: first.Temperature * quantity.Temperature(cooler)}
		held := float64(first.Pressure) * float64(volume) / (8.314462618 * float64(first.Temperature))
		if got, _ := decay.Between(volume, time, first, shut); math.Abs(float64(got)*float64(time)) > 1e-12*held {
			t.Fatalf("cooling to %v leaks %v", cooler, got)
		}
	})
}

// The drift that fakes a drop does: cooled by so much, shut gas falls by the drop.
func TestFakingFakes(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := decay.State{Pressure: quantity.Absolute(rapid.Float64Range(2e4, 2e6).Draw(t, "p")), Temperature: quantity.Temperature(rapid.Float64Range(260, 330).Draw(t, "T"))}
		drop := quantity.Drop(rapid.Float64Range(1, 1000).Draw(t, "drop"))
		kelvins, err := s.Faking(drop)
		if err != nil {
			t.Fatal(err)
		}
		after := float64(s.Pressure) * (float64(s.Temperature) - kelvins) / float64(s.Temperature)
		if got := float64(s.Pressure) - after; math.Abs(got/float64(drop)-1) > 1e-9 {
			t.Fatalf("%v K drop it by %v, want %v", kelvins, got, drop)
		}
	})
}

func TestDriftFaults(t *testing.T) {
	cold := decay.State{Pressure: 1e5}
	_, perKelvin := cold.PerKelvin()
	_, faking := warm.Faking(quantity.Drop(math.NaN()))
	_, volume := decay.Between(0, 1, warm, warm)
	_, first := decay.Between(1, 1, cold, warm)
	_, second := decay.Between(1, 1, warm, decay.State{Temperature: 300})
	for want, err := range map[string]error{
		"not-positive gas-temperature": perKelvin, "not-a-number value": faking, "not-positive volume": volume,
		"not-positive first-temperature": first, "not-positive second-pressure": second,
	} {
		var fault *quantity.Fault
		if !errors.As(err, &fault) || fault.Code+" "+fault.Field != want {
			t.Errorf("%v, want %s", err, want)
		}
	}
}

func ExampleState_Faking() {
	limit := quantity.Drop(183.1)
	kelvins, err := warm.Faking(limit)
	if err != nil {
		panic(err)
	}
	fmt.Printf("%.2f K\n", kelvins)
	// Output: 0.18 K
}

func ExampleBetween() {
	n, err := decay.Between(200e-6, 10, warm, decay.State{Pressure: warm.Pressure - 300, Temperature: warm.Temperature - 0.1})
	if err != nil {
		panic(err)
	}
	p, _ := quantity.Print(n, "std cm3/min@0C", 3)
	fmt.Println(p.Number, p.Unit)
	// Output: 2.17 std cm3/min@0C
}
