package gas

import "jointwalk/calc/quantity"

// The codes of the gases. They are stable, and those of a round's gas among them.
const (
	Air           = "air" // dry
	Nitrogen      = "nitrogen"
	Helium        = "helium"
	Argon         = "argon"
	CarbonDioxide = "carbon-dioxide"
	Forming       = "hydrogen-5-nitrogen" // 5 % hydrogen in nitrogen, by mole
	Oxygen        = "oxygen"
	Hydrogen      = "hydrogen"
	WaterVapour   = "water-vapour"

	// Mixed is the code of what Mixture gives, MoistAir of what Moist gives. Of knows neither.
	Mixed    = "mixture"
	MoistAir = "moist-air"
)

// species is one kind of molecule; air counts as one.
type species struct {
	code string
	mass quantity.MolarMass
	// heat is the molar heat capacity Cp at constant pressure and 25 °C, in J/(mol K).
	heat float64
	// viscosity is known from the temperature cold up to hottest.
	viscosity law
	cold      quantity.Temperature
	// permeates: see Gas.Permeates.
	permeates bool
}

// hottest is where the laws of viscosity are said to end, though most hold further.
const hottest quantity.Temperature = 500

// pure holds the species. Molar masses: 40 CFR 1065.1005 (air read, the rest from memory). Heat capacities: J. Phys. Chem.
// Ref. Data Monograph 9 (1998), from memory; air is the sum of its parts. Viscosities:
//
//	air, N2, O2, Ar   Int. J. Thermophys. 25 (2004) 21–69, sizes and wells from memory, its check values for air, N2 and Ar read
//	CO2               J. Phys. Chem. Ref. Data 19 (1990) 763–808, 200 to 1500 K
//	H2                J. Chem. Eng. Data 58 (2013) 969–979; 0.1 % at 200 to 400 K
//	He                own fit to NIST Standard Reference Database 134 through 19.825 µPa·s at 25 °C (Int. J. Thermophys. 28
//	                  (2007) 1085–1110, from memory); within 0.3 %, the table's digits, at 100 to 500 K
//	H2O               IAPWS R12-08, the part for zero density; 2 % (own estimate), below 273 K, where air of 100 kPa holds
//	                  under 0.6 % of it, an extrapolation that turns wrong near 200 K
var pure = [...]species{
	{Air, 28.96559e-3, 29.10, well{chapman, 28.9586, 0.360, 103.3, nonpolar}, 100, false},
	{Nitrogen, 28.0134e-3, 29.124, well{chapman, 28.01348, 0.3656, 98.94, nonpolar}, 100, false},
	{Helium, 4.002602e-3, 20.786, power{19.825, 298.15, 0.6820, 0.0131}, 100, true},
	{Argon, 39.948e-3, 20.786, well{chapman, 39.948, 0.335, 143.2, nonpolar}, 100, false},
	{CarbonDioxide, 44.0095e-3, 37.13, well{section, 44.0098, 0.3751, 251.196,
		[5]float64{0.235156, -0.491266, 0.05211155, 0.05347906, -0.01537102}}, 200, true},
	{Oxygen, 31.9988e-3, 29.376, well{chapman, 31.9988, 0.3428, 118.5, nonpolar}, 100, false},
	{Hydrogen, 2.01588e-3, 28.836, well{section, 2.01588, 0.297, 30.41,
		[5]float64{0.209630, -0.455274, 0.143602, -0.0335325, 0.00276981}}, 100, true},
	{WaterVapour, 18.01528e-3, 33.59, steam{}, 250, false},
}

// Codes lists what Of knows, in the order of offering.
func Codes() []string {
	return []string{Air, Nitrogen, Helium, Argon, CarbonDioxide, Forming, Oxygen, Hydrogen, WaterVapour}
}

// find is the species of a code, nil for none.
func find(code string) *species {
	for i := range pure {
		if pure[i].code == code {
			return &pure[i]
		}
	}
	return nil
}
