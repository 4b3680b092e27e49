package summary

import (
	"math"

	"jointwalk/calc/quantity"
	"jointwalk/sync/record"
)

// Warnings that follow from the scene of an observation.
const (
	WarnOtherCircuit    = "circuit-not-test"  // does not add to the instrument's reading
	WarnReferenceSide   = "circuit-reference" // takes from the instrument's reading
	WarnHidesLeaks      = "circuit-hides"     // supply or control air that leaks in hides leaks
	WarnPressureDiffers = "pressure-differs"  // seen at another pressure than the program's
	WarnDirection       = "direction-differs" // a vacuum program, seen under positive pressure
	WarnGasDiffers      = "gas-differs"       // seen with another gas than the program's
	WarnWentOn          = "went-on-vented"    // bubbles went on with the joint vented: no leak of the station
	WarnPassesFilm      = "gas-passes-film"   // the gas passes through a film: at least this much
)

// pressureSlack is how far the round's pressure may be from the program's
// before it is said. Judgement.
const pressureSlack = 0.05

// passesFilm holds the gases that diffuse through a film fast enough to matter.
var passesFilm = map[string]bool{"helium": true, "carbon-dioxide": true, "hydrogen-5-nitrogen": true}

// warnings are what a person must know of the scene before using the share.
func (s scene) warnings(o *record.Observation) []string {
	all := []string{}
	switch s.circuit {
	case "test", "":
	case "reference":
		all = append(all, WarnReferenceSide)
	case "supply", "control":
		all = append(all, WarnHidesLeaks)
	default:
		all = append(all, WarnOtherCircuit)
	}
	if o.Medium == "film" && o.How != "collected" && passesFilm[s.conditions.Gas] {
		all = append(all, WarnPassesFilm)
	}
	return append(all, s.differences()...)
}

// differences are where the round was not run as the program runs.
func (s scene) differences() []string {
	if s.program == nil {
		return nil
	}
	var all []string
	seen, err1 := quantity.From[quantity.Gauge](s.conditions.Pressure.Value, s.conditions.Pressure.Unit)
	asked, err2 := quantity.From[quantity.Gauge](s.program.Pressure.Value, s.program.Pressure.Unit)
	switch {
	case err1 != nil || err2 != nil:
	case asked < 0 && seen > 0:
		all = append(all, WarnDirection)
	case math.Abs(float64(seen-asked)) > pressureSlack*math.Abs(float64(asked)):
		all = append(all, WarnPressureDiffers)
	}
	if s.conditions.Gas != s.program.Gas {
		all = append(all, WarnGasDiffers)
	}
	return all
}
