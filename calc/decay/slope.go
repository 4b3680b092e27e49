package decay

import (
	"math"

	"jointwalk/calc/fit"
	"jointwalk/calc/quantity"
)

// Sample is the gas in the volume at a time.
type Sample struct {
	Time quantity.Duration
	State
}

// Slope is a leak rate from a record of pressure and temperature.
type Slope struct {
	// Rate is the molar flow out of the volume, U its standard uncertainty: of the scatter about the line, and of the volume.
	Rate, U quantity.MolarFlow
	// DegreesOfFreedom of the line's part: the number of samples less two.
	DegreesOfFreedom float64
}

// SlopeOf fits a straight line to the amount of gas n = p V/(R T) of at least three samples (the mass-point method): its slope
// is the leak, whatever the temperature did. u² = (V/R)² u²(slope) + n² u²(V)/V². The samples need not be evenly spaced.
// Errors are *quantity.Fault: "too-few-readings", "no-span", "not-positive" or "not-a-number" with the field "readings", "x",
// "gas-pressure" or "gas-temperature"; "not-positive", "not-a-number" or "out-of-range" with the field "volume" or "volume-uncertainty".
func SlopeOf(volume Measured[quantity.Volume], samples []Sample) (Slope, error) {
	if err := volume.check("volume"); err != nil {
		return Slope{}, err
	}
	if len(samples) < 3 {
		return Slope{}, &quantity.Fault{Code: fit.CodeTooFewReadings, Field: "readings"}
	}
	points := make([]fit.Point, len(samples))
	for i, s := range samples {
		if err := s.check("gas"); err != nil {
			return Slope{}, err
		}
		points[i] = fit.Point{X: float64(s.Time), Y: float64(s.Pressure) / float64(s.Temperature)}
	}
	line, err := fit.Straight(points, 0)
	if err != nil {
		return Slope{}, err
	}
	moles := float64(volume.Value) / quantity.GasConstant
	rate := -line.B * moles
	u := math.Hypot(line.UB*moles, rate*float64(volume.U/volume.Value))
	return Slope{Rate: quantity.MolarFlow(rate), U: quantity.MolarFlow(u), DegreesOfFreedom: line.DoF}, nil
}
