package quantity

import "strings"

// unit converts by SI = (number + shift) × scale.
type unit struct {
	code  string
	kind  Kind
	scale float64
	shift float64
	// std is set for leak rates whose scale is in Pa·m³/s or in m³/s of gas at
	// reference conditions, and so still wants a reference.
	std standard
	// ucum is the unit's code for interchange, "" where UCUM has none that means exactly the same.
	ucum string
}

// standard tells what a leak-rate unit takes from its reference.
type standard int

const (
	plain  standard = iota // nothing: the scale is to SI
	byHeat                 // temperature: the scale is to Pa·m³/s
	byBoth                 // pressure and temperature: the scale is to m³/s
)

// Definitions (NIST SP 811, appendix B.8).
const (
	inch       = 0.0254     // m, exact
	pound      = 0.45359237 // kg, exact
	poundForce = pound * Gravity
	psi        = poundForce / (inch * inch)
	cubicInch  = inch * inch * inch
	cubicFoot  = 1728 * cubicInch
	centimetre = 1e-6              // m³ in a cubic centimetre
	torr       = 101325.0 / 760    // Pa, exact
	mercury    = 13595.1 * Gravity // Pa in a metre of conventional mercury
	water      = 1000 * Gravity    // Pa in a metre of conventional water
	day        = 86400
	year       = 365.25 * day // the Julian year, UCUM's a_j
)

// units is in the order in which a person is offered them.
var units = [...]unit{
	{code: "mm", kind: KindLength, scale: 1e-3, ucum: "mm"},
	{code: "cm", kind: KindLength, scale: 1e-2, ucum: "cm"},
	{code: "m", kind: KindLength, scale: 1, ucum: "m"},
	{code: "in", kind: KindLength, scale: inch, ucum: "[in_i]"},
	{code: "ft", kind: KindLength, scale: 12 * inch, ucum: "[ft_i]"},
	{code: "um", kind: KindLength, scale: 1e-6, ucum: "um"},

	{code: "mm2", kind: KindArea, scale: 1e-6, ucum: "mm2"},
	{code: "cm2", kind: KindArea, scale: 1e-4, ucum: "cm2"},
	{code: "m2", kind: KindArea, scale: 1, ucum: "m2"},
	{code: "in2", kind: KindArea, scale: inch * inch, ucum: "[sin_i]"},

	{code: "cm3", kind: KindVolume, scale: centimetre, ucum: "cm3"},
	{code: "mL", kind: KindVolume, scale: centimetre, ucum: "mL"},
	{code: "L", kind: KindVolume, scale: 1e-3, ucum: "L"},
	{code: "mm3", kind: KindVolume, scale: 1e-9, ucum: "mm3"},
	{code: "m3", kind: KindVolume, scale: 1, ucum: "m3"},
	{code: "in3", kind: KindVolume, scale: cubicInch, ucum: "[cin_i]"},
	{code: "ft3", kind: KindVolume, scale: cubicFoot, ucum: "[cft_i]"},

	{code: "mm3/s", kind: KindVolumeFlow, scale: 1e-9, ucum: "mm3/s"},
	{code: "cm3/s", kind: KindVolumeFlow, scale: centimetre, ucum: "cm3/s"},
	{code: "cm3/min", kind: KindVolumeFlow, scale: centimetre / 60, ucum: "cm3/min"},
	{code: "mL/min", kind: KindVolumeFlow, scale: centimetre / 60, ucum: "mL/min"},
	{code: "L/min", kind: KindVolumeFlow, scale: 1e-3 / 60, ucum: "L/min"},
	{code: "m3/s", kind: KindVolumeFlow, scale: 1, ucum: "m3/s"},
	{code: "ft3/min", kind: KindVolumeFlow, scale: cubicFoot / 60, ucum: "[cft_i]/min"},
	{code: "ft3/h", kind: KindVolumeFlow, scale: cubicFoot / 3600, ucum: "[cft_i]/h"},
	{code: "ft3/yr", kind: KindVolumeFlow, scale: cubicFoot / year, ucum: "[cft_i]/a_j"},

	{code: "Pa", kind: KindPressure, scale: 1, ucum: "Pa"},
	{code: "kPa", kind: KindPressure, scale: 1e3, ucum: "kPa"},
	{code: "MPa", kind: KindPressure, scale: 1e6, ucum: "MPa"},
	{code: "mbar", kind: KindPressure, scale: 100, ucum: "mbar"},
	{code: "bar", kind: KindPressure, scale: 1e5, ucum: "bar"},
	{code: "psi", kind: KindPressure, scale: psi, ucum: "[psi]"},
	{code: "atm", kind: KindPressure, scale: float64(Atmosphere), ucum: "atm"},
	{code: "Torr", kind: KindPressure, scale: torr},
	{code: "mmHg", kind: KindPressure, scale: mercury * 1e-3},
	{code: "inHg", kind: KindPressure, scale: mercury * inch},
	{code: "inH2O", kind: KindPressure, scale: water * inch},

	{code: "°C", kind: KindTemperature, scale: 1, shift: 273.15, ucum: "Cel"},
	{code: "°F", kind: KindTemperature, scale: 5.0 / 9, shift: 459.67, ucum: "[degF]"},
	{code: "K", kind: KindTemperature, scale: 1, ucum: "K"},

	{code: "s", kind: KindDuration, scale: 1, ucum: "s"},
	{code: "min", kind: KindDuration, scale: 60, ucum: "min"},
	{code: "h", kind: KindDuration, scale: 3600, ucum: "h"},
	{code: "d", kind: KindDuration, scale: day, ucum: "d"},

	{code: "J", kind: KindEnergy, scale: 1, ucum: "J"},
	{code: "kJ", kind: KindEnergy, scale: 1e3, ucum: "kJ"},
	{code: "ft.lbf", kind: KindEnergy, scale: 12 * inch * poundForce, ucum: "[ft_i].[lbf_av]"},

	{code: "N", kind: KindForce, scale: 1, ucum: "N"},
	{code: "kN", kind: KindForce, scale: 1e3, ucum: "kN"},
	{code: "lbf", kind: KindForce, scale: poundForce, ucum: "[lbf_av]"},

	{code: "uPa.s", kind: KindViscosity, scale: 1e-6, ucum: "uPa.s"},
	{code: "Pa.s", kind: KindViscosity, scale: 1, ucum: "Pa.s"},
	{code: "cP", kind: KindViscosity, scale: 1e-3, ucum: "cP"},
	{code: "mN/m", kind: KindTension, scale: 1e-3, ucum: "mN/m"},
	{code: "N/m", kind: KindTension, scale: 1, ucum: "N/m"},
	{code: "g/mol", kind: KindMolarMass, scale: 1e-3, ucum: "g/mol"},
	{code: "kg/mol", kind: KindMolarMass, scale: 1, ucum: "kg/mol"},

	{code: "std cm3/min", kind: KindLeakRate, scale: centimetre / 60, std: byBoth},
	{code: "std cm3/s", kind: KindLeakRate, scale: centimetre, std: byBoth},
	{code: "std L/min", kind: KindLeakRate, scale: 1e-3 / 60, std: byBoth},
	{code: "std ft3/yr", kind: KindLeakRate, scale: cubicFoot / year, std: byBoth},
	{code: "Pa.m3/s", kind: KindLeakRate, scale: 1, std: byHeat},
	{code: "mbar.L/s", kind: KindLeakRate, scale: 0.1, std: byHeat},
	{code: "Torr.L/s", kind: KindLeakRate, scale: torr * 1e-3, std: byHeat},
	{code: "atm.cm3/s", kind: KindLeakRate, scale: float64(Atmosphere) * centimetre, std: byHeat},
	{code: "mol/s", kind: KindLeakRate, scale: 1, ucum: "mol/s"},
}

// Reference is the state of gas that a volume or a pV-product is said for.
type Reference struct {
	// Code stands behind the @ of a leak-rate unit.
	Code string
	// Pressure and Temperature of the reference state.
	Pressure    Absolute
	Temperature Temperature
}

// references: 0 °C (NIST leak artifacts, DIN 1343), 20 °C (40 CFR 1065), 25 °C
// (MIL-STD-202), ANR 20 °C and 100 kPa (ISO 8778, from memory); 15 °C, 60 °F
// and 70 °F (21.1 °C) are customary.
var references = [...]Reference{
	{"0C", Atmosphere, 273.15},
	{"15C", Atmosphere, 288.15},
	{"20C", Atmosphere, 293.15},
	{"21.1C", Atmosphere, 273.15 + 38.0*5/9},
	{"25C", Atmosphere, 298.15},
	{"60F", Atmosphere, 273.15 + 28.0*5/9},
	{"ANR", 100000, 293.15},
}

// References lists the reference states in the order of offering.
func References() []Reference { return append([]Reference(nil), references[:]...) }

// UCUM is the code of a unit for interchange by UCUM, the Unified Code for Units of Measure (version 2.1, from memory);
// "" where it has none that means exactly the same: the conventional columns of mercury and water, the Torr, and every leak
// rate whose unit wants a reference. Those travel in SI. Unknown codes have none.
func UCUM(code string) string {
	u, _ := find(code)
	return u.ucum
}

// SI is the unit in which a kind is held and exchanged.
func SI(kind Kind) string {
	for _, u := range units {
		if u.kind == kind && u.scale == 1 && u.shift == 0 && u.std == plain {
			return u.code
		}
	}
	panic("quantity: a kind without an SI unit")
}

// UnitsOf lists the unit codes of a kind in the order of offering. Those of
// KindLeakRate come without their reference: see NeedsReference.
func UnitsOf(kind Kind) []string {
	var codes []string
	for _, u := range units {
		if u.kind == kind {
			codes = append(codes, u.code)
		}
	}
	return codes
}

// NeedsReference says whether a unit code wants "@" and a reference behind it,
// as "std cm3/min@0C" does. Unknown codes do not.
func NeedsReference(code string) bool {
	base, _, has := strings.Cut(code, "@")
	u, ok := find(base)
	return ok && u.std != plain && !has
}

// aliases are other ways in which people type a unit.
var aliases = [...][2]string{
	{"\"", "in"}, {"inch", "in"}, {"C", "°C"}, {"F", "°F"}, {"degC", "°C"}, {"degF", "°F"},
	{"ml", "mL"}, {"cc", "cm3"}, {"l", "L"}, {"ml/min", "mL/min"}, {"cc/min", "cm3/min"},
	{"ccm", "cm3"}, {"sec", "s"}, {"Pa m3/s", "Pa.m3/s"}, {"mbar L/s", "mbar.L/s"},
	{"mbar.l/s", "mbar.L/s"}, {"mbar l/s", "mbar.L/s"}, {"std mL/min", "std cm3/min"},
	{"std cc/min", "std cm3/min"}, {"std cc/s", "std cm3/s"}, {"sccm", "std cm3/min"},
	{"sccs", "std cm3/s"}, {"slm", "std L/min"}, {"Torr L/s", "Torr.L/s"}, {"Torr.l/s", "Torr.L/s"}, {"Torr l/s", "Torr.L/s"},
	{"torr", "Torr"}, {"atm cm3/s", "atm.cm3/s"}, {"atm cc/s", "atm.cm3/s"}, {"atm.cc/s", "atm.cm3/s"},
	{"cc/s", "cm3/s"}, {"l/min", "L/min"}, {"scc/min", "std cm3/min"}, {"scc/s", "std cm3/s"}, {"std ft3/a", "std ft3/yr"},
	{"ft3/a", "ft3/yr"}, {"inch Hg", "inHg"}, {"in Hg", "inHg"}, {"in H2O", "inH2O"}, {"inWC", "inH2O"}, {"mm Hg", "mmHg"},
	{"µm", "um"}, {"μm", "um"}, {"µPa.s", "uPa.s"}, {"μPa.s", "uPa.s"},
}

// spelling brings superscripts and middle dots to plain characters, pair by pair: the standard library's replacer is much to
// load on a phone for six of them.
var spelling = [...][2]string{{"³", "3"}, {"^3", "3"}, {"·", "."}, {"⋅", "."}, {"*", "."}, {"º", "°"}}

// find is the unit of a code without its reference.
func find(code string) (unit, bool) {
	code = strings.TrimSpace(code)
	for _, s := range spelling {
		code = strings.ReplaceAll(code, s[0], s[1])
	}
	for _, a := range aliases {
		if a[0] == code {
			code = a[1]
			break
		}
	}
	for _, u := range units {
		if u.code == code {
			return u, true
		}
	}
	return unit{}, false
}

// resolve is the unit of a full code with its reference folded into the scale.
func resolve(code string, want Kind) (unit, error) {
	base, ref, has := strings.Cut(code, "@")
	u, ok := find(base)
	if !ok {
		return unit{}, &Fault{Code: CodeUnitUnknown, Unit: code}
	}
	if want == KindLeakRate && u.kind == KindVolumeFlow { // "mL/min" of a leak is of gas in its reference state
		u.kind, u.std = want, byBoth
	}
	if u.kind != want {
		return unit{}, &Fault{Code: CodeUnitKind, Unit: code, Want: want, Got: u.kind}
	}
	if u.std == plain {
		if has {
			return unit{}, &Fault{Code: CodeUnitUnknown, Unit: code}
		}
		return u, nil
	}
	if !has {
		return unit{}, &Fault{Code: CodeReferenceMissing, Unit: code}
	}
	return refer(u, strings.TrimSpace(ref), code)
}

// refer folds n = p V/(R T) of a reference into the scale of u.
func refer(u unit, ref, code string) (unit, error) {
	for _, r := range references {
		if r.Code != ref {
			continue
		}
		if u.std == byBoth {
			u.scale *= float64(r.Pressure)
		}
		u.scale /= GasConstant * float64(r.Temperature)
		return u, nil
	}
	return unit{}, &Fault{Code: CodeReferenceUnknown, Unit: code}
}
