package bubble

import (
	"math"

	"jointwalk/calc/estimate"
	"jointwalk/calc/gas"
	"jointwalk/calc/spread"
	"jointwalk/calc/water"
)

// wet is the estimate under water, for an Immersion.
func (t Train) wet() estimate.Estimate {
	weight, vapour := waterOf(t.Ambient)
	pressure := float64(t.Ambient.Pressure)
	perMole := gas.R * float64(t.Ambient.Temperature)
	return estimate.Of([]estimate.Input{
		{Name: InputSize, Of: t.Size.Distribution()},
		{Name: InputShape, Of: spread.Exact(1)},
		{Name: InputCount, Of: t.Count.Number()},
		{Name: InputClock, Of: t.Count.Took()},
		{Name: InputDepth, Of: spread.Around(float64(t.Under.Depth), float64(t.Under.DepthU))},
		{Name: InputVapour, Of: spread.Rectangular{Lo: 0, Hi: 1}},
	}, t.Ambient, func(x []float64) float64 {
		volume := math.Pi / 6 * x[0] * x[0] * x[0] * x[2] / x[3]
		return volume * (pressure + weight*x[4] - x[5]*vapour) / perMole
	})
}

// waterOf is ρ g in Pa/m and pv in Pa of water at ambient temperature, which check has found in range.
func waterOf(at gas.Ambient) (weight, vapour float64) {
	weight, err := water.Weight(at.Temperature)
	if err != nil {
		panic("bubble: " + err.Error())
	}
	p, err := water.SaturationPressure(at.Temperature)
	if err != nil {
		panic("bubble: " + err.Error())
	}
	return weight, float64(p)
}
