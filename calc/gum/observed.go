package gum

import (
	"math"

	"jointwalk/calc/quantity"
)

// Observed sums up independent readings of one quantity, all in its unit: a type
// A evaluation (JCGM 100:2008, 4.2).
type Observed struct {
	// N is how many readings there are, at least 2.
	N int
	// Mean is q̄ = Σ q/N.
	Mean float64
	// SD is the experimental standard deviation √(Σ (q − q̄)²/(N − 1)).
	SD float64
	// RMS is the root mean square √(Σ q²/N) (40 CFR 1065.602).
	RMS float64
}

// Observe sums readings up. Errors are *quantity.Fault with the field
// "readings": CodeTooFewReadings for fewer than two, "not-a-number".
func Observe(readings []float64) (Observed, error) {
	return observe("readings", readings)
}

func observe(field string, readings []float64) (Observed, error) {
	if len(readings) < 2 {
		return Observed{}, &quantity.Fault{Code: CodeTooFewReadings, Field: field}
	}
	n := float64(len(readings))
	mean, squares := mean(readings), 0.0
	for _, q := range readings {
		squares += q * q / n
	}
	if !finite(squares) {
		return Observed{}, &quantity.Fault{Code: quantity.CodeNotANumber, Field: field}
	}
	sd := math.Sqrt(n * covarianceOfMeans(readings, readings))
	return Observed{N: len(readings), Mean: mean, SD: sd, RMS: math.Sqrt(squares)}, nil
}

// U is the standard uncertainty of the mean, SD/√N.
func (o Observed) U() float64 { return o.SD / math.Sqrt(float64(o.N)) }

// DoF are the degrees of freedom of U, N − 1.
func (o Observed) DoF() float64 { return float64(o.N - 1) }

// Input is the mean as an input of a measurement.
func (o Observed) Input(name string) Input {
	return Input{Name: name, Value: o.Mean, U: o.U(), DoF: o.DoF()}
}

// Together makes a measurement of quantities that were read at the same moments,
// a list of readings for each name: means, and their correlations from
//
//	u(q̄, r̄) = Σ (q − q̄)(r − r̄) / (n (n − 1))   (JCGM 100:2008, 5.2.3 (17))
//
// Errors as Observe, with the quantity's name as the field. Lists of different
// lengths, or another number of names, are a caller's mistake.
func Together(names []string, readings ...[]float64) (Measurement, error) {
	if len(names) != len(readings) {
		panic("gum: one name a list of readings")
	}
	m := Measurement{R: make([][]float64, len(names))}
	for i, list := range readings {
		if len(list) != len(readings[0]) {
			panic("gum: readings taken together are as many of each quantity")
		}
		o, err := observe(names[i], list)
		if err != nil {
			return Measurement{}, err
		}
		m.Inputs = append(m.Inputs, o.Input(names[i]))
	}
	for i := range names {
		m.R[i] = make([]float64, len(names))
		for j := range names {
			m.R[i][j] = correlation(readings, i, j)
		}
	}
	return m, nil
}

// correlation of the means of two lists; one that does not scatter has none.
func correlation(lists [][]float64, i, j int) float64 {
	if i == j {
		return 1
	}
	i, j = min(i, j), max(i, j)
	both := covarianceOfMeans(lists[i], lists[j])
	if both == 0 {
		return 0
	}
	r := both / math.Sqrt(covarianceOfMeans(lists[i], lists[i])) / math.Sqrt(covarianceOfMeans(lists[j], lists[j]))
	return math.Max(-1, math.Min(1, r))
}

// covarianceOfMeans is u(q̄, r̄), and the square of U for a list with itself.
func covarianceOfMeans(q, r []float64) float64 {
	sum, n := 0.0, float64(len(q))
	meanQ, meanR := mean(q), mean(r)
	for i := range q {
		sum += (q[i] - meanQ) * (r[i] - meanR)
	}
	return sum / (n * (n - 1))
}

// mean keeps readings that are all alike exactly.
func mean(list []float64) float64 {
	sum := 0.0
	for _, v := range list {
		sum += v - list[0]
	}
	return list[0] + sum/float64(len(list))
}

// Welch is the t statistic of the difference of two means whose scatter need not
// be alike, (a − b)/√(s_a²/n_a + s_b²/n_b), and its degrees of freedom by the
// formula of Welch and Satterthwaite (40 CFR 1065.602, which takes it without
// its sign). It is significant with 95 % where |t| is above Result.Factor's or
// spread.Student's t for these degrees of freedom. Errors are *quantity.Fault:
// CodeNoScatter with the field "readings" when neither scatters, and those of
// Linear.
func Welch(a, b Observed) (t, dof float64, err error) {
	m := Measurement{Inputs: []Input{a.Input("a"), b.Input("b")}}
	difference, err := m.Linear(a.Mean-b.Mean, []float64{1, -1})
	switch {
	case err != nil:
		return 0, 0, err
	case difference.U == 0:
		return 0, 0, &quantity.Fault{Code: CodeNoScatter, Field: "readings"}
	}
	return difference.Value / difference.U, difference.DoF, nil
}
