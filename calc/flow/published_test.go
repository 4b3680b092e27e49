package flow_test

import (
	"math"
	"testing"

	"jointwalk/calc/flow"
	"jointwalk/calc/quantity"
	"jointwalk/testdata/published"
)

// tester is a test of any make.
type tester interface {
	Helper()
	Errorf(string, ...any)
	Fatal(...any)
}

// within fails when got is further than a share of want from it.
func within(t tester, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance*math.Abs(want)) {
		t.Errorf("%s: got %.9g, want %.9g within %g", what, got, want, tolerance)
	}
}

// must is the value of a call that ought not to fail.
func must[V any](t tester) func(V, error) V {
	return func(v V, err error) V {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
}

func molar(t tester) func(quantity.MolarFlow, error) float64 {
	return func(n quantity.MolarFlow, err error) float64 {
		t.Helper()
		return float64(must[quantity.MolarFlow](t)(n, err))
	}
}

func TestCriticalRatio(t *testing.T) {
	for _, c := range published.Cases(t, "flow-critratio-") {
		c.Check(t, flow.Critical(c.In(t, "gamma"), 0))
	}
}

func TestCriticalTemperature(t *testing.T) {
	c := published.One(t, "flow-critical-T")
	c.Check(t, float64(flow.CriticalTemperature(quantity.Temperature(c.In(t, "T0")), c.In(t, "k"))))
}

// The choked coefficient is that of any ratio at or below the critical one.
func TestChokedCoefficient(t *testing.T) {
	for _, c := range published.Cases(t, "flow-cf-") {
		beta := 0.0
		if _, ok := c.Inputs["beta"]; ok {
			beta = c.In(t, "beta")
		}
		c.Check(t, flow.Coefficient(c.In(t, "gamma"), beta, 0))
		c.Check(t, flow.Coefficient(c.In(t, "gamma"), beta, 0.4))
	}
}

func TestSubsonicCoefficient(t *testing.T) {
	c := published.One(t, "flow-ssv-cf-2")
	c.Check(t, flow.Coefficient(c.In(t, "gamma"), c.In(t, "beta"), 1-c.In(t, "dp")/c.In(t, "p")))
}

// venturi is the molar flow of a case that names Cd, Cf, A, p, T and M; its R is the CODATA value of its day, 1e-6 away.
func venturi(t *testing.T, c published.Case) quantity.MolarFlow {
	at := flow.Condition{
		Inside:      quantity.Absolute(c.In(t, "p")),
		Temperature: quantity.Temperature(c.In(t, "T")),
		Gas:         flow.Gas{MolarMass: quantity.MolarMass(c.In(t, "M"))},
	}
	return flow.Ideal(quantity.Area(c.In(t, "A")), c.In(t, "Cd")*c.In(t, "Cf"), at)
}

func TestVenturiFlow(t *testing.T) {
	c := published.One(t, "flow-ssv-n")
	c.Check(t, float64(venturi(t, c)))
	c = published.One(t, "flow-ssv-v")
	c.Check(t, float64(venturi(t, c))*quantity.GasConstant*c.In(t, "Tstd")/c.In(t, "pstd"))
}

func TestFliegner(t *testing.T) {
	c := published.One(t, "flow-fliegner")
	mass := quantity.GasConstant / c.In(t, "R_s")
	at := flow.Condition{Inside: 1e5, Outside: 1e3, Temperature: 300, Gas: flow.Gas{
		MolarMass: quantity.MolarMass(mass), Viscosity: 1, HeatRatio: c.In(t, "gamma"),
	}}
	n := molar(t)(flow.Orifice{Area: 2, Discharge: 1}.Flow(at))
	c.Check(t, n*mass*math.Sqrt(300)/(2*1e5))
}

// A real gas with compressibility Z flows like an ideal one at the temperature Z T.
func TestSubcriticalArea(t *testing.T) {
	c := published.One(t, "flow-api520-sub")
	mass := c.In(t, "M") * 1e-3
	at := flow.Condition{
		Inside:      quantity.Absolute(c.In(t, "P1") * 1e3),
		Outside:     quantity.Absolute(c.In(t, "P2") * 1e3),
		Temperature: quantity.Temperature(c.In(t, "T") * c.In(t, "Z")),
		Gas:         flow.Gas{MolarMass: quantity.MolarMass(mass), Viscosity: 1, HeatRatio: c.In(t, "k")},
	}
	n := quantity.MolarFlow(c.In(t, "W") / 3600 / mass)
	o, err := flow.Orifice{Discharge: c.In(t, "Kd")}.Sized(n, at)
	if err != nil {
		t.Fatal(err)
	}
	c.Check(t, float64(o.Area)*1e6)
}

// ANSI N14.5 counts lengths in cm, viscosity in cP and pressure in atm, and the volume at the mean pressure: here 1 atm.
func TestCapillaryConstants(t *testing.T) {
	h := flow.Channel{Diameter: 0.01, Length: 0.01}
	at := flow.Condition{Inside: 1.5 * 101325, Outside: 0.5 * 101325, Temperature: 1, Gas: flow.Gas{
		MolarMass: 1e-3, Viscosity: 1e-3, HeatRatio: 1.4,
	}}
	volume := func(n float64) float64 { return n * quantity.GasConstant * 1 / 101325 * 1e6 }
	published.One(t, "flow-n145-Fc").Check(t, volume(molar(t)(h.Laminar(at))))
	published.One(t, "flow-n145-Fm").Check(t, volume(molar(t)(h.Molecular(at))))
}

func TestHeliumForAir(t *testing.T) {
	c := published.One(t, "flow-he-air-molecular")
	air := flow.Condition{Inside: 2e5, Outside: 1e5, Temperature: 293.15, Gas: flow.Gas{
		MolarMass: quantity.MolarMass(c.In(t, "M_air") * 1e-3), Viscosity: 18.5e-6, HeatRatio: 1.4, // CRC table, 300 K
	}}
	helium := air
	helium.Gas = flow.Gas{
		MolarMass: quantity.MolarMass(c.In(t, "M_he") * 1e-3), Viscosity: 19.9e-6, HeatRatio: 1.667, // CRC table, 300 K
	}
	c.Check(t, must[float64](t)(flow.Factor(flow.ModelMolecular, air, helium)))
	// Derived from the same table's viscosities: 18.5/19.9.
	within(t, "viscous", must[float64](t)(flow.Factor(flow.ModelLaminar, air, helium)), 0.93, 0.001)
}

func TestReynolds(t *testing.T) {
	c := published.One(t, "flow-reynolds-cfr")
	g := flow.Gas{MolarMass: quantity.MolarMass(c.In(t, "M")), Viscosity: quantity.Viscosity(c.In(t, "mu"))}
	c.Check(t, flow.Reynolds(quantity.Length(c.In(t, "d")), quantity.MolarFlow(c.In(t, "n")), g))
}

func TestTension(t *testing.T) {
	c := published.One(t, "bub-rmin-water")
	r, err := flow.SmallestBubble(quantity.Tension(c.In(t, "sigma")), quantity.Gauge(c.In(t, "dp")))
	if err != nil {
		t.Fatal(err)
	}
	c.Check(t, float64(r))
	c = published.One(t, "bub-soapfilm")
	p, err := flow.FilmExcess(quantity.Tension(c.In(t, "gamma")), quantity.Length(c.In(t, "r")))
	if err != nil {
		t.Fatal(err)
	}
	c.Check(t, float64(p))
}
