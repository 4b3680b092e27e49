package quantity_test

import (
	"math"
	"strings"
	"testing"

	"jointwalk/calc/quantity"
)

// atoms are UCUM's units as multiples of SI (UCUM 2.1 and NIST SP 811 appendix B.8, from memory). "Cel" and "[degF]" have a
// zero of their own and stand apart.
var atoms = map[string]float64{
	"m": 1, "g": 1e-3, "s": 1, "K": 1, "mol": 1, "Pa": 1, "J": 1, "N": 1, "L": 1e-3, "bar": 1e5, "atm": 101325,
	"min": 60, "h": 3600, "d": 86400, "a_j": 365.25 * 86400, "P": 0.1,
	"[in_i]": 0.0254, "[ft_i]": 0.3048, "[sin_i]": 6.4516e-4, "[cin_i]": 1.6387064e-5, "[cft_i]": 2.8316846592e-2,
	"[psi]": 6894.757293168361, "[lbf_av]": 4.4482216152605,
}

var prefixes = map[byte]float64{'k': 1e3, 'M': 1e6, 'c': 1e-2, 'm': 1e-3, 'u': 1e-6}

// meaning is a UCUM term of atoms, prefixes, powers, products and quotients.
func meaning(t *testing.T, term string) float64 {
	value, sign := 1.0, 1.0
	for term != "" {
		end := strings.IndexAny(term, "./")
		part := term
		if end >= 0 {
			part = term[:end]
		}
		value *= math.Pow(factor(t, part), sign)
		if end < 0 {
			break
		}
		if sign = 1; term[end] == '/' {
			sign = -1
		}
		term = term[end+1:]
	}
	return value
}

func factor(t *testing.T, part string) float64 {
	power := 1.0
	if last := part[len(part)-1]; last >= '2' && last <= '3' {
		power, part = float64(last-'0'), part[:len(part)-1]
	}
	if v, ok := atoms[part]; ok {
		return math.Pow(v, power)
	}
	v, ok := atoms[part[1:]]
	if !ok || prefixes[part[0]] == 0 {
		t.Fatalf("UCUM has no %q", part)
	}
	return math.Pow(prefixes[part[0]]*v, power)
}

// kinds with a function that converts one of a unit to SI, differences of temperature apart.
var kinds = map[quantity.Kind]func(t *testing.T, code string) float64{
	quantity.KindLength:      one[quantity.Length],
	quantity.KindArea:        one[quantity.Area],
	quantity.KindVolume:      one[quantity.Volume],
	quantity.KindVolumeFlow:  one[quantity.VolumeFlow],
	quantity.KindLeakRate:    one[quantity.MolarFlow],
	quantity.KindPressure:    one[quantity.Absolute],
	quantity.KindTemperature: one[quantity.Temperature],
	quantity.KindDuration:    one[quantity.Duration],
	quantity.KindEnergy:      one[quantity.Energy],
	quantity.KindForce:       one[quantity.Force],
	quantity.KindViscosity:   one[quantity.Viscosity],
	quantity.KindTension:     one[quantity.Tension],
	quantity.KindMolarMass:   one[quantity.MolarMass],
}

// one is a step of one in that unit, in SI.
func one[Q quantity.Quantity](t *testing.T, code string) float64 {
	t.Helper()
	hi, err := quantity.From[Q](2, code)
	if err != nil {
		t.Fatal(err)
	}
	lo, _ := quantity.From[Q](1, code)
	return float64(hi - lo)
}

// Every unit that has a code for interchange means what UCUM says it does; a leak rate has none but mol/s.
func TestUCUM(t *testing.T) {
	steps := map[string]float64{"Cel": 1, "[degF]": 5.0 / 9}
	for kind, step := range kinds {
		for _, code := range quantity.UnitsOf(kind) {
			term := quantity.UCUM(code)
			if kind == quantity.KindLeakRate && code != "mol/s" {
				if term != "" {
					t.Errorf("%s travels as %s, without its reference", code, term)
				}
				continue
			}
			if term == "" {
				continue
			}
			want, apart := steps[term]
			if !apart {
				want = meaning(t, term)
			}
			if got := step(t, code); math.Abs(got/want-1) > 1e-12 {
				t.Errorf("%s is %.15g, %s means %.15g", code, got, term, want)
			}
		}
		if code := quantity.SI(kind); quantity.UCUM(code) != code {
			t.Errorf("%s does not travel as itself", code)
		}
	}
	if quantity.UCUM("furlong") != "" {
		t.Error("a unit that does not exist has a code")
	}
}

// NIST SP 811 appendix B.8, from memory, to its printed digits: the conventional columns and the pound's family.
func TestConventionalUnits(t *testing.T) {
	for code, want := range map[string]float64{"inHg": 3386.389, "mmHg": 133.3224, "inH2O": 249.0889, "Torr": 133.3224, "atm": 101325} {
		if got := one[quantity.Absolute](t, code); math.Abs(got/want-1) > 5e-7 {
			t.Errorf("%s is %.9g Pa, want %v", code, got, want)
		}
	}
	if got := one[quantity.Energy](t, "ft.lbf"); math.Abs(got/1.355818-1) > 5e-7 {
		t.Errorf("ft.lbf is %.9g J", got)
	}
	if got := one[quantity.Force](t, "lbf"); math.Abs(got/4.448222-1) > 5e-7 {
		t.Errorf("lbf is %.9g N", got)
	}
	if got := one[quantity.Viscosity](t, "cP"); math.Abs(got/1e-3-1) > 1e-12 {
		t.Errorf("cP is %.9g Pa.s", got)
	}
}

// What people write for a leak rate in a volume a time is gas in a reference state, which is asked for.
func TestVolumeFlowAsLeakRate(t *testing.T) {
	for plain, std := range map[string]string{"mL/min": "std cm3/min", "cc/min": "std cm3/min", "cm3/s": "std cm3/s", "L/min": "std L/min", "ft3/yr": "std ft3/yr"} {
		_, err := quantity.Parse[quantity.MolarFlow]("3", plain)
		if f := fault(t, err); f.Code != quantity.CodeReferenceMissing {
			t.Errorf("%s without a reference: %v", plain, err)
		}
		got, err := quantity.Parse[quantity.MolarFlow]("3", plain+"@15C")
		want, _ := quantity.Parse[quantity.MolarFlow]("3", std+"@15C")
		if err != nil || got != want {
			t.Errorf("3 %s@15C is %v, %v; want %v", plain, got, err, want)
		}
	}
	if _, err := quantity.Parse[quantity.VolumeFlow]("3", "std cm3/min@0C"); fault(t, err).Code != quantity.CodeUnitKind {
		t.Errorf("a volume flow in std cm3/min: %v", err)
	}
}
