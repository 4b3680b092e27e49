package fit

import "math"

// inverse is R⁻¹ of the factorisation of the weighted gradients of a curve at the
// readings, a column a parameter, into orthogonal columns times a triangle R.
// Times itself, transposed, it is the covariance of the parameters for readings
// of uncertainty 1. Its columns are handed back as rows.
func (r readings) inverse(parameters int, gradient func(x float64) []float64) [][]float64 {
	columns, inverse := make([][]float64, parameters), make([][]float64, parameters)
	for i, x := range r.x {
		for j, g := range gradient(x) {
			columns[j] = append(columns[j], g*r.w[i])
		}
	}
	for j, column := range columns {
		inverse[j] = make([]float64, parameters)
		inverse[j][j] = 1
		for i := range j {
			part := dot(columns[i], column)
			subtract(column, part, columns[i])
			subtract(inverse[j], part, inverse[i])
		}
		length := math.Sqrt(dot(column, column))
		scale(column, 1/length)
		scale(inverse[j], 1/length)
	}
	return inverse
}

// uncertainty is that of Σ g p for parameters p, with a gradient g.
func uncertainty(inverse [][]float64, unit float64, gradient ...float64) float64 {
	sum := 0.0
	for _, row := range inverse {
		part := dot(row, gradient)
		sum += part * part
	}
	return unit * math.Sqrt(sum)
}

func dot(a, b []float64) (sum float64) {
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

func subtract(a []float64, times float64, b []float64) {
	for i := range a {
		a[i] -= times * b[i]
	}
}

func scale(a []float64, times float64) {
	for i := range a {
		a[i] *= times
	}
}
