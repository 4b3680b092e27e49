package spread

import "math"

// Part is what one input contributes to the width of a result.
type Part struct {
	// Input is the input's name.
	Input string
	// Percent of the variance of the logarithm of the result, 0 to 100.
	Percent float64
}

// Varied is the logarithm of a result as one input alone makes it vary.
type Varied struct {
	Input string
	Logs  Sample
}

// Budget is who makes a result wide: the variance of its logarithm by each input, in percent of their sum, in the given
// order. For a product of powers the sum is exact, because logarithms of factors add and the inputs are independent. All
// percents are zero when nothing varies. The second result is the standard deviation of the logarithm of the result.
func Budget(all []Varied) ([]Part, float64) {
	parts := make([]Part, len(all))
	total := 0.0
	for i, v := range all {
		_, sd := v.Logs.Moments()
		parts[i] = Part{Input: v.Input, Percent: sd * sd}
		total += sd * sd
	}
	for i := range parts {
		if total > 0 {
			parts[i].Percent *= 100 / total
		}
	}
	return parts, math.Sqrt(total)
}
