package summary

import (
	"math"

	"jointwalk/calc/bubble"
	"jointwalk/calc/class"
	"jointwalk/calc/collect"
	"jointwalk/calc/dome"
	"jointwalk/calc/estimate"
	"jointwalk/calc/froth"
	"jointwalk/calc/gas"
	"jointwalk/calc/quantity"
	"jointwalk/sync/record"
)

// WarnAtLeast says that a leak is this or more.
const WarnAtLeast = "at-least"

// weighed is what an observation says by itself. advice is what would narrow it and
// countTo how many bubbles that takes; both are empty where nothing is known of
// that.
type weighed struct {
	estimate.Estimate
	advice  string
	countTo int
}

// weigh is what an observation says under an ambient.
func weigh(o *record.Observation, at gas.Ambient) (w weighed, err error) {
	switch o.How {
	case "collected":
		w.Estimate, err = collected(o, at)
	case "class":
		w.Estimate, err = class.Seen{Class: class.Class(o.Class), Ambient: at}.Estimate()
	case "dome", "froth":
		w.Estimate, err = grown(o, at)
	default:
		train, err := trainOf(o, at)
		if err != nil {
			return w, err
		}
		e, err := train.Estimate()
		return weighed{e.Estimate, e.Advice, e.CountTo}, err
	}
	return w, err
}

// How well gas in a measure is known where the person says nothing of it.
// Judgement: common practice, no source.
const (
	volumeShare                       = 0.05   // of the reading …
	volumeLeast  quantity.Volume      = 0.1e-6 // m³, and at least that
	headRead     quantity.Length      = 0.005  // m, read off beside a rule
	headUnread   quantity.Length      = 0.05   // m, taken as level where nobody looked
	degreesKnown quantity.Temperature = 2      // K
)

// collected is gas that came together over water.
func collected(o *record.Observation, at gas.Ambient) (none estimate.Estimate, err error) {
	volume, err := volumeOf(o.Volume)
	if err != nil {
		return none, err
	}
	m := collect.Measure{
		Volume: volume, VolumeU: min(volume, max(volumeShare*volume, volumeLeast)),
		Time: quantity.Duration(o.Seconds), Clock: bubble.ClockByHand,
		Over: true, HeadU: headUnread, Ambient: at, TemperatureU: degreesKnown,
	}
	if o.Head != nil {
		if m.Head, err = quantity.From[quantity.Length](o.Head.Value, o.Head.Unit); err != nil {
			return none, err
		}
		m.HeadU = headRead
	}
	return m.Estimate()
}

func volumeOf(a *record.Amount) (quantity.Volume, error) {
	if a == nil {
		return 0, &quantity.Fault{Code: quantity.CodeNotPositive, Field: "volume"}
	}
	if err := quantity.Positive("volume", a.Value); err != nil {
		return 0, err
	}
	return quantity.From[quantity.Volume](a.Value, a.Unit)
}

// patchShape is the relative standard uncertainty of a patch of froth as a disc that
// is as wide as somebody judged it. Judgement: common practice, no source.
const patchShape = 0.2

// grown is one dome that grew from nothing, or froth that grew while somebody looked,
// on a patch: a disc of a diameter d with a relative uncertainty u has π/4 d², known
// to 2u and patchShape. A height is known as well as a size in millimetres is.
func grown(o *record.Observation, at gas.Ambient) (none estimate.Estimate, err error) {
	size, err := sizesOf(o)
	if err != nil {
		return none, err
	}
	var height, heightU quantity.Length
	if o.Height != nil || o.How == "froth" {
		if height, err = lengthOf(o.Height, "height"); err != nil {
			return none, err
		}
		heightU = bubble.Measured(height).U
	}
	took := quantity.Duration(o.Seconds)
	if o.How == "dome" {
		of := dome.Cap{Base: size, Height: height, HeightU: heightU}
		return dome.Grown{Cap: of, Time: took, Clock: bubble.ClockByHand, Ambient: at}.Estimate()
	}
	area := math.Pi / 4 * float64(size.Diameter*size.Diameter)
	u := 2 * float64(size.U/size.Diameter)
	return froth.Froth{
		Area: quantity.Area(area), AreaU: quantity.Area(area * min(1, math.Sqrt(u*u+patchShape*patchShape))),
		Height: height, HeightU: heightU, State: froth.Fresh, Time: took, Clock: bubble.ClockByHand, Ambient: at,
	}.Estimate()
}
