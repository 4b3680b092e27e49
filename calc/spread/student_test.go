package spread_test

import (
	"fmt"
	"math"
	"testing"

	"jointwalk/calc/spread"
	"jointwalk/testdata/published"
	"pgregory.net/rapid"
)

func TestStudentPublished(t *testing.T) {
	for _, c := range published.Cases(t, "t95-") {
		c.Check(t, spread.Student{Scale: 1, DoF: c.In(t, "v")}.Quantile(0.975))
	}
}

// simpson integrates f from 0 to the end in 2000 double steps.
func simpson(end float64, f func(float64) float64) float64 {
	const n = 4000
	sum := f(0) - f(end)
	for i := 1; i <= n; i += 2 {
		sum += 4*f(end*float64(i)/n) + 2*f(end*float64(i+1)/n)
	}
	return sum * end / (3 * n)
}

// studentBelow integrates the density, apart from all that the quantile uses.
// With t = √ν sinh s the density is cosh^−ν s over its own integral.
func studentBelow(dof, t float64) float64 {
	density := func(s float64) float64 { return math.Exp(-dof * math.Log(math.Cosh(s))) }
	all := simpson(40/dof+2, density)
	if dof > 100 {
		all = simpson(12/math.Sqrt(dof), density)
	}
	return 0.5 + simpson(math.Asinh(t/math.Sqrt(dof)), density)/(2*all)
}

func TestStudentUndoesItsDistribution(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		dof := math.Exp(rapid.Float64Range(math.Log(0.4), math.Log(3000)).Draw(t, "ln ν"))
		p := rapid.Float64Range(1e-4, 1-1e-4).Draw(t, "p")
		d := spread.Student{Location: 5, Scale: 2, DoF: dof}
		if got := studentBelow(dof, (d.Quantile(p)-5)/2); math.Abs(got-p) > 1e-9 {
			t.Fatalf("ν = %v: %v lies below the quantile of %v", dof, got, p)
		}
	})
}

// With 1, 2 and 4 degrees of freedom the quantile is a formula. Derived: the
// distribution function is ½ + arctan(t)/π with 1, ½ + t/(2√(2+t²)) with 2, and
// with 4 the cosine's triple angle solves it.
func TestStudentClosedForms(t *testing.T) {
	for _, p := range []float64{1e-6, 1e-3, 0.025, 0.3, 0.49, 0.77, 0.999} {
		a := 4 * p * (1 - p)
		q := 4 * math.Cos(math.Acos(math.Sqrt(a))/3) / math.Sqrt(a)
		for dof, want := range map[float64]float64{
			1: math.Tan(math.Pi * (p - 0.5)),
			2: (2*p - 1) / math.Sqrt(2*p*(1-p)),
			4: math.Copysign(math.Sqrt(q-4), p-0.5),
		} {
			close(t, fmt.Sprint(dof, " at ", p), spread.Student{Scale: 1, DoF: dof}.Quantile(p), want, 1e-9)
		}
	}
}

func TestStudentBecomesNormal(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := rapid.Float64Range(1e-5, 1-1e-5).Draw(t, "p")
		dof := math.Exp(rapid.Float64Range(math.Log(200), math.Log(1e9)).Draw(t, "ln ν"))
		z := spread.Normal{SD: 1}.Quantile(p)
		got := spread.Student{Scale: 1, DoF: dof}.Quantile(p)
		// The first term of the expansion is all that is left to a thousandth.
		if want := z * (1 + (z*z+1)/(4*dof)); math.Abs(got-want) > 1e-12+60*math.Abs(z)/(dof*dof) {
			t.Fatalf("ν = %v, p = %v: %v, want about %v", dof, p, got, want)
		}
		if got := (spread.Student{Location: 1, Scale: 3, DoF: math.Inf(1)}).Quantile(p); got != 1+3*z {
			t.Fatalf("unlimited degrees of freedom give %v, the normal distribution %v", got, 1+3*z)
		}
	})
}

// No step where one way of working it out takes over from another.
func TestStudentHasNoStep(t *testing.T) {
	for _, dof := range []float64{2, 1000} {
		for _, p := range []float64{1e-6, 1e-3, 0.1, 0.4} {
			below := spread.Student{Scale: 1, DoF: dof * (1 - 1e-13)}.Quantile(p)
			close(t, fmt.Sprint(dof, " at ", p), below, spread.Student{Scale: 1, DoF: dof}.Quantile(p), 1e-10)
		}
	}
}

func TestStudentEdges(t *testing.T) {
	if got := (spread.Student{Location: 3, DoF: 4}).Quantile(0.1); got != 3 {
		t.Errorf("without scale the quantile is %v", got)
	}
	if got := (spread.Student{Location: 3, Scale: 1, DoF: 4}).Quantile(0.5); got != 3 {
		t.Errorf("the median is %v", got)
	}
	// Next to no degrees of freedom: far beyond what a number can hold.
	if got := (spread.Student{Scale: 1, DoF: 0.001}).Quantile(0.001); !math.IsInf(got, -1) {
		t.Errorf("a tail without end gives %v", got)
	}
	for _, dof := range []float64{0, -1, math.NaN()} {
		func() {
			defer func() {
				if recover() == nil {
					t.Errorf("%v degrees of freedom went through", dof)
				}
			}()
			spread.Student{Scale: 1, DoF: dof}.Quantile(0.2)
		}()
	}
}

// Five readings of mean 10 and deviation 0.2: where the quantity read lies.
func ExampleStudent() {
	var s spread.Source
	d := spread.Student{Location: 10, Scale: 0.2 / math.Sqrt(5), DoF: 4}
	f := spread.Summary[float64](s.Draw(d))
	fmt.Printf("%.2f (%.2f to %.2f)\n", f.Median, f.Lo, f.Hi)
	// Output: 10.00 (9.75 to 10.25)
}
