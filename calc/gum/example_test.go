package gum_test

import (
	"fmt"

	"jointwalk/calc/gum"
)

// A measurement of a leak rate: 200 cm³ lose 180 Pa in 10 s at 23 °C.
func ExampleMeasurement_Evaluate() {
	m := gum.Measurement{Inputs: []gum.Input{
		{Name: "volume", Value: 200e-6, U: 4e-6},
		{Name: "drop", Value: 180, U: 3, DoF: 4},
		{Name: "temperature", Value: 296.15, U: 1},
		{Name: "time", Value: 10, U: 0.02},
	}}
	r, err := m.Evaluate(func(x []float64) float64 { return x[0] * x[1] / (8.314462618 * x[2] * x[3]) })
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3g mol/s, u %.2g mol/s, %.0f degrees of freedom, U95 %.2g mol/s (k = %.2f)\n",
		r.Value, r.U, r.DoF, r.Expanded(0.95), r.Factor(0.95))
	for _, p := range r.Budget {
		fmt.Printf("%s %.0f %%\n", p.Input, p.Percent)
	}
	// Output:
	// 1.46e-06 mol/s, u 3.8e-08 mol/s, 25 degrees of freedom, U95 7.9e-08 mol/s (k = 2.06)
	// volume 58 %
	// drop 40 %
	// temperature 2 %
	// time 1 %
}

// What the bend of a model adds: the square of 1.0 with u 0.5.
func ExampleMeasurement_Second() {
	m := gum.Measurement{Inputs: []gum.Input{{Name: "side", Value: 1, U: 0.5}}}
	area := func(x []float64) float64 { return x[0] * x[0] }
	first, err := m.Evaluate(area)
	if err != nil {
		fmt.Println(err)
		return
	}
	second, err := m.Second(area)
	fmt.Printf("u %.2f, with the second order %.2f %v\n", first.U, second, err)
	// Output: u 1.00, with the second order 1.06 <nil>
}

// Coefficients that are known: the mean of two gauges.
func ExampleMeasurement_Linear() {
	m := gum.Measurement{Inputs: []gum.Input{{Name: "left", Value: 200, U: 3, DoF: 5}, {Name: "right", Value: 206, U: 4, DoF: 5}}}
	r, err := m.Linear((200.0+206.0)/2, []float64{0.5, 0.5})
	fmt.Printf("%.0f, u %.1f, %.0f degrees of freedom %v\n", r.Value, r.U, r.DoF, err)
	// Output: 203, u 2.5, 9 degrees of freedom <nil>
}

// Two leak rates worked out with the same volume are wrong together.
func ExampleMeasurement_Correlate() {
	m := gum.Measurement{Inputs: []gum.Input{
		{Name: "volume", Value: 200, U: 6}, {Name: "first drop", Value: 50, U: 1}, {Name: "second drop", Value: 80, U: 1},
	}}
	first, err := m.Evaluate(func(x []float64) float64 { return x[0] * x[1] })
	if err != nil {
		fmt.Println(err)
		return
	}
	second, err := m.Evaluate(func(x []float64) float64 { return x[0] * x[2] })
	fmt.Printf("r = %.2f %v\n", m.Correlate(first, second), err)
	// Output: r = 0.77 <nil>
}
