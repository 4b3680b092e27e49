package gum_test

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/gum"
	"jointwalk/calc/quantity"
	"pgregory.net/rapid"
)

// What is known of means and deviations without their formulas: moving the
// readings moves the mean alone, stretching them stretches both; RMS² is
// mean² + (n−1)/n SD².
func TestObservedLaws(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOfN(rapid.Float64Range(-5, 5), 2, 20).Draw(t, "readings")
		before, err := gum.Observe(list)
		if err != nil {
			t.Fatal(err)
		}
		moved := make([]float64, len(list))
		for i, v := range list {
			moved[i] = 3*v + 100
		}
		after, _ := gum.Observe(moved)
		n := float64(len(list))
		for what, pair := range map[string][2]float64{
			"mean": {after.Mean, 3*before.Mean + 100}, "deviation": {after.SD, 3 * before.SD}, "of the mean": {after.U(), 3 * before.U()},
			"rms": {after.RMS * after.RMS, after.Mean*after.Mean + (n-1)/n*after.SD*after.SD},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-10*(1+math.Abs(pair[1])) {
				t.Fatalf("%s: %v, want %v", what, pair[0], pair[1])
			}
		}
	})
}

// The uncertainty of a sum worked out from correlated means is that of the list of sums.
func TestTogetherIsLikeTheReadingsThemselves(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := rapid.IntRange(2, 12).Draw(t, "n")
		draw := func(name string) []float64 { return rapid.SliceOfN(rapid.Float64Range(-5, 5), n, n).Draw(t, name) }
		a, b, sums := draw("a"), draw("b"), make([]float64, n)
		for i := range sums {
			sums[i] = a[i] + 2*b[i]
		}
		m, err := gum.Together([]string{"a", "b"}, a, b)
		if err != nil {
			t.Fatal(err)
		}
		r, err := m.Linear(m.Inputs[0].Value+2*m.Inputs[1].Value, []float64{1, 2})
		if err != nil {
			t.Fatal(err)
		}
		want, _ := gum.Observe(sums)
		if math.Abs(r.Value-want.Mean) > 1e-12 || math.Abs(r.U*r.U-want.U()*want.U()) > 1e-10 {
			t.Fatalf("%v ± %v, the sums themselves %v ± %v", r.Value, r.U, want.Mean, want.U())
		}
		if r.U > 1e-6 && math.Abs(r.DoF-want.DoF()) > 1e-9 {
			t.Fatalf("%v degrees of freedom, want %v", r.DoF, want.DoF())
		}
	})
}

func TestReadingsAllAlike(t *testing.T) {
	m, err := gum.Together([]string{"a", "b"}, []float64{0.1, 0.1, 0.1}, []float64{1, 2, 4})
	if err != nil {
		t.Fatal(err)
	}
	if m.Inputs[0].U != 0 || m.R[0][1] != 0 {
		t.Errorf("what does not scatter has uncertainty %v and correlation %v", m.Inputs[0].U, m.R[0][1])
	}
}

func TestWelchIsSignedAndSymmetric(t *testing.T) {
	a, b := gum.Observed{N: 5, Mean: 10, SD: 1}, gum.Observed{N: 9, Mean: 12, SD: 3}
	there, dof, err := gum.Welch(a, b)
	back, same, err2 := gum.Welch(b, a)
	if err != nil || err2 != nil || there != -back || math.Abs(dof-same) > 1e-12 {
		t.Errorf("%v with %v, and back %v with %v: %v, %v", there, dof, back, same, err, err2)
	}
	within(t, "t", there, -2/math.Sqrt(1.0/5+9.0/9), 1e-12)
	var fault *quantity.Fault
	if _, _, err := gum.Welch(gum.Observed{N: 2, Mean: 1}, gum.Observed{N: 2, Mean: 2}); !errors.As(err, &fault) || fault.Code != gum.CodeNoScatter {
		t.Errorf("readings without scatter: %v", err)
	}
}

// Three readings of a zero: mean, deviation and what the mean is worth.
func ExampleObserve() {
	o, err := gum.Observe([]float64{0.31, 0.28, 0.34})
	fmt.Printf("%.3f ± %.3f with %.0f degrees of freedom %v\n", o.Mean, o.U(), o.DoF(), err)
	// Output: 0.310 ± 0.017 with 2 degrees of freedom <nil>
}

// Voltage and current of a source that drifts: read together they rise
// together, and their ratio is known better than either tells.
func ExampleTogether() {
	m, err := gum.Together([]string{"voltage", "current"}, []float64{10.0, 10.2, 10.4, 10.6}, []float64{2.0, 2.04, 2.09, 2.11})
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := m.Evaluate(func(x []float64) float64 { return x[0] / x[1] })
	fmt.Printf("r = %.2f, ratio %.3f ± %.3f %v\n", m.R[0][1], r.Value, r.U, err)
	// Output: r = 0.99, ratio 5.000 ± 0.010 <nil>
}

// Two rounds of readings of the same part: do they differ?
func ExampleWelch() {
	before, _ := gum.Observe([]float64{2.31, 2.28, 2.34, 2.30})
	after, _ := gum.Observe([]float64{2.12, 2.25, 2.19, 2.16})
	t, dof, err := gum.Welch(before, after)
	fmt.Printf("t = %.1f with %.1f degrees of freedom %v\n", t, dof, err)
	// Output: t = 4.2 with 4.2 degrees of freedom <nil>
}
