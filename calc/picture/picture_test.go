package picture_test

import (
	"math"
	"math/big"
	"testing"

	"jointwalk/calc/picture"
	"jointwalk/calc/quantity"
)

// circle are n points on a circle.
func circle(x, y, radius float64, n int) (out []picture.Point) {
	for i := range n {
		sin, cos := math.Sincos(0.4 + 2*math.Pi*float64(i)/float64(n))
		out = append(out, picture.Point{X: x + radius*cos, Y: y + radius*sin})
	}
	return out
}

// straightOn is a card seen straight on, ten pixels a millimetre, and a circle of 5 mm.
func straightOn() picture.Picture {
	return picture.Picture{
		Width: 1600, Height: 1200, Long: picture.CardLong, Short: picture.CardShort,
		Marks: [4]picture.Point{{X: 300, Y: 300}, {X: 1156, Y: 300}, {X: 1156, Y: 839.8}, {X: 300, Y: 839.8}},
		Rim:   circle(800, 600, 25, 4),
	}
}

func measured(t *testing.T, p picture.Picture) picture.Measured {
	t.Helper()
	m, err := p.Measure()
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// By hand: 50 pixels at 10 pixels a millimetre are 5 mm in the card's plane. The bubble is taken to stand 4 mm before
// it, with the camera at 1600/1.2/10 = 133.3 mm, and the hand to make the square of its radius larger by 1.5 · 1.5²:
// 0.2 · √(625 − 3.375) · (1 − 4/133.3) = 4.8369 mm.
const byHand = 4.8368873

func TestStraightOnByHand(t *testing.T) {
	m := measured(t, straightOn())
	if got := float64(m.Size.Diameter) * 1000; math.Abs(got-byHand) > 1e-6 {
		t.Errorf("%.6f mm", got)
	}
	if math.Abs(m.Cosine-1) > 1e-9 {
		t.Errorf("tilted, cosine %v", m.Cosine)
	}
	for _, at := range m.Outline {
		if d := math.Hypot(at.X-800, at.Y-600); math.Abs(d-math.Sqrt(621.625)) > 1e-9 {
			t.Errorf("the outline passes at %v pixels", d)
		}
	}
	sum := 0.0
	for _, part := range m.Budget {
		sum += part.Percent
	}
	if math.Abs(sum-100) > 1e-9 {
		t.Errorf("parts of %v %%", sum)
	}
}

// By hand: a tube of 6 mm drawn 60 pixels wide is taken to be 0.4 wider on either side, 10.1333 pixels a millimetre and the camera at 131.58 mm; half
// a sphere whose tilt nobody knows is taken to be 2 % larger than its circle: 2 · √621.625/10.1333 · (1 − 4/131.58) · 1.02 = 4.866701 mm.
func TestBesideATubeByHand(t *testing.T) {
	p := straightOn()
	p.Long, p.Short, p.Tube = 0, 0, 6e-3
	for _, marks := range [][4]picture.Point{
		{{X: 700, Y: 500}, {X: 800, Y: 500}, {X: 700, Y: 560}, {X: 790, Y: 560}},
		{{X: 700, Y: 500}, {X: 800, Y: 500}, {X: 790, Y: 560}, {X: 700, Y: 560}},
	} {
		p.Marks = marks
		if got := float64(measured(t, p).Size.Diameter) * 1000; math.Abs(got-4.866701) > 1e-6 {
			t.Errorf("%.6f mm", got)
		}
	}
}

// Whichever corner comes first, and whichever way round: the same.
func TestCornersBeginAnywhere(t *testing.T) {
	want := measured(t, straightOn()).Size
	for i := range 8 {
		p := straightOn()
		for k := range p.Marks {
			at := (i + k) % 4
			if i >= 4 {
				at = (i + 4 - k) % 4
			}
			p.Marks[k] = straightOn().Marks[at]
		}
		if got := measured(t, p).Size; math.Abs(float64(got.Diameter-want.Diameter)) > 1e-12 || math.Abs(float64(got.U-want.U)) > 1e-9 {
			t.Errorf("from corner %d: %v, want %v", i, got, want)
		}
	}
}

// The size of a bubble seen at a slant without noise, in the middle of the picture and off it, against the world's own geometry: only what is not
// known of its form is left.
func TestGeometryAloneIsExactButForTheForm(t *testing.T) {
	for degrees := 0.0; degrees <= 40; degrees += 5 {
		for _, at := range [][2]float64{{0, 0}, {55, 0}, {-40, 35}, {20, -45}} {
			s := slanted(degrees*math.Pi/180, at)
			m := measured(t, s.seen())
			if off := float64(m.Size.Diameter)*1000/5 - 1; math.Abs(off) > 0.005 {
				t.Errorf("tilt %v°, place %v: %+.2f %% off", degrees, at, 100*off)
			}
			if want := -s.base.unit().dot(s.up); math.Abs(m.Cosine-want) > 0.01 {
				t.Errorf("tilt %v°, place %v: cosine %v, want %v", degrees, at, m.Cosine, want)
			}
		}
	}
}

// slanted is a card in the middle of the picture, tilted, and a bubble of 5 mm that far from the card's middle.
func slanted(tilt float64, at [2]float64) scene {
	s := scene{camera: camera{focal: wide / 1.2}, radius: 2.5, height: 4}
	axis := vec{0.6, 0.8, 0}
	s.right, s.down, s.up = vec{1, 0, 0}.turned(axis, tilt), vec{0, 1, 0}.turned(axis, tilt), vec{0, 0, -1}.turned(axis, tilt)
	s.corner = vec{0, 0, 150}.add(s.right, -cardLong/2).add(s.down, -cardShort/2)
	s.base = vec{0, 0, 150}.add(s.right, at[0]).add(s.down, at[1]).add(s.up, s.height)
	return s
}

// seen is what a hand that never errs finds of it.
func (s scene) seen() picture.Picture {
	var marks [4]dot
	for i, c := range s.corners() {
		marks[i] = s.sees(c)
	}
	var rim []dot
	for i := range 8 {
		rim = append(rim, s.rim(0.2+float64(i)*math.Pi/4))
	}
	return card(marks, rim)
}

// What cannot be measured has its reason.
func TestWhatCannotBeMeasured(t *testing.T) {
	change := func(do func(*picture.Picture)) picture.Picture {
		p := straightOn()
		do(&p)
		return p
	}
	wants(t, change(func(p *picture.Picture) { p.Marks[1], p.Marks[2] = p.Marks[2], p.Marks[1] }), picture.CodeCrossed, "scale")
	wants(t, change(func(p *picture.Picture) { p.Marks[1] = p.Marks[0] }), picture.CodeCrossed, "scale")
	wants(t, change(func(p *picture.Picture) { p.Marks[0] = picture.Point{X: 800, Y: 600} }), picture.CodeCrossed, "scale")
	wants(t, change(func(p *picture.Picture) { // half as high as it should be: 65°
		p.Marks[2].Y, p.Marks[3].Y = 528, 528
		p.Rim = circle(800, 400, 25, 4)
	}), picture.CodeTilted, "scale")
	wants(t, change(func(p *picture.Picture) { p.Rim = circle(800, 1450, 25, 4) }), picture.CodeFar, "rim")
	wants(t, change(func(p *picture.Picture) { p.Rim = circle(800, 600, 2, 4) }), picture.CodeVague, "rim")
	wants(t, change(func(p *picture.Picture) { p.Rim = []picture.Point{{X: 1, Y: 1}, {X: 1, Y: 1}, {X: 1, Y: 1}} }), picture.CodeVague, "rim")
	wants(t, change(func(p *picture.Picture) { p.Rim = p.Rim[:2] }), quantity.CodeRange, "rim")
	wants(t, change(func(p *picture.Picture) { p.Rim[0].X = math.NaN() }), quantity.CodeNotANumber, "rim")
	wants(t, change(func(p *picture.Picture) { p.Marks[0].Y = math.Inf(1) }), quantity.CodeNotANumber, "scale")
	wants(t, change(func(p *picture.Picture) { p.Long = 0 }), quantity.CodeNotPositive, "scale")
	wants(t, change(func(p *picture.Picture) { p.Width = 0 }), quantity.CodeNotPositive, "picture")
	tube := change(func(p *picture.Picture) { p.Long, p.Short, p.Tube = 0, 0, 6e-3 })
	tube.Marks = [4]picture.Point{{X: 700, Y: 500}, {X: 800, Y: 560}, {X: 700, Y: 560}, {X: 800, Y: 500}}
	wants(t, tube, picture.CodeCrossed, "scale")
	tube.Marks = [4]picture.Point{{X: 700, Y: 500}, {X: 800, Y: 500}, {X: 700, Y: 540}, {X: 800, Y: 580}}
	wants(t, tube, picture.CodeCrossed, "scale")
}

// A picture's own points are not changed by measuring.
func TestMeasuringChangesNothing(t *testing.T) {
	p := straightOn()
	measured(t, p)
	for i, at := range straightOn().Rim {
		if p.Rim[i] != at {
			t.Errorf("point %d moved to %v", i, p.Rim[i])
		}
	}
}

// exactly carries a point by the homography of four corners, by the linear system of eight equations that general-purpose libraries of
// machine vision document for it (two rows a corner, the last coefficient 1), solved in exact fractions.
func exactly(from, to [4]picture.Point, p picture.Point) (x, y float64) {
	n := func(v float64) *big.Rat { return new(big.Rat).SetFloat64(v) }
	var rows [][]*big.Rat
	for i := range from {
		f, g := from[i], to[i]
		rows = append(rows,
			[]*big.Rat{n(f.X), n(f.Y), n(1), n(0), n(0), n(0), n(-f.X * g.X), n(-f.Y * g.X), n(g.X)},
			[]*big.Rat{n(0), n(0), n(0), n(f.X), n(f.Y), n(1), n(-f.X * g.Y), n(-f.Y * g.Y), n(g.Y)})
	}
	for i := range 8 {
		for k := i; rows[i][i].Sign() == 0; k++ {
			rows[i], rows[k] = rows[k], rows[i]
		}
		for k := range 8 {
			if k == i {
				continue
			}
			by := new(big.Rat).Quo(rows[k][i], rows[i][i])
			for j := range 9 {
				rows[k][j] = new(big.Rat).Sub(rows[k][j], new(big.Rat).Mul(by, rows[i][j]))
			}
		}
	}
	c := make([]float64, 9)
	for i := range 8 {
		c[i], _ = new(big.Rat).Quo(rows[i][8], rows[i][i]).Float64()
	}
	w := c[6]*p.X + c[7]*p.Y + 1
	return (c[0]*p.X + c[1]*p.Y + c[2]) / w, (c[3]*p.X + c[4]*p.Y + c[5]) / w
}

// The closed form of the homography against the linear system in exact fractions.
func TestHomographyIsTheLinearSystems(t *testing.T) {
	from := [4]picture.Point{{}, {X: 86}, {X: 86, Y: 54}, {Y: 54}}
	for _, to := range [][4]picture.Point{
		{{X: 300, Y: 300}, {X: 1156, Y: 310}, {X: 1100, Y: 840}, {X: 280, Y: 790}},
		{{X: 745, Y: 133}, {X: 1505, Y: 581}, {X: 1302, Y: 1112}, {X: 355, Y: 729}},
		{{X: 10, Y: 20}, {X: 30, Y: 900}, {X: 700, Y: 640}, {X: 650, Y: 200}},
	} {
		for _, p := range []picture.Point{{}, {X: 43, Y: 27}, {X: -20, Y: 70}, {X: 86, Y: 54}, {X: 100.25, Y: -7.5}} {
			there, again, err := picture.ForTest(86, 54, to, p)
			x, y := exactly(from, to, p)
			if err != nil || math.Hypot(there.X-x, there.Y-y) > 1e-9 || math.Hypot(again.X-p.X, again.Y-p.Y) > 1e-9 {
				t.Errorf("%v came to %v and back to %v, want %v, %v (%v)", p, there, again, x, y, err)
			}
		}
	}
}
