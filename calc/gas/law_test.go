package gas

import (
	"math"
	"testing"
)

// The worked example of the mixing rule in a textbook of transport phenomena (chapter 1; CO2, O2, N2 at 293 K and 1 atm,
// viscosities in 1e-7 g/(cm s)): 1714, with the sums below the line 0.763, 1.057 and 1.049. From memory.
func TestWilkeOfTextbook(t *testing.T) {
	x, m, mu := []float64{0.133, 0.039, 0.828}, []float64{44.010, 31.999, 28.013}, []float64{1462, 2031, 1754}
	if got := wilke(x, m, mu); math.Abs(got-1714) > 0.5 {
		t.Errorf("got %.1f, want 1714", got)
	}
}

// Air as a mixture must have the viscosity of air as a species. Composition: Int. J. Thermophys. 25 (2004) 21–69, from memory.
func TestWilkeOfAir(t *testing.T) {
	codes, x := []string{Nitrogen, Oxygen, Argon}, []float64{0.7812, 0.2096, 0.0092}
	for kelvin := 200.0; kelvin <= 400; kelvin += 25 {
		var m, mu []float64
		for _, code := range codes {
			m, mu = append(m, float64(find(code).mass)), append(mu, find(code).viscosity.at(kelvin))
		}
		if mixed, air := wilke(x, m, mu), find(Air).viscosity.at(kelvin); math.Abs(mixed/air-1) > 2e-3 {
			t.Errorf("%g K: mixed %.3f, air %.3f µPa·s", kelvin, mixed, air)
		}
	}
}

// The part of IAPWS R12-08 for zero density, against the release's check value at 873.15 K and 1 kg/m³, 32.619287 µPa·s (from
// memory); so little density moves it by less than 0.5 %.
func TestSteamOfRelease(t *testing.T) {
	if got := (steam{}).at(873.15); math.Abs(got/32.619287-1) > 5e-3 {
		t.Errorf("got %.4f µPa·s, want 32.619", got)
	}
}

// The laws of carbon dioxide and hydrogen, in µPa·s. Carbon dioxide at about 100 kPa: table of J. Phys. Chem. Ref. Data 27
// (1998) 31–44; hydrogen at zero density: Int. J. Thermophys. 28 (2007) 1085–1110; both from memory.
func TestLawsOfSections(t *testing.T) {
	for _, row := range []struct {
		code         string
		kelvin, want float64
	}{{CarbonDioxide, 220, 11.06}, {CarbonDioxide, 300, 15.02}, {CarbonDioxide, 800, 35.09}, {Hydrogen, 298.15, 8.900}} {
		if got := find(row.code).viscosity.at(row.kelvin); math.Abs(got/row.want-1) > 1e-3 {
			t.Errorf("%s at %g K: got %.4f, want %.3f", row.code, row.kelvin, got, row.want)
		}
	}
}

// The two leading factors belong to Ω and to 4 Ω/5.
func TestLeadingFactors(t *testing.T) {
	if math.Abs(section/chapman-0.8) > 1e-4 {
		t.Errorf("the factors are as %v, want 0.8", section/chapman)
	}
}
