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
}

// standard tells what a leak-rate unit takes from its reference.
type standard int

const (
	plain  standard = iota // nothing: the scale is to SI
	byHeat                 // temperature: the scale is to Pa·m³/s
	byBoth                 // pressure and temperature: the scale is to m³/s
)

const (
	inch       = 0.0254     // m, exact
	pound      = 0.45359237 // kg, exact
	gravity    = 9.80665    // m/s², exact
	psi        = pound * gravity / (inch * inch)
	cubicInch  = inch * inch * inch
	cubicFoot  = 1728 * cubicInch
	centimetre = 1e-6 // m³ in a cubic centimetre
)

// units is in the order in which a person is offered them.
var units = [...]unit{
	{code: "mm", kind: KindLength, scale: 1e-3},
	{code: "cm", kind: KindLength, scale: 1e-2},
	{code: "m", kind: KindLength, scale: 1},
	{code: "in", kind: KindLength, scale: inch},

	{code: "cm3", kind: KindVolume, scale: centimetre},
	{code: "mL", kind: KindVolume, scale: centimetre},
	{code: "L", kind: KindVolume, scale: 1e-3},
	{code: "mm3", kind: KindVolume, scale: 1e-9},
	{code: "m3", kind: KindVolume, scale: 1},
	{code: "in3", kind: KindVolume, scale: cubicInch},
	{code: "ft3", kind: KindVolume, scale: cubicFoot},

	{code: "mm3/s", kind: KindVolumeFlow, scale: 1e-9},
	{code: "cm3/s", kind: KindVolumeFlow, scale: centimetre},
	{code: "cm3/min", kind: KindVolumeFlow, scale: centimetre / 60},
	{code: "mL/min", kind: KindVolumeFlow, scale: centimetre / 60},
	{code: "m3/s", kind: KindVolumeFlow, scale: 1},
	{code: "ft3/min", kind: KindVolumeFlow, scale: cubicFoot / 60},
	{code: "ft3/h", kind: KindVolumeFlow, scale: cubicFoot / 3600},

	{code: "Pa", kind: KindPressure, scale: 1},
	{code: "kPa", kind: KindPressure, scale: 1e3},
	{code: "mbar", kind: KindPressure, scale: 100},
	{code: "bar", kind: KindPressure, scale: 1e5},
	{code: "psi", kind: KindPressure, scale: psi},

	{code: "°C", kind: KindTemperature, scale: 1, shift: 273.15},
	{code: "°F", kind: KindTemperature, scale: 5.0 / 9, shift: 459.67},
	{code: "K", kind: KindTemperature, scale: 1},

	{code: "s", kind: KindDuration, scale: 1},
	{code: "min", kind: KindDuration, scale: 60},
	{code: "h", kind: KindDuration, scale: 3600},

	{code: "std cm3/min", kind: KindLeakRate, scale: centimetre / 60, std: byBoth},
	{code: "std cm3/s", kind: KindLeakRate, scale: centimetre, std: byBoth},
	{code: "std L/min", kind: KindLeakRate, scale: 1e-3 / 60, std: byBoth},
	{code: "Pa.m3/s", kind: KindLeakRate, scale: 1, std: byHeat},
	{code: "mbar.L/s", kind: KindLeakRate, scale: 0.1, std: byHeat},
	{code: "mol/s", kind: KindLeakRate, scale: 1},
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
	{"sccs", "std cm3/s"}, {"slm", "std L/min"},
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
