package spread

import (
	"math"
	"slices"
)

// Part is what one input contributes to the width of a result.
type Part struct {
	// Input is the input's name.
	Input string
	// Percent of the variance of the logarithm of the result, 0 to 100.
	Percent float64
}

// Factor is one input of a product, raised to a power.
type Factor struct {
	Input string
	Power float64
	// Sample holds values above zero.
	Sample Sample
}

// Product is the product of all factors at every point, times a constant.
func Product(constant float64, factors []Factor) Sample {
	product := Constant(constant)
	for _, f := range factors {
		for i, x := range f.Sample {
			product[i] *= power(x, f.Power)
		}
	}
	return product
}

// power avoids math.Pow, whose last bits differ between processors.
func power(x, n float64) float64 {
	switch n {
	case 1:
		return x
	case -1:
		return 1 / x
	case 3:
		return x * x * x
	default:
		return math.Pow(x, n)
	}
}

// Budget is who makes a product wide: the variance of each factor's logarithm,
// times the square of its power, in percent of their sum, in the given order.
// The sum is exact because logarithms of factors add and the inputs are
// independent. All percents are zero when nothing varies. The second result is
// the standard deviation of the logarithm of the product.
func Budget(factors []Factor) ([]Part, float64) {
	parts := make([]Part, len(factors))
	total := 0.0
	for i, f := range factors {
		v := f.Power * f.Power * logVariance(f.Sample)
		parts[i] = Part{Input: f.Input, Percent: v}
		total += v
	}
	for i := range parts {
		if total > 0 {
			parts[i].Percent *= 100 / total
		}
	}
	return parts, math.Sqrt(total)
}

// logVariance is the variance of ln s.
func logVariance(s Sample) float64 {
	if slices.Min(s) == slices.Max(s) {
		return 0
	}
	logs := make(Sample, len(s))
	for i, v := range s {
		logs[i] = math.Log(v)
	}
	_, sd := logs.Moments()
	return sd * sd
}
