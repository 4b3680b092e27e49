// Package picture sizes a bubble in a picture that also shows something of known size: a flat card or a tube.
//
// A card's four corners give the homography between its plane in metres and the picture in pixels. Its Jacobian at the bubble, turned from pixels
// into angles at the camera by the focal length f and the place off the middle of the picture, has the singular values 1/r square to the line of
// sight and cos ψ/r along it, r being the length of the line of sight and ψ its angle with the plane's normal. That is not the tilt of the card alone:
// a place off the middle of the picture is seen at a slant on a card that is straight.
//
// Carried into the plane, a bubble's rim is an ellipse: true square to the line of sight, and drawn out by q along it, with
// 1 ≤ q ≤ 1/cos ψ; 1 for what lies flat on the plane, 1/cos ψ for a sphere, the middle for half a sphere. So the points on the rim are fitted by
// an ellipse
//
//	u² + p v² + D u + E v + F = 0,  p = 1/q²
//
// with u square to the line of sight and v along it, by least squares, with what is known of q as one more equation. Its axis along u is the
// bubble's diameter.
//
// A tube gives a scale by its two edges, without a tilt; then the rim is taken for a circle. How its width grows towards the bubble is weighed
// against a slope of up to 30°, since four points close together say little of it. Beyond 30° its interval is too narrow: of 2000 rendered pictures
// between 30° and 45° it held 87 %; a card held 95 % of 956.
//
// A bubble that stands h before the scale is seen larger by d/(d − h), d = r cos ψ being the camera's distance from the plane. Neither h nor f is known, so both have a prior.
//
// The uncertainty is the root sum of squares of what each input's standard uncertainty, up and down, makes of the diameter
// (JCGM 100:2008, 5.1.3, note 2).
package picture

import (
	"math"

	"jointwalk/calc/bubble"
	"jointwalk/calc/quantity"
)

// Point is a place in a picture, in pixels from its left and its top edge.
type Point struct{ X, Y float64 }

// Picture is a picture with what a person pointed at in it. The scale is a card where its sides are above zero, and a tube otherwise.
type Picture struct {
	// Width and Height are those of the whole picture, in pixels; its middle is taken for the lens's.
	Width, Height float64
	// Long and Short are the sides of a card.
	Long, Short quantity.Length
	// Tube is a tube's outer diameter.
	Tube quantity.Length
	// Marks are the card's corners, one after the other around it from any of them on; or two points on one edge of the tube and two on the other.
	Marks [4]Point
	// Rim are points on the bubble's rim, all around it: from LeastRim to MostRim.
	Rim []Point
}

// How many points a rim has.
const (
	LeastRim = 3
	MostRim  = 16
)

// The sides of a card of the size ID-1 of ISO/IEC 7810, as most cards in a purse have.
const (
	CardLong  quantity.Length = 85.60e-3
	CardShort quantity.Length = 53.98e-3
)

// The codes of a Fault, with the field "scale" or "rim".
const (
	// CodeCrossed: the corners are not those of a card, or the edges not those of a tube.
	CodeCrossed = "crossed"
	// CodeTilted: the card is tilted by more than LeastCosine allows at the bubble.
	CodeTilted = "tilted"
	// CodeFar: the bubble is farther than MostAway from the middle of the scale.
	CodeFar = "far"
	// CodeVague: the points fix no rim, or its size is known to no better than a third.
	CodeVague = "vague"
)

// LeastCosine is that of the slant beyond which nothing is said, 60°, as the bubble's place shows it: that of the card against the camera, for
// which pictures were rendered up to 45°, and what the place is off the middle of the picture.
const LeastCosine = 0.5

// MostAway is the distance between bubble and middle of the scale beyond which nothing is said: what pictures were rendered for.
const MostAway quantity.Length = 80e-3

// The inputs of the budget.
const (
	InputMarks = "marks"
	InputRim   = "rim"
	InputForm  = "form"
	InputDepth = "depth"
	InputLens  = "lens"
	InputScale = "scale"
)

// Part is an input's share of the variance, in percent.
type Part struct {
	Input   string
	Percent float64
}

// Measured is a bubble's diameter, and how it was found.
type Measured struct {
	Size bubble.Size
	// Cosine of the angle between the line of sight to the bubble and the normal of the card; beside a tube, whose tilt is not known, that of a tube straight on.
	Cosine float64
	// Outline is the fitted rim, to be drawn into the picture.
	Outline []Point
	Budget  []Part
}

// vaguest standard uncertainty of a diameter, as a share of it.
const vaguest = 1.0 / 3

// Measure is the diameter of a bubble. Errors are *quantity.Fault: "not-positive" or "not-a-number" with the field "picture", "scale" or
// "rim", "out-of-range" with "rim", and the codes of this package.
func (p Picture) Measure() (Measured, error) {
	if err := p.check(); err != nil {
		return Measured{}, err
	}
	in := given(p)
	found, err := in.find()
	if err == nil {
		err = found.check()
	}
	if err != nil {
		return Measured{}, err
	}
	u, budget := in.uncertainty()
	if !(u < vaguest*found.diameter) {
		return Measured{}, &quantity.Fault{Code: CodeVague, Field: "rim"}
	}
	return Measured{
		Size:    bubble.Size{Diameter: quantity.Length(found.diameter), U: quantity.Length(u)},
		Cosine:  found.sight.cosine,
		Outline: found.outline(),
		Budget:  budget,
	}, nil
}

// byCard says whether the scale is a card.
func (p Picture) byCard() bool { return p.Long > 0 && p.Short > 0 }

func (p Picture) check() error {
	if err := quantity.Positive("picture", math.Min(p.Width, p.Height)); err != nil {
		return err
	}
	known := p.Tube
	if p.byCard() {
		known = min(p.Long, p.Short)
	}
	if err := quantity.Positive("scale", float64(known)); err != nil {
		return err
	}
	if err := quantity.Within("rim", float64(len(p.Rim)), LeastRim, MostRim); err != nil {
		return err
	}
	if err := finite("scale", p.Marks[:]); err != nil {
		return err
	}
	return finite("rim", p.Rim)
}

// finite is nil where every point is somewhere.
func finite(field string, points []Point) error {
	for _, at := range points {
		if d := at.X - at.X + at.Y - at.Y; d != 0 {
			return &quantity.Fault{Code: quantity.CodeNotANumber, Field: field}
		}
	}
	return nil
}

// check is nil for what may be told.
func (f found) check() error {
	if f.sight.cosine < LeastCosine {
		return &quantity.Fault{Code: CodeTilted, Field: "scale"}
	}
	if f.away > float64(MostAway) {
		return &quantity.Fault{Code: CodeFar, Field: "rim"}
	}
	return nil
}
