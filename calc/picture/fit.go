package picture

import (
	"math"

	"jointwalk/calc/quantity"
)

// What is known beforehand. Judgement: common practice, no source, unless a line says more.
const (
	// Hand is the standard uncertainty of a coordinate that a person points at under a loupe, in pixels.
	Hand = 1.5
	// edgeU is the standard uncertainty of how far all points of a rim, or of a tube's edges, lie too far out, or in, in pixels: an edge out
	// of focus.
	edgeU = 0.5
	// seenIn is by how many pixels a tube's edges are expected too far in: what is round is darker towards its edges. So it was in rendered pictures.
	seenIn = 0.4
	// deepest is how far a bubble may stand before the plane of the scale, in metres: rectangular from 0.
	deepest = 8e-3
	// wideLens is the longer side of a picture over the focal length: 36 mm to 26 mm of a main camera, drawn
	// in by a zoom, or cut, up to twice. lensU is its standard uncertainty.
	wideLens = 1.2
	lensU    = 0.25
	// distortion is the standard uncertainty of each of the two coefficients of radial distortion, at a radius of one focal length.
	distortion = 0.06
	// scaleU is that of a card or a tube, as a share: what a printer or a mill makes of it.
	scaleU = 3e-3
	// formU is the least that the form of a rim may be off, as a share.
	formU = 0.02
	// A tube says nothing of the tilt. Up to 30°, and off the middle of the picture, half a sphere shows a circle smaller by 0 to 8 %.
	unseenTilt, unseenTiltU = 0.02, 0.03
	// slopeU is the standard uncertainty of the tangent of a tube's slope to the camera: a tilt of up to 30° in any direction.
	slopeU = 0.3
)

// inputs are all that the diameter depends on.
type inputs struct {
	Picture
	form   float64 // by how many of its standard uncertainties the rim is drawn out more than expected
	depth  float64 // m
	lens   float64 // the longer side over the focal length
	k1, k2 float64 // at a radius of one focal length
	scale  float64 // true over nominal
	out    float64 // px, of the rim
	in     float64 // px, of a tube's edges
	slope  float64 // of a tube to the camera, in its standard uncertainties
}

// given are the inputs of a picture. Its points are its own.
func given(p Picture) *inputs {
	p.Rim = append([]Point(nil), p.Rim...)
	return &inputs{Picture: p, depth: deepest / 2, lens: wideLens, scale: 1, in: seenIn}
}

// centre of the picture, and focal length, in pixels.
func (in *inputs) centre() Point  { return Point{in.Width / 2, in.Height / 2} }
func (in *inputs) focal() float64 { return math.Max(in.Width, in.Height) / in.lens }

// straight takes the lens's distortion off a point: to first order, which is exact for none.
func (in *inputs) straight(p Point) Point {
	off := p.minus(in.centre())
	r := off.length() / in.focal()
	return in.centre().plus(off.times(1 - in.k1*r*r - in.k2*r*r*r*r))
}

// found is a rim that was fitted.
type found struct {
	diameter float64 // m
	away     float64 // of its middle from that of the scale, m
	plane    homography
	sight    sight
	rim      ellipse
}

// find is the diameter for one set of inputs.
func (in *inputs) find() (found, error) {
	var marks [4]Point
	for i, mark := range in.Marks {
		marks[i] = in.straight(mark)
	}
	rim := make([]Point, len(in.Rim))
	for i, at := range in.Rim {
		rim[i] = in.straight(at)
	}
	f := found{}
	if err := f.lay(in, marks, middle(rim)); err != nil {
		return f, err
	}
	err := f.fit(in, rim)
	f.away = f.rim.middle.minus(f.plane.back().at(middle(marks[:]))).length()
	return f, err
}

// lay finds the plane.
func (f *found) lay(in *inputs, marks [4]Point, place Point) (err error) {
	if in.byCard() {
		f.plane, err = ofCard(float64(in.Long)*in.scale, float64(in.Short)*in.scale, marks)
	} else {
		u := slopeU / in.focal()
		f.plane, err = ofTube(float64(in.Tube)*in.scale, marks, place, tubeLook{in.slope * u, u, in.in})
	}
	return err
}

// fit finds the rim in the plane, and the diameter.
func (f *found) fit(in *inputs, rim []Point) error {
	flat := make([]Point, len(rim))
	back := f.plane.back()
	for i, at := range rim {
		flat[i] = back.at(at)
	}
	f.sight = f.plane.sight(middle(flat), in.centre(), in.focal())
	form := shape{q: 1, u: formU, point: Hand / f.sight.scale}
	if in.byCard() {
		drawn := 1 / f.sight.cosine
		form.q, form.u = 1+(drawn-1)/2, math.Max(formU, (drawn-1)/math.Sqrt(12))
		form.q += in.form * form.u
	}
	if !f.rim.through(flat, f.sight.along, form) {
		return &quantity.Fault{Code: CodeVague, Field: "rim"}
	}
	f.diameter = 2 * (f.rim.half - in.out/f.sight.scale) * (1 - in.depth/f.sight.distance)
	if !in.byCard() {
		f.diameter *= 1 + unseenTilt + unseenTiltU*in.form
	}
	return nil
}

// shape is what is known of a rim before its points: by how much it is drawn out, with a standard uncertainty, and that of a point.
type shape struct{ q, u, point float64 }

// outward is by how many variances of a coordinate the square of a rim's radius is found too large: two, for a
// place that is off is off in two directions, less what the fitted middle takes up.
const outward = 1.5

// ellipse has an axis of half its length along a direction, and one q times as long across it.
type ellipse struct {
	middle, along Point
	half, q       float64
}

// through fits the ellipse; false where the points are not those of one.
func (e *ellipse) through(points []Point, along Point, of shape) bool {
	centre, across := middle(points), Point{-along.Y, along.X}
	wide := 0.0
	for _, at := range points {
		wide += at.minus(centre).length() / float64(len(points))
	}
	p := 1 / (of.q * of.q)
	var sum normal
	sum.add([5]float64{1, 0, 0, 0, p}, of.q*of.q*of.q/(2*of.u))
	for _, at := range points {
		u, v := at.minus(centre).dot(along), at.minus(centre).dot(across)
		sum.add([5]float64{v * v, u, v, 1, -u * u}, 1/(2*wide*of.point))
	}
	x, ok := sum.solve()
	if !ok || !(x[0] > 0) {
		return false
	}
	mid := Point{-x[1] / 2, -x[2] / (2 * x[0])}
	square := mid.X*mid.X + x[0]*mid.Y*mid.Y - x[3] - outward*of.point*of.point
	*e = ellipse{centre.plus(along.times(mid.X)).plus(across.times(mid.Y)), along, math.Sqrt(square), 1 / math.Sqrt(x[0])}
	return square > 0
}

// turnCos and turnSin turn by 1/outlined of a whole turn.
const (
	outlined         = 48
	turnCos, turnSin = 0.9914448613738104, 0.13052619222005157
)

// outline is the rim in the picture, as a shape of so many corners.
func (f found) outline() []Point {
	across := Point{-f.rim.along.Y, f.rim.along.X}.times(f.rim.half * f.rim.q)
	along, at := f.rim.along.times(f.rim.half), Point{1, 0}
	line := make([]Point, outlined)
	for i := range line {
		line[i] = f.plane.at(f.rim.middle.plus(along.times(at.X)).plus(across.times(at.Y)))
		at = Point{at.X*turnCos - at.Y*turnSin, at.X*turnSin + at.Y*turnCos}
	}
	return line
}

// normal are the normal equations of four unknowns; the fifth column is the right side.
type normal [4][5]float64

// add is one more equation, its last number the right side, with a weight.
func (n *normal) add(row [5]float64, weight float64) {
	for i := range n {
		for j := range row {
			n[i][j] += row[i] * row[j] * weight * weight
		}
	}
}

// solve is elimination without exchanges, which a positive definite matrix does not need; false where it is not.
func (n normal) solve() (x [4]float64, ok bool) {
	for i := range n {
		was := n[i][i]
		for k := range i {
			f := n[i][k] / n[k][k]
			for j := k; j < 5; j++ {
				n[i][j] -= f * n[k][j]
			}
		}
		if !(n[i][i] > 1e-12*was) {
			return x, false
		}
	}
	for i := 3; i >= 0; i-- {
		x[i] = n[i][4]
		for j := i + 1; j < 4; j++ {
			x[i] -= n[i][j] * x[j]
		}
		x[i] /= n[i][i]
	}
	return x, true
}
