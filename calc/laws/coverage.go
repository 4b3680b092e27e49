package laws

import (
	"math"
	"math/rand/v2"
	"testing"

	"jointwalk/calc/estimate"
)

// leaks is how many are simulated: chance moves the share of hits by 0.7 % (one standard deviation).
const leaks = 1000

// Coverage draws true leaks with their observations and asks that the stated 95 % interval holds the truth, in mol/s, in 93 to
// 97 % of them. Intervals of half and of twice the width must not: so the test can fail. What draws shares nothing with the
// calculation but the types in which readings are handed over; it says false where too little could be seen.
func Coverage(t *testing.T, seed uint64, draw func(*rand.Rand) (truth float64, seen Observation, ok bool)) {
	t.Helper()
	r := rand.New(rand.NewPCG(seed, 1601))
	var stated, half, twice int
	for n := 0; n < leaks; {
		truth, seen, ok := draw(r)
		if !ok {
			continue
		}
		n++
		e, err := seen.Estimate()
		if err != nil {
			t.Fatalf("%+v: %v", seen, err)
		}
		stated += holds(e, truth, 1)
		half += holds(e, truth, 0.5)
		twice += holds(e, truth, 2)
	}
	share := func(hits int) float64 { return 100 * float64(hits) / leaks }
	t.Logf("stated %.1f %%, half %.1f %%, twice %.1f %%", share(stated), share(half), share(twice))
	if share(stated) < 93 || share(stated) > 97 {
		t.Errorf("the interval holds the truth in %.1f %%", share(stated))
	}
	if share(half) > 93 || share(twice) < 97 {
		t.Errorf("this test cannot fail: half %.1f %%, twice %.1f %%", share(half), share(twice))
	}
}

// holds is 1 when the interval, stretched on the logarithmic scale, holds the truth.
func holds(e estimate.Estimate, truth, stretch float64) int {
	m := float64(e.Molar.Median)
	low, high := m*math.Pow(float64(e.Molar.Lo)/m, stretch), m*math.Pow(float64(e.Molar.Hi)/m, stretch)
	if low <= truth && truth <= high {
		return 1
	}
	return 0
}

// Between draws evenly on a logarithmic scale.
func Between(r *rand.Rand, low, high float64) float64 {
	return low * math.Exp(r.Float64()*math.Log(high/low))
}

// Off is a true value as it was read, wrong by a normal share of it, and the standard uncertainty that is said.
func Off(r *rand.Rand, truth, share float64) (read, u float64) {
	read = truth * (1 + share*r.NormFloat64())
	return read, share * read
}

// Weather draws an ambient: pascals and kelvins.
func Weather(r *rand.Rand) (pascal, kelvin float64) {
	return 80e3 + 23e3*r.Float64(), 283 + 25*r.Float64()
}
