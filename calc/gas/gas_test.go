package gas_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/testdata/published"
	"pgregory.net/rapid"
)

// One 1 mm bubble a second at 20 °C and 101.325 kPa: a consistency check.
func TestOneBubble(t *testing.T) {
	c := published.One(t, "bub-1mm-1hz-mol")
	a := gas.Ambient{Pressure: quantity.Absolute(c.In(t, "p")), Temperature: quantity.Temperature(c.In(t, "T"))}
	d := c.In(t, "d") * 1e-3
	c.Check(t, float64(gas.Molar(quantity.VolumeFlow(c.In(t, "f")*math.Pi*d*d*d/6), a)))
}

// A mole fills 22.414 L at 0 °C and 1 atm.
func TestMolarVolume(t *testing.T) {
	a := gas.Ambient{Pressure: quantity.Atmosphere, Temperature: quantity.ZeroCelsius}
	published.One(t, "unit-molar-volume").Check(t, 1e3*float64(gas.Volume(1, a)))
}

func TestUsual(t *testing.T) {
	if a := gas.Usual(); a.Pressure != 101325 || a.Temperature != 293.15 {
		t.Errorf("the usual ambient is %+v", a)
	}
}

func TestVolumeUndoesMolar(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := gas.Ambient{
			Pressure:    quantity.Absolute(rapid.Float64Range(1e3, 1e6).Draw(t, "p")),
			Temperature: quantity.Temperature(rapid.Float64Range(200, 400).Draw(t, "T")),
		}
		q := quantity.VolumeFlow(rapid.Float64Range(-1e-3, 1e-3).Draw(t, "q"))
		if back := gas.Volume(gas.Molar(q, a), a); math.Abs(float64(back-q)) > 1e-12*math.Abs(float64(q)) {
			t.Fatalf("%v came back as %v", q, back)
		}
		denser := a
		denser.Pressure *= 2
		if got := gas.Molar(q, denser); math.Abs(float64(got-2*gas.Molar(q, a))) > 1e-12*math.Abs(float64(got)) {
			t.Fatal("twice the pressure is not twice the gas")
		}
	})
}

func TestCheck(t *testing.T) {
	for field, a := range map[string]gas.Ambient{
		"ambient-pressure":    {Pressure: 0, Temperature: 300},
		"ambient-temperature": {Pressure: 1e5, Temperature: quantity.Temperature(math.NaN())},
	} {
		var f *quantity.Fault
		if err := a.Check(); !errors.As(err, &f) || f.Field != field {
			t.Errorf("%+v: got %v, want a fault of %s", a, err, field)
		}
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%+v turned into an amount", a)
				}
			}()
			gas.Molar(1, a)
		}()
	}
}

func ExampleMolar() {
	n := gas.Molar(8.48e-9, gas.Ambient{Pressure: quantity.Atmosphere, Temperature: 296.15})
	p, _ := quantity.Print(n, "std cm3/min@0C", 3)
	fmt.Println(p.Number, p.Unit)
	// Output: 0.469 std cm3/min@0C
}
