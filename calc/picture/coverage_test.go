package picture_test

import (
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"jointwalk/calc/picture"
	"jointwalk/calc/quantity"
)

// tally is how a band of pictures was measured.
type tally struct {
	n, in int
	off   []float64 // of the diameter, as a share
	u     float64
}

func (c *tally) take(m picture.Measured, truth float64) {
	of := m.Size.Distribution()
	c.n++
	if of.Quantile(0.025) <= truth && truth <= of.Quantile(0.975) {
		c.in++
	}
	c.off = append(c.off, float64(m.Size.Diameter)/truth-1)
	c.u += float64(m.Size.U) / truth
}

// median error: of what the reading is off, without its sign; and the median with its sign.
func (c *tally) median() (size, signed float64) {
	signs := slices.Sorted(slices.Values(c.off))
	sizes := make([]float64, len(signs))
	for i, off := range signs {
		sizes[i] = math.Abs(off)
	}
	slices.Sort(sizes)
	return sizes[len(sizes)/2], signs[len(signs)/2]
}

func points(of []dot) (out []picture.Point) {
	for _, p := range of {
		out = append(out, picture.Point{X: p[0], Y: p[1]})
	}
	return out
}

func card(marks [4]dot, rim []dot) picture.Picture {
	return picture.Picture{
		Width: wide, Height: high, Long: picture.CardLong, Short: picture.CardShort,
		Marks: [4]picture.Point(points(marks[:])), Rim: points(rim),
	}
}

// Pictures of a card and a bubble, rendered with all that a phone does to them and read off by a hand: in each band of tilts 95 % intervals hold
// the true diameter, and the error stays small up to a tilt of 30°. Beyond, up to 45°, a looser error is held, and some pictures are refused.
// Half of the cards have round corners.
func TestPicturesHoldTheTrueDiameter(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(6, 42))
	n := 0
	for _, b := range []band{{0, 10, 0.03, 0.93, 0}, {10, 20, 0.03, 0.93, 0}, {20, 30, 0.03, 0.93, 2}, {30, 45, 0.04, 0.93, 20}} {
		n += b.measure(t, r, "card", 140, byCard).n
	}
	if n < 400 {
		t.Errorf("only %d pictures", n)
	}
}

// Beside a tube the scale is short and the tilt unknown: the error is larger, and the interval holds it up to a tilt of 30°. Beyond it is too narrow.
func TestBesideATubeTheIntervalHoldsToo(t *testing.T) {
	t.Parallel()
	r := rand.New(rand.NewPCG(7, 42))
	for _, b := range []band{{0, 10, 0.05, 0.93, 0}, {10, 20, 0.05, 0.93, 0}, {20, 30, 0.05, 0.93, 0}, {30, 45, 0.065, 0.8, 1}} {
		b.measure(t, r, "tube", 72, byTube)
	}
}

func byCard(s scene, r *rand.Rand) picture.Picture { return card(s.marked(r)) }

func byTube(s scene, r *rand.Rand) picture.Picture {
	marks, rim, tube := s.besideTube(r)
	p := card(marks, rim)
	p.Long, p.Short, p.Tube = 0, 0, quantity.Length(tube/1000)
	return p
}

// band of tilts, in degrees, with the most that the median error may be, the least share that the intervals may hold, and how many pictures may
// be refused.
type band struct {
	low, high, median, held float64
	refused                 int
}

func (b band) measure(t *testing.T, r *rand.Rand, scale string, pictures int, look func(scene, *rand.Rand) picture.Picture) (c tally) {
	refused := 0
	for range pictures {
		s := sceneOf(r, b.low*math.Pi/180, b.high*math.Pi/180)
		if m, err := look(s, r).Measure(); err == nil {
			c.take(m, 2*s.radius/1000)
		} else if refused++; refused > b.refused {
			t.Errorf("%s, tilt %.1f°: %v", scale, s.tilt*180/math.Pi, err)
		}
	}
	c.report(t, fmt.Sprintf("%s, tilt %v to %v°, %d refused", scale, b.low, b.high, refused), b)
	return c
}

func (c *tally) report(t *testing.T, what string, b band) {
	size, signed := c.median()
	t.Logf("%s: %d of %d hold it, median error %.2f %% (with its sign %+.2f %%), mean u %.2f %%",
		what, c.in, c.n, 100*size, 100*signed, 100*c.u/float64(c.n))
	if size > b.median {
		t.Errorf("%s: median error %.2f %%", what, 100*size)
	}
	if share := float64(c.in) / float64(c.n); share < b.held {
		t.Errorf("%s: %.1f %% hold the true diameter", what, 100*share)
	}
}

func wants(t *testing.T, p picture.Picture, code, field string) {
	t.Helper()
	_, err := p.Measure()
	var fault *quantity.Fault
	if !errors.As(err, &fault) || fault.Code != code || fault.Field != field {
		t.Errorf("%v, want %s of %s", err, code, field)
	}
}
