package picture_test

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"math/rand/v2"
)

// A world of phone cameras, cards and bubbles. It imports nothing of calc: its geometry, its lens, its light and its hand are its own.
//
// The camera stands at the origin and looks along z. Millimetres before it, pixels in its picture.

type vec [3]float64

func (a vec) add(b vec, k float64) vec { return vec{a[0] + k*b[0], a[1] + k*b[1], a[2] + k*b[2]} }
func (a vec) dot(b vec) float64        { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vec) cross(b vec) vec {
	return vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}
func (a vec) unit() vec { return vec{}.add(a, 1/math.Sqrt(a.dot(a))) }

// turned is a turned about an axis of length one (Rodrigues).
func (a vec) turned(axis vec, by float64) vec {
	sin, cos := math.Sincos(by)
	return vec{}.add(a, cos).add(axis.cross(a), sin).add(axis, axis.dot(a)*(1-cos))
}

type dot [2]float64

func (a dot) off(b dot) float64 { return math.Hypot(a[0]-b[0], a[1]-b[1]) }

const wide, high = 1600, 1200

// camera: a focal length in pixels, and two coefficients of radial distortion (r in focal lengths): after a phone's own
// correction some per cent at the edge are left. From memory.
type camera struct{ focal, k1, k2 float64 }

// sees is where a point of the world comes to lie.
func (c camera) sees(p vec) dot {
	x, y := p[0]/p[2], p[1]/p[2]
	r := x*x + y*y
	s := c.focal * (1 + c.k1*r + c.k2*r*r)
	return dot{wide/2 + s*x, high/2 + s*y}
}

// ray is the direction that a pixel sees.
func (c camera) ray(p dot) vec {
	x, y := (p[0]-wide/2)/c.focal, (p[1]-high/2)/c.focal
	ux, uy := x, y
	for range 4 {
		r := ux*ux + uy*uy
		s := 1 + c.k1*r + c.k2*r*r
		ux, uy = x/s, y/s
	}
	return vec{ux, uy, 1}
}

const cardLong, cardShort = 85.60, 53.98

// scene is a card in the world and a bubble before its plane: half a sphere with its flat side to the card.
type scene struct {
	camera
	corner, right, down, up vec // of the card: right and down along its sides, up out of it to the camera
	base                    vec // middle of the bubble's base
	radius                  float64
	tilt, height            float64
	ground, skin            float64 // how bright the bench, and the bubble in its middle
	round                   float64 // radius of the card's corners
	pipe                    pipe    // instead of the card, where it has a radius
}

// pipe is a tube that begins at a point of its axis.
type pipe struct {
	start, along vec
	radius, coat float64
}

// facing is how much the place of it that a ray meets looks at the camera, 1 in its middle and 0 at its edge; false where the ray goes by.
func (p pipe) facing(ray vec) (float64, bool) {
	side := ray.add(p.along, -ray.dot(p.along))
	a, b := side.dot(side), side.dot(p.start)
	off := p.start.add(p.along, -p.start.dot(p.along))
	root := b*b - a*(off.dot(off)-p.radius*p.radius)
	if root <= 0 {
		return 0, false
	}
	met := vec{}.add(ray, (b-math.Sqrt(root))/a).add(p.start, -1)
	return math.Sqrt(root/a) / p.radius, met.dot(p.along) > 0
}

func even(r *rand.Rand, low, high float64) float64 { return low + (high-low)*r.Float64() }

// sceneOf draws a scene with a tilt between two angles; all of it is in the picture.
func sceneOf(r *rand.Rand, low, high float64) scene {
	for {
		if s := anyScene(r, even(r, low, high)); s.whole() {
			return s
		}
	}
}

func anyScene(r *rand.Rand, tilt float64) scene {
	s := scene{tilt: tilt, height: even(r, 0, 8), radius: even(r, 1.5, 6), ground: even(r, 0.25, 0.45), skin: even(r, 0.5, 0.75)}
	s.camera = camera{even(r, 0.66, 0.86) * wide, even(r, -0.1, 0.1), even(r, -0.1, 0.1)}
	if r.Float64() < 0.2 { // zoomed
		s.focal = even(r, 1.2, 1.5) * wide
	}
	if r.Float64() < 0.5 { // one of a purse, not the printed one: ISO/IEC 7810, 5.1.2
		s.round = even(r, 2.88, 3.48)
	}
	spin, to := even(r, 0, 2*math.Pi), even(r, 0, 2*math.Pi)
	axis := vec{math.Cos(to), math.Sin(to), 0}
	s.right = vec{math.Cos(spin), math.Sin(spin), 0}.turned(axis, tilt)
	s.down = vec{-math.Sin(spin), math.Cos(spin), 0}.turned(axis, tilt)
	s.up = vec{0, 0, -1}.turned(axis, tilt)
	far := cardLong * s.focal / wide / even(r, 0.35, 0.65)
	middle := vec{even(r, -0.2, 0.2) * far * wide / s.focal, even(r, -0.2, 0.2) * far * high / s.focal, far}
	s.corner = middle.add(s.right, -cardLong/2).add(s.down, -cardShort/2)
	s.base = s.corner.add(s.right, even(r, -25, cardLong+25)).add(s.down, even(r, -25, cardShort+25)).add(s.up, s.height)
	return s
}

func (s scene) corners() [4]vec {
	b, d := s.corner.add(s.right, cardLong), s.corner.add(s.down, cardShort)
	return [4]vec{s.corner, b, b.add(s.down, cardShort), d}
}

// whole says whether card and bubble are in the picture, with a hand's breadth of pixels around.
func (s scene) whole() bool {
	all := s.corners()
	mid := all[0].add(all[2].add(all[0], -1), 0.5).add(s.base, -1)
	edge := s.radius * s.focal / s.base[2]
	at := s.sees(s.base)
	in := inside(at, edge+30) && mid.dot(mid) < 70*70
	free := edge + 40
	if s.round > 0 { // the edges beside the corners are seen too
		free += (s.round + 5) * s.focal / s.base[2]
	}
	for _, c := range all {
		in = in && inside(s.sees(c), 30) && s.sees(c).off(at) > free
	}
	return in
}

func inside(p dot, edge float64) bool {
	return p[0] > edge && p[1] > edge && p[0] < wide-edge && p[1] < high-edge
}

// hits says where a ray meets the bubble; false where it goes by.
func (s scene) hits(ray vec) (vec, bool) {
	a, b, c := ray.dot(ray), ray.dot(s.base), s.base.dot(s.base)-s.radius*s.radius
	if root := b*b - a*c; root > 0 {
		if p := (vec{}).add(ray, (b-math.Sqrt(root))/a); p.add(s.base, -1).dot(s.up) >= 0 {
			return p, true
		}
	}
	p := vec{}.add(ray, s.base.dot(s.up)/ray.dot(s.up))
	from := p.add(s.base, -1)
	return p, from.dot(from) < s.radius*s.radius
}

// bright is what a place in the picture shows, 0 to 1: a white card with a dark edge around it, a bubble that is dark at its rim and where it
// sits.
func (s scene) bright(p dot) float64 {
	ray := s.ray(p)
	if at, hit := s.hits(ray); hit {
		n := at.add(s.base, -1)
		facing := min(1, 6*n.dot(s.up)/s.radius) * math.Abs(n.dot(ray.unit())) / s.radius
		return s.skin * (0.2 + 0.8*facing*facing*facing)
	}
	if s.pipe.radius > 0 {
		if facing, hit := s.pipe.facing(ray); hit {
			return s.pipe.coat * (0.7 + 0.3*facing)
		}
	}
	on := vec{}.add(ray, s.corner.dot(s.up)/ray.dot(s.up)).add(s.corner, -1)
	if s.pipe.radius == 0 && s.onCard(on.dot(s.right), on.dot(s.down)) {
		return 0.92
	}
	return s.ground
}

// onCard says whether a place, from the card's first corner on, is on it.
func (s scene) onCard(x, y float64) bool {
	x, y = math.Abs(x-cardLong/2)-cardLong/2, math.Abs(y-cardShort/2)-cardShort/2
	if x > -s.round && y > -s.round {
		return math.Hypot(x+s.round, y+s.round) < s.round || s.round == 0 && x < 0 && y < 0
	}
	return x < 0 && y < 0
}

// rim is where the outline of the bubble is, seen from the middle of its base in a direction of the picture.
func (s scene) rim(angle float64) dot {
	at := s.sees(s.base)
	step := dot{math.Cos(angle), math.Sin(angle)}
	in, out := 0.0, 2.5*s.radius*s.focal/s.base[2]
	for range 30 {
		half := (in + out) / 2
		if _, hit := s.hits(s.ray(dot{at[0] + half*step[0], at[1] + half*step[1]})); hit {
			in = half
		} else {
			out = half
		}
	}
	return dot{at[0] + in*step[0], at[1] + in*step[1]}
}

const patch, rest = 32, 6

// shot is a piece of a picture around a place, as the phone would have kept it: out of focus, with noise, as JPEG 80.
type shot struct {
	left, top int
	level     [patch][patch]float64
}

// take renders the pieces around some places.
func (s scene) take(r *rand.Rand, places []dot) []shot {
	blur, noise := even(r, 0.5, 2), even(r, 0.005, 0.03)
	strip := image.NewGray(image.Rect(0, 0, patch*len(places), patch))
	shots := make([]shot, len(places))
	for i, at := range places {
		shots[i].left = int(at[0]) - patch/2 + r.IntN(7) - 3
		shots[i].top = int(at[1]) - patch/2 + r.IntN(7) - 3
		s.expose(r, &shots[i], blur, noise)
		for y := range patch {
			for x := range patch {
				strip.SetGray(patch*i+x, y, color.Gray{Y: uint8(255*min(1, max(0, shots[i].level[y][x])) + 0.5)})
			}
		}
	}
	var kept bytes.Buffer
	if err := jpeg.Encode(&kept, strip, &jpeg.Options{Quality: 80}); err != nil {
		panic(err)
	}
	again, err := jpeg.Decode(&kept)
	if err != nil {
		panic(err)
	}
	for i := range shots {
		for y := range patch {
			for x := range patch {
				shots[i].level[y][x] = float64(color.GrayModel.Convert(again.At(patch*i+x, y)).(color.Gray).Y) / 255
			}
		}
	}
	return shots
}

// expose fills one piece: two rays a pixel, a Gaussian blur, noise.
func (s scene) expose(r *rand.Rand, to *shot, blur, noise float64) {
	const side = patch + 2*rest
	var raw, rows [side][side]float64
	for y := range side {
		for x := range side {
			for _, off := range [2]dot{{0.25, 0.3}, {0.75, 0.7}} {
				raw[y][x] += s.bright(dot{float64(to.left+x-rest) + off[0], float64(to.top+y-rest) + off[1]}) / 2
			}
		}
	}
	var kernel [2*rest + 1]float64
	sum := 0.0
	for i := range kernel {
		kernel[i] = math.Exp(-float64((i-rest)*(i-rest)) / (2 * blur * blur))
		sum += kernel[i]
	}
	for y := range side {
		for x := rest; x < side-rest; x++ {
			for i, k := range kernel {
				rows[y][x] += raw[y][x+i-rest] * k / sum
			}
		}
	}
	for y := range patch {
		for x := range patch {
			for i, k := range kernel {
				to.level[y][x] += rows[y+i][x+rest] * k / sum
			}
			to.level[y][x] += noise * r.NormFloat64()
		}
	}
}

// at is the brightness at a place, between pixels.
func (s *shot) at(p dot) float64 {
	x, y := p[0]-float64(s.left)-0.5, p[1]-float64(s.top)-0.5
	x, y = min(max(x, 0), patch-1.001), min(max(y, 0), patch-1.001)
	i, j := int(x), int(y)
	x, y = x-float64(i), y-float64(j)
	l := &s.level
	return (1-y)*((1-x)*l[j][i]+x*l[j][i+1]) + y*((1-x)*l[j+1][i]+x*l[j+1][i+1])
}

// edge is where, along a line through a place, the brightness changes most: the middle of the change, weighed by its steepness.
// The eye takes a breadth of three lines together, and knows on which side it is brighter: for the rim outside, for a card inside.
func (s *shot) edge(around, along dot, reach float64) dot {
	side := dot{-along[1], along[0]}
	level := func(t float64) (sum float64) {
		for b := -1.0; b <= 1; b++ {
			sum += s.at(dot{around[0] + t*along[0] + b*side[0], around[1] + t*along[1] + b*side[1]}) / 3
		}
		return sum
	}
	best, where := 0.0, 0.0
	for t := -reach; t <= reach; t += 0.5 {
		if d := level(t+2) - level(t-2); d > best {
			best, where = d, t
		}
	}
	sum, moment := 0.0, 0.0
	for t := where - 3; t <= where+3; t += 0.5 {
		d := max(0, level(t+0.5)-level(t-0.5))
		sum, moment = sum+d, moment+d*t
	}
	t := where
	if sum > 0 {
		t = moment / sum
	}
	return dot{around[0] + t*along[0], around[1] + t*along[1]}
}

// stretch is the middle of a piece of a card's or a tube's edge that begins some pixels from a place along it, found inward.
func (s *shot) stretch(near, along, inward dot, from float64) (mid dot) {
	for k := range 3 {
		far := from + 1.5*float64(k)
		p := s.edge(dot{near[0] + far*along[0], near[1] + far*along[1]}, inward, 5)
		mid[0], mid[1] = mid[0]+p[0]/3, mid[1]+p[1]/3
	}
	return mid
}

// line is an edge beside a corner, by two stretches of it.
func (s *shot) line(near, along, inward dot) [2]dot {
	return [2]dot{s.stretch(near, along, inward, 4), s.stretch(near, along, inward, 8)}
}

// square to a direction, on the side of another.
func square(to, side dot) dot {
	if to[0]*side[1]-to[1]*side[0] > 0 {
		return dot{-to[1], to[0]}
	}
	return dot{to[1], -to[0]}
}

// meet is where two lines meet, each given by two points.
func meet(p, q [2]dot) dot {
	ax, ay, bx, by := p[1][0]-p[0][0], p[1][1]-p[0][1], q[1][0]-q[0][0], q[1][1]-q[0][1]
	t := ((q[0][0]-p[0][0])*by - (q[0][1]-p[0][1])*bx) / (ax*by - ay*bx)
	return dot{p[0][0] + t*ax, p[0][1] + t*ay}
}

func toward(from, to dot) dot {
	l := from.off(to)
	return dot{(to[0] - from[0]) / l, (to[1] - from[1]) / l}
}

// hand is a place as a finger sets it under a loupe: 1.5 px off in each direction.
func hand(r *rand.Rand, p dot) dot {
	return dot{p[0] + 1.5*r.NormFloat64(), p[1] + 1.5*r.NormFloat64()}
}

// around are six directions, about as somebody picks them, and where the rim is in each.
func (s scene) around(r *rand.Rand) (angles []float64, rim []dot) {
	first := even(r, 0, math.Pi/3)
	for i := range 6 {
		angles = append(angles, first+float64(i)*math.Pi/3+even(r, -0.2, 0.2))
		rim = append(rim, s.rim(angles[i]))
	}
	return angles, rim
}

// readRim is the rim as a hand finds it in shots of its places.
func readRim(r *rand.Rand, shots []shot, angles []float64, places []dot) (rim []dot) {
	for i, angle := range angles {
		rim = append(rim, hand(r, shots[i].edge(places[i], dot{math.Cos(angle), math.Sin(angle)}, 5)))
	}
	return rim
}

// marked is what somebody finds in the picture of a scene: the card's corners and points on the bubble's rim, read off the pixels.
func (s scene) marked(r *rand.Rand) (marks [4]dot, rim []dot) {
	if s.round > 0 {
		return s.markedRound(r)
	}
	var places []dot
	for _, c := range s.corners() {
		places = append(places, s.sees(c))
	}
	angles, at := s.around(r)
	shots := s.take(r, append(places, at...))
	for i := range marks {
		next, before := toward(places[i], places[(i+1)%4]), toward(places[i], places[(i+3)%4])
		marks[i] = hand(r, meet(shots[i].line(places[i], next, square(next, before)), shots[i].line(places[i], before, square(before, next))))
	}
	return marks, readRim(r, shots[4:], angles, at)
}

// markedRound is the same of a card with round corners: each edge is found beside them, and a mark is where two of them would meet.
func (s scene) markedRound(r *rand.Rand) (marks [4]dot, rim []dot) {
	corners := s.corners()
	var places []dot // of each corner, two on the edge to the next, two on the edge to the one before
	for i, c := range corners {
		for _, to := range [2]vec{corners[(i+1)%4], corners[(i+3)%4]} {
			along := to.add(c, -1).unit()
			places = append(places, s.sees(c.add(along, s.round+1.5)), s.sees(c.add(along, s.round+5)))
		}
	}
	angles, at := s.around(r)
	shots := s.take(r, append(places, at...))
	for i := range marks {
		var edges [2][2]dot
		other := [2]dot{toward(places[4*i+2], places[4*i+3]), toward(places[4*i], places[4*i+1])}
		for e := range edges {
			k := 4*i + 2*e
			along := toward(places[k], places[k+1])
			for m := range 2 {
				edges[e][m] = shots[k+m].stretch(places[k+m], along, square(along, other[e]), -1.5)
			}
		}
		marks[i] = hand(r, meet(edges[0], edges[1]))
	}
	return marks, readRim(r, shots[16:], angles, at)
}

// besideTube lays a tube instead of the card, its axis in the card's plane and the bubble up to 8 mm before it; a hand finds two points on either
// edge of it, and the rim.
func (s scene) besideTube(r *rand.Rand) (marks [4]dot, rim []dot, tube float64) {
	tube = []float64{4, 6, 6.35, 8, 10, 12}[r.IntN(6)]
	var places [4]dot
	for in := false; !in; {
		turn := even(r, 0, 2*math.Pi)
		side, along := s.right.turned(s.up, turn+math.Pi/2), s.right.turned(s.up, turn)
		start := s.base.add(s.up, -s.height).add(side, even(r, -3, 3)).add(along, s.radius+1)
		s.pipe = pipe{start, along, tube / 2, even(r, 0.75, 0.95)}
		in = true
		for i, far := range [2]float64{even(r, 2, 6), even(r, 12, 20)} {
			places[i], places[2+i] = s.edges(start.add(along, far), along, tube/2)
			in = in && inside(places[i], 20) && inside(places[2+i], 20)
		}
	}
	angles, at := s.around(r)
	shots := s.take(r, append(places[:], at...))
	for i, place := range places {
		along, over := toward(places[i&2], places[i&2+1]), toward(place, places[(i+2)%4])
		marks[i] = hand(r, shots[i].stretch(place, along, square(along, over), -1.5))
	}
	return marks, readRim(r, shots[4:], angles, at), tube
}

// edges are where the sight grazes a tube: seen along its axis, two tangents from a point to a circle.
func (s scene) edges(at, along vec, radius float64) (one, two dot) {
	off := at.add(along, -at.dot(along))
	d := math.Sqrt(off.dot(off))
	side := along.cross(off.unit())
	foot := at.add(off.unit(), -radius*radius/d)
	half := radius * math.Sqrt(1-radius*radius/(d*d))
	return s.sees(foot.add(side, half)), s.sees(foot.add(side, -half))
}
