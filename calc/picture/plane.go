package picture

import (
	"math"

	"jointwalk/calc/quantity"
)

func (a Point) plus(b Point) Point         { return Point{a.X + b.X, a.Y + b.Y} }
func (a Point) minus(b Point) Point        { return Point{a.X - b.X, a.Y - b.Y} }
func (a Point) times(factor float64) Point { return Point{a.X * factor, a.Y * factor} }
func (a Point) dot(b Point) float64        { return a.X*b.X + a.Y*b.Y }
func (a Point) cross(b Point) float64      { return a.X*b.Y - a.Y*b.X }
func (a Point) length() float64            { return math.Hypot(a.X, a.Y) }

// middle of some points.
func middle(points []Point) (sum Point) {
	for _, at := range points {
		sum = sum.plus(at)
	}
	return sum.times(1 / float64(len(points)))
}

// homography carries points of one plane into another: (x, y) to ((ax + by + c)/w, (dx + ey + f)/w) with w = gx + hy + i.
type homography struct{ a, b, c, d, e, f, g, h, i float64 }

func (m homography) at(p Point) Point {
	w := m.g*p.X + m.h*p.Y + m.i
	return Point{(m.a*p.X + m.b*p.Y + m.c) / w, (m.d*p.X + m.e*p.Y + m.f) / w}
}

// back is the homography that undoes it: the adjugate, which is the inverse but for a factor.
func (m homography) back() homography {
	return homography{
		m.e*m.i - m.f*m.h, m.c*m.h - m.b*m.i, m.b*m.f - m.c*m.e,
		m.f*m.g - m.d*m.i, m.a*m.i - m.c*m.g, m.c*m.d - m.a*m.f,
		m.d*m.h - m.e*m.g, m.b*m.g - m.a*m.h, m.a*m.e - m.b*m.d,
	}
}

// sight is how a camera sees a place in a plane.
type sight struct {
	scale    float64 // pixels a metre, along
	distance float64 // of the camera from the plane, m
	cosine   float64 // of the angle between the line of sight and the plane's normal
	along    Point   // the direction in the plane that is square to the line of sight
}

// sight of a place in the plane that is carried into the picture, by a camera of some centre and focal length: the
// Jacobian, turned from pixels into angles, has the singular values 1/r along and cos ψ/r across, r being the length of the line of sight.
func (m homography) sight(p, centre Point, focal float64) sight {
	w, to := m.g*p.X+m.h*p.Y+m.i, m.at(p)
	x := Point{m.a - to.X*m.g, m.d - to.Y*m.g}.times(1 / w)
	y := Point{m.b - to.X*m.h, m.e - to.Y*m.h}.times(1 / w)
	off := to.minus(centre).times(1 / focal)
	s := math.Sqrt(1 + off.dot(off))
	angle := func(of Point) Point { return of.minus(off.times(off.dot(of) / (s * (s + 1)))).times(1 / (s * focal)) }
	u, v := angle(x), angle(y)
	half, mixed := (u.dot(u)-v.dot(v))/2, u.dot(v)
	mean, root := (u.dot(u)+v.dot(v))/2, math.Hypot(half, mixed)
	most := math.Sqrt(mean + root)
	along := halfway(Point{half, mixed}, root)
	cosine := math.Abs(u.cross(v)) / (most * most)
	return sight{x.times(along.X).plus(y.times(along.Y)).length(), cosine / most, cosine, along}
}

// halfway is the direction of half the angle of a direction of some length; along x where it has none.
func halfway(to Point, length float64) Point {
	sum := Point{to.X + length, to.Y}
	if l := sum.length(); l > 0 {
		return sum.times(1 / l)
	}
	if length > 0 {
		return Point{0, 1}
	}
	return Point{1, 0}
}

// ofRectangle carries a rectangle from (0, 0) to (long, short) onto four corners, the first being that of (0, 0) and the second that of
// (long, 0). The fault is CodeCrossed where they do not go round a convex shape.
func ofRectangle(long, short float64, to [4]Point) (homography, error) {
	if !convex(to) {
		return homography{}, &quantity.Fault{Code: CodeCrossed, Field: "scale"}
	}
	sum, one, two := to[0].minus(to[1]).plus(to[2]).minus(to[3]), to[1].minus(to[2]), to[3].minus(to[2])
	g, h := sum.cross(two)/one.cross(two), one.cross(sum)/one.cross(two)
	x, y := to[1].minus(to[0]).plus(to[1].times(g)), to[3].minus(to[0]).plus(to[3].times(h))
	return homography{x.X / long, y.X / short, to[0].X, x.Y / long, y.Y / short, to[0].Y, g / long, h / short, 1}, nil
}

// convex says whether four corners go round a shape in one direction, none of them flat.
func convex(c [4]Point) bool {
	turns := 0
	for i := range c {
		in, out := c[(i+1)%4].minus(c[i]), c[(i+2)%4].minus(c[(i+1)%4])
		if turn := in.cross(out) / (in.length() * out.length()); turn > flattest {
			turns++
		} else if turn < -flattest {
			turns--
		}
	}
	return turns == 4 || turns == -4
}

// flattest corner of a card, as the sine of its turn. A card tilted by 48° has its corners above 0.6.
const flattest = 0.2

// ofCard carries a card's plane, in metres, into the picture. The longer pair of sides is the longer one up to a tilt of 50°.
func ofCard(long, short float64, c [4]Point) (homography, error) {
	first := c[1].minus(c[0]).length() + c[2].minus(c[3]).length()
	second := c[2].minus(c[1]).length() + c[3].minus(c[0]).length()
	if second > first {
		c = [4]Point{c[1], c[2], c[3], c[0]}
	}
	return ofRectangle(long, short, c)
}

// mostApart is how much two edges of a tube may run apart, as the sine of the angle.
const mostApart = 0.3

// tube is the width between two edges of a tube, in pixels, and how it grows.
type tube struct {
	middle Point   // of the four points
	along  Point   // the direction of its axis
	width  float64 // at the middle
	grows  float64 // a pixel along
	u      float64 // standard uncertainty of grows, from the hand
}

// tubeOf has two points on one edge and two on the other. The fault is CodeCrossed where they are not those of a tube.
func tubeOf(m [4]Point) (tube, error) {
	one, two := m[1].minus(m[0]), m[3].minus(m[2])
	if one.dot(two) < 0 {
		m[2], m[3], two = m[3], m[2], two.times(-1)
	}
	along := one.times(1 / one.length()).plus(two.times(1 / two.length()))
	along = along.times(1 / along.length())
	across, t := Point{-along.Y, along.X}, tube{middle: middle(m[:]), along: along}
	if t.width = t.off(m[0], one, across) - t.off(m[2], two, across); t.width < 0 {
		t.width, across = -t.width, across.times(-1)
	}
	t.grows = one.dot(across)/one.dot(along) - two.dot(across)/two.dot(along)
	t.u = Hand * math.Sqrt(2/one.dot(one)+2/two.dot(two))
	crossed := m[0].minus(m[2]).dot(across) <= 0 || m[1].minus(m[3]).dot(across) <= 0
	apart := math.Abs(one.cross(two)) / (one.length() * two.length())
	if crossed || !(apart < mostApart) {
		return t, &quantity.Fault{Code: CodeCrossed, Field: "scale"}
	}
	return t, nil
}

// off is how far across an edge lies from the middle.
func (t tube) off(from, edge, across Point) float64 {
	ahead := t.middle.minus(from).dot(t.along) / edge.dot(t.along)
	return from.plus(edge.times(ahead)).minus(t.middle).dot(across)
}

// tubeLook is what is known of a tube's width beforehand: it grows by some share a pixel, with a standard uncertainty, and each edge is
// seen some pixels too far in.
type tubeLook struct{ grows, u, in float64 }

// ofTube carries a plane in metres into the picture by the width of a tube, abreast of a place. How the width grows along the tube is weighed
// against what is known of it, for the points on the edges stand close together.
func ofTube(width float64, m [4]Point, place Point, known tubeLook) (homography, error) {
	t, err := tubeOf(m)
	u := known.u * t.width
	shown := u * u / (u*u + t.u*t.u)
	grows := t.grows*shown + known.grows*t.width*(1-shown)
	s := (t.width + 2*known.in + grows*place.minus(t.middle).dot(t.along)) / width
	if err == nil && !(s > 0) {
		err = &quantity.Fault{Code: CodeCrossed, Field: "scale"}
	}
	return homography{a: s, e: s, i: 1}, err
}
