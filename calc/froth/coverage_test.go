package froth_test

import (
	"math/rand/v2"
	"testing"

	"jointwalk/calc/froth"
	"jointwalk/calc/gas"
	"jointwalk/calc/laws"
	"jointwalk/calc/quantity"
)

// A leak fills froth with gas by the gas law, as much of it as the froth's state may hold; a person judges what it covers.
func TestCoverage(t *testing.T) {
	holds := map[froth.State][2]float64{froth.Fresh: {0.64, 0.90}, froth.Drained: {0.90, 0.99}}
	for state, fraction := range holds {
		t.Run(string(state), func(t *testing.T) {
			laws.Coverage(t, 13, func(r *rand.Rand) (float64, laws.Observation, bool) {
				pascal, kelvin := laws.Weather(r)
				molar, took := laws.Between(r, 1e-9, 1e-6), 20+200*r.Float64()
				volume := molar * took * 8.314462618 * kelvin / pascal / (fraction[0] + r.Float64()*(fraction[1]-fraction[0]))
				height := 0.5e-3 + 5e-3*r.Float64()
				a, au := laws.Off(r, volume/height, 0.15)
				h, hu := laws.Off(r, height, 0.15)
				f := froth.Froth{
					Area: quantity.Area(a), AreaU: quantity.Area(au), Height: quantity.Length(h), HeightU: quantity.Length(hu), State: state,
					Time: quantity.Duration(took + 2*r.NormFloat64()), Clock: 2,
					Ambient: gas.Ambient{Pressure: quantity.Absolute(pascal), Temperature: quantity.Temperature(kelvin)},
				}
				return molar, f, a > 0 && h > 0
			})
		})
	}
}
