package flow_test

import (
	"fmt"

	"jointwalk/calc/flow"
	"jointwalk/calc/quantity"
)

// What the examples print was worked out apart from this code, from the formulas of the package comment: derived.

// station is air of 23 °C at +200 kPa: 18.28 µPa s by the Sutherland set of 40 CFR 1065.640.
func station() flow.Condition {
	return flow.Condition{
		Inside: 301325, Outside: quantity.Atmosphere, Temperature: 296.15,
		Gas: flow.Gas{MolarMass: 28.966e-3, Viscosity: 18.28e-6, HeatRatio: 1.4},
	}
}

func show(n quantity.MolarFlow, err error) {
	std, _ := quantity.In(n, "std cm3/min@0C")
	fmt.Printf("%.3g std cm³/min %v\n", std, err)
}

// A channel of 10 µm.
func ExampleChannel_Laminar() {
	show(flow.Channel{Diameter: 10e-6, Length: flow.UsualLength}.Laminar(station()))
	// Output: 0.0591 std cm³/min <nil>
}

// A channel of 10 nm.
func ExampleChannel_Molecular() {
	show(flow.Channel{Diameter: 10e-9, Length: flow.UsualLength}.Molecular(station()))
	// Output: 2.66e-12 std cm³/min <nil>
}

// Between the two the simple sum is a little more than what is measured.
func ExampleChannel_Sum() {
	h := flow.Channel{Diameter: 100e-9, Length: flow.UsualLength}
	show(h.Sum(station()))
	show(h.Transition(station()))
	// Output:
	// 3.25e-09 std cm³/min <nil>
	// 2.84e-09 std cm³/min <nil>
}

func ExampleChannel_Transition() {
	show(flow.Channel{Diameter: 1e-6, Length: flow.UsualLength}.Transition(station()))
	// Output: 8.07e-06 std cm³/min <nil>
}

// How wide a channel lets 2 std cm³/min through.
func ExampleLaminarChannel() {
	h, err := flow.LaminarChannel(1.487e-6, flow.UsualLength, station())
	fmt.Printf("%.1f µm %v\n", float64(h.Diameter)*1e6, err)
	// Output: 24.1 µm <nil>
}

// How wide a short hole lets 2 std cm³/min through.
func ExampleOrifice_Sized() {
	o, err := flow.Orifice{Discharge: flow.UsualDischarge}.Sized(1.487e-6, station())
	fmt.Printf("%.1f µm %v\n", float64(o.Diameter())*1e6, err)
	// Output: 11.4 µm <nil>
}

func ExampleOrifice_Flow() {
	show(flow.Hole(10e-6).Flow(station()))
	// Output: 1.55 std cm³/min <nil>
}

// A choked hole behind a wide space, air.
func ExampleCoefficient() {
	fmt.Printf("%.4f\n", flow.Coefficient(1.4, 0, 0.3))
	// Output: 0.6847
}

func ExampleCritical() {
	fmt.Printf("%.4f\n", flow.Critical(1.4, 0))
	// Output: 0.5283
}

func ExampleCriticalTemperature() {
	fmt.Printf("%.1f K\n", float64(flow.CriticalTemperature(293.15, 1.4)))
	// Output: 244.3 K
}

func ExampleIdeal() {
	show(flow.Ideal(1e-10, 0.6847, station()), nil)
	// Output: 3.29 std cm³/min <nil>
}

func ExampleRegimeOf() {
	r, err := flow.RegimeOf(24e-6, 1.487e-6, station())
	fmt.Printf("%s, Kn %.4f, Re %.0f, choked %v %v\n", r.Code, r.Knudsen, r.Reynolds, r.Choked, err)
	// Output: laminar, Kn 0.0028, Re 125, choked true <nil>
}

// A leak found in a vacuum test of −80 kPa, under a bubble check at +80 kPa.
func ExampleCarry() {
	vacuum, pressure := station(), station()
	vacuum.Inside, pressure.Inside = quantity.Atmosphere-80e3, quantity.Atmosphere+80e3
	rigid, _ := flow.Carry("compression", vacuum, pressure)
	fmt.Printf("%.2f to %.2f\n", rigid.Low, rigid.High)
	for _, s := range rigid.Shares {
		fmt.Printf("%s %.1f: %.2f\n", s.Model, s.Weight, s.Factor)
	}
	seal, _ := flow.Carry("push-to-connect", vacuum, pressure)
	fmt.Println(seal.Cannot)
	// Output:
	// 1.02 to 2.30
	// laminar 0.7: 2.30
	// transition-wide 0.1: 1.78
	// transition-narrow 0.1: 1.02
	// orifice 0.1: 1.79
	// molecular 0.0: 1.00
	// elastic-other-way
}

// A calibrated leak of laminar make, certified at +200 kPa, at a place of 83.5 kPa.
func ExampleFactor() {
	high := station()
	high.Inside, high.Outside = 283500, 83500
	f, err := flow.Factor(flow.ModelLaminar, station(), high)
	fmt.Printf("%.3f %v\n", f, err)
	// Output: 0.911 <nil>
}

func ExampleFilmExcess() {
	p, err := flow.FilmExcess(0.028, 1e-3)
	fmt.Printf("%.0f Pa %v\n", float64(p), err)
	// Output: 112 Pa <nil>
}

func ExampleBubbleExcess() {
	p, err := flow.BubbleExcess(0.0727, 1e-3)
	fmt.Printf("%.1f Pa %v\n", float64(p), err)
	// Output: 145.4 Pa <nil>
}

// At 14 kPa a usual solution keeps channels of up to twice this radius shut.
func ExampleSmallestBubble() {
	r, err := flow.SmallestBubble(0.028, 14e3)
	fmt.Printf("%.1f µm %v\n", float64(r)*1e6, err)
	// Output: 4.0 µm <nil>
}
