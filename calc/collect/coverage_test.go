package collect_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"jointwalk/calc/collect"
	"jointwalk/calc/gas"
	"jointwalk/calc/laws"
	"jointwalk/calc/quantity"
)

// vapour is water's saturation pressure in Pa by the Magnus form of the WMO guide (No. 8), which is none of calc's.
func vapour(kelvin float64) float64 {
	c := kelvin - 273.15
	return 611.2 * math.Exp(17.62*c/(243.12+c))
}

// A leak fills a measure; what a person reads of volume, time, level and temperature is a little off.
func TestCoverage(t *testing.T) {
	for name, over := range map[string]bool{"over water": true, "dry": false} {
		t.Run(name, func(t *testing.T) {
			laws.Coverage(t, 14, func(r *rand.Rand) (float64, laws.Observation, bool) {
				pascal, kelvin := laws.Weather(r)
				molar, took, head := laws.Between(r, 1e-8, 1e-5), 30+600*r.Float64(), -0.1+0.5*r.Float64()
				inside := pascal
				if over {
					inside -= 998*9.80665*head + vapour(kelvin)
				}
				volume := molar * took * 8.314462618 * kelvin / inside
				v, u := laws.Off(r, volume, 0.01)
				m := collect.Measure{
					Volume: quantity.Volume(v), VolumeU: quantity.Volume(u), Time: quantity.Duration(took + r.NormFloat64()), Clock: 1, Over: over,
					Head: quantity.Length(head + 0.005*r.NormFloat64()), HeadU: 0.005, TemperatureU: 1,
					Ambient: gas.Ambient{Pressure: quantity.Absolute(pascal), Temperature: quantity.Temperature(kelvin + r.NormFloat64())},
				}
				return molar, m, true
			})
		})
	}
}
