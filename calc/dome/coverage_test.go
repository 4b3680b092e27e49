package dome_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"jointwalk/calc/bubble"
	"jointwalk/calc/dome"
	"jointwalk/calc/gas"
	"jointwalk/calc/laws"
	"jointwalk/calc/quantity"
)

// scene is a true leak and its dome, by formulas of its own: the sphere that the cap is cut from.
type scene struct {
	molar, base, height, time float64
	at                        gas.Ambient
}

// blow draws a dome of a leak; false when nobody could time it.
func blow(r *rand.Rand) (scene, bool) {
	pascal, kelvin := laws.Weather(r)
	s := scene{molar: laws.Between(r, 1e-9, 1e-5), base: 4e-3 + 16e-3*r.Float64(),
		at: gas.Ambient{Pressure: quantity.Absolute(pascal), Temperature: quantity.Temperature(kelvin)}}
	a := s.base / 2
	s.height = a * (0.8 + 0.4*r.Float64())
	sphere := (a*a + s.height*s.height) / (2 * s.height)
	volume := math.Pi * s.height * s.height * (sphere - s.height/3)
	s.time = volume * pascal / (8.314462618 * kelvin) / s.molar
	return s, s.time > 2 && s.time < 120
}

// read is the base and, where it is seen, the height, as a person judges them.
func (s scene) read(r *rand.Rand, height bool) dome.Cap {
	d, u := laws.Off(r, s.base, 0.06)
	c := dome.Cap{Base: bubble.Size{Diameter: quantity.Length(d), U: quantity.Length(u)}}
	if height {
		h, u := laws.Off(r, s.height, 0.10)
		c.Height, c.HeightU = quantity.Length(h), quantity.Length(u)
	}
	return c
}

func TestCoverageOfOneDome(t *testing.T) {
	for name, height := range map[string]bool{"height seen": true, "height not seen": false} {
		t.Run(name, func(t *testing.T) {
			laws.Coverage(t, 11, func(r *rand.Rand) (float64, laws.Observation, bool) {
				s, ok := blow(r)
				took := s.time + 0.3*r.NormFloat64()
				g := dome.Grown{Cap: s.read(r, height), Time: quantity.Duration(took), Clock: 0.3, Ambient: s.at}
				return s.molar, g, ok && took > 1
			})
		})
	}
}

func TestCoverageOfBursts(t *testing.T) {
	laws.Coverage(t, 12, func(r *rand.Rand) (float64, laws.Observation, bool) {
		s, ok := blow(r)
		until := 20 + 60*r.Float64()
		first := s.time * r.Float64() // the clock has nothing to do with the bursts
		n := 0
		for at := first; at < until; at += s.time {
			n++
		}
		says := until + 0.3*r.NormFloat64()
		count := bubble.Window(n, quantity.Duration(says), 0.3)
		return s.molar, dome.Bursting{Cap: s.read(r, false), Count: count, Ambient: s.at}, ok && n >= 3
	})
}
