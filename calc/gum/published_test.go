package gum_test

import (
	"math"
	"testing"

	"jointwalk/calc/gum"
	"jointwalk/testdata/published"
	"pgregory.net/rapid"
)

func within(t rapid.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, tolerance)
	}
}

func evaluate(t rapid.TB, m gum.Measurement, f gum.Model) gum.Result {
	t.Helper()
	r, err := m.Evaluate(f)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// gauge is the end gauge of JCGM 100:2008, H.1, in nm and °C. Its table is from memory: the standard with U = 75 nm
// (k = 3, 18 degrees of freedom); the difference with 5.8, 3.9 and 6.7 nm (24, 5 and 8); expansion coefficients
// 11.5 ± 2 and 0 ± 1 (10⁻⁶/°C, rectangular, the second to 10 %: 50); temperature −0.1 °C with 0.2, its swing of
// amplitude 0.5 (arcsine); the difference of temperatures 0 ± 0.05 °C (rectangular, to 50 %: 2).
func gauge(length, difference float64) (gum.Measurement, gum.Model) {
	third := math.Sqrt(3)
	m := gum.Measurement{Inputs: []gum.Input{
		{Name: "standard", Value: length, U: 25, DoF: 18},
		{Name: "repeated", Value: difference, U: 5.8, DoF: 24},
		{Name: "comparator, random", U: 3.9, DoF: 5},
		{Name: "comparator, systematic", U: 6.7, DoF: 8},
		{Name: "expansion", Value: 11.5e-6, U: 2e-6 / third},
		{Name: "expansions' difference", U: 1e-6 / third, DoF: 50},
		{Name: "temperature", Value: -0.1, U: 0.2},
		{Name: "swing", U: 0.5 / math.Sqrt2},
		{Name: "temperatures' difference", U: 0.05 / third, DoF: 2},
	}}
	return m, func(x []float64) float64 {
		return x[0] + x[1] + x[2] + x[3] - x[0]*(x[5]*(x[6]+x[7])+x[4]*x[8])
	}
}

func TestEndGauge(t *testing.T) {
	c := published.One(t, "gum-h1-l")
	m, f := gauge(c.In(t, "l_s"), c.In(t, "d"))
	r := evaluate(t, m, f)
	c.Check(t, r.Value)
	// H.1.3.6 and H.1.6, from memory: u_c² = 1002 nm², degrees of freedom 16.7.
	within(t, "u_c²", r.U*r.U, 1002, 0.002)
	within(t, "degrees of freedom", r.DoF, 16.7, 0.01)
	// H.1.6 cuts the degrees of freedom down to 16 and rounds u_c to 32 before it multiplies.
	within(t, "U", r.Expanded(0.99), 93, 0.015)
	second, err := m.Second(f)
	if err != nil {
		t.Fatal(err)
	}
	published.One(t, "gum-h1-2nd").Check(t, second)
	// H.1.7, from memory: the two terms of second order are 11.7 nm and 1.7 nm.
	within(t, "second order alone", math.Sqrt(second*second-r.U*r.U), math.Hypot(11.7, 1.7), 0.005)
}

// Table H.1, from memory: |c| u in nm.
func TestEndGaugeBudget(t *testing.T) {
	m, f := gauge(50_000_623, 215)
	r := evaluate(t, m, f)
	total := 0.0
	for i, want := range []float64{25, 5.8, 3.9, 6.7, 0, 2.9, 0, 0, 16.6} {
		if got := r.Budget[i].U; math.Abs(got-want) > 0.05 {
			t.Errorf("%s: %v nm, want %v", r.Budget[i].Input, got, want)
		}
		within(t, "percent", r.Budget[i].Percent, 100*math.Pow(r.Budget[i].U/r.U, 2), 1e-9)
		total += r.Budget[i].Percent
	}
	within(t, "all percents", total, 100, 1e-12)
}

func TestExpandedWith16DegreesOfFreedom(t *testing.T) {
	c := published.One(t, "gum-h1-U99")
	// The title of the case: 16 degrees of freedom.
	m := gum.Measurement{Inputs: []gum.Input{{Name: "length", U: c.In(t, "u_c"), DoF: 16}}}
	r := evaluate(t, m, func(x []float64) float64 { return x[0] })
	c.Check(t, r.Expanded(0.99))
	within(t, "t", r.Factor(0.99), c.In(t, "t"), 0.001)
}

func TestResistanceAndReactance(t *testing.T) {
	cases := published.Cases(t, "gum-h2-")
	m, err := gum.Together([]string{"V", "I", "phi"}, cases[0].List(t, "V"), cases[0].List(t, "I"), cases[0].List(t, "phi"))
	if err != nil {
		t.Fatal(err)
	}
	// The current is in mA.
	resistance := evaluate(t, m, func(x []float64) float64 { return 1e3 * x[0] / x[1] * math.Cos(x[2]) })
	reactance := evaluate(t, m, func(x []float64) float64 { return 1e3 * x[0] / x[1] * math.Sin(x[2]) })
	impedance := evaluate(t, m, func(x []float64) float64 { return 1e3 * x[0] / x[1] })
	got := map[string]float64{
		"R": resistance.Value, "X": reactance.Value, "Z": impedance.Value,
		"u_X": reactance.U, "u_Z": impedance.U,
		"r_RZ": m.Correlate(resistance, impedance), "r_XZ": m.Correlate(reactance, impedance),
	}
	for _, c := range cases {
		name := c.ID[len("gum-h2-"):]
		value, known := got[name]
		if !known {
			t.Errorf("%s is not worked out", c.ID)
		}
		c.Check(t, value)
	}
	// Tables H.2 and H.4, from memory: u(R), r(R, X), and the inputs' correlations.
	within(t, "u_R", resistance.U, 0.071, 0.01)
	within(t, "r_RX", m.Correlate(resistance, reactance), -0.588, 0.001)
	within(t, "r_VI", m.R[0][1], -0.36, 0.02)
	within(t, "r_Vphi", m.R[0][2], 0.86, 0.005)
	within(t, "r_Iphi", m.R[1][2], -0.65, 0.01)
	// Five readings taken together: four degrees of freedom, whatever is worked out from them.
	within(t, "degrees of freedom", reactance.DoF, 4, 1e-9)
}

func TestWelchSatterthwaite(t *testing.T) {
	for _, c := range published.Cases(t, "gum-ws-") {
		m := gum.Measurement{Inputs: []gum.Input{
			{Name: "1", U: c.In(t, "u1"), DoF: c.In(t, "v1")},
			{Name: "2", U: c.In(t, "u2")},
		}}
		c.Check(t, evaluate(t, m, func(x []float64) float64 { return x[0] + x[1] }).DoF)
	}
}

func TestSampleStatistics(t *testing.T) {
	mean, sd, rms := published.One(t, "cfr-stat-mean"), published.One(t, "cfr-stat-sd"), published.One(t, "cfr-stat-rms")
	o, err := gum.Observe(mean.List(t, "y"))
	if err != nil {
		t.Fatal(err)
	}
	mean.Check(t, o.Mean)
	sd.Check(t, o.SD)
	rms.Check(t, o.RMS)
	within(t, "of the mean", o.U(), o.SD/math.Sqrt(3), 1e-15)
}

func TestUnpairedT(t *testing.T) {
	c := published.One(t, "cfr-stat-t")
	a := gum.Observed{N: int(c.In(t, "n1")), Mean: c.In(t, "y1"), SD: c.In(t, "s1")}
	b := gum.Observed{N: int(c.In(t, "n2")), Mean: c.In(t, "y2"), SD: c.In(t, "s2")}
	got, dof, err := gum.Welch(a, b)
	if err != nil {
		t.Fatal(err)
	}
	c.Check(t, got)
	// 40 CFR 1065.602, from memory: 11.76 degrees of freedom.
	within(t, "degrees of freedom", dof, 11.76, 0.0005)
}
