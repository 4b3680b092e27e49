package gum

import (
	"math"
	"slices"

	"jointwalk/calc/quantity"
)

// Correlate is the correlation coefficient of two results of the same
// measurement, −1 to 1: their covariance Σ_i Σ_j a_i b_j u_i u_j r_ij
// (JCGM 100:2008, H.2) over the product of their uncertainties; 0 when one of
// them has none. Results with another number of inputs are a caller's mistake.
func (m Measurement) Correlate(a, b Result) float64 {
	if len(a.Budget) != len(m.Inputs) || len(b.Budget) != len(m.Inputs) {
		panic("gum: only results of this measurement can be correlated")
	}
	if a.U == 0 || b.U == 0 {
		return 0
	}
	_, covariance := m.shares(coefficients(a), coefficients(b))
	return math.Max(-1, math.Min(1, covariance/(a.U*b.U)))
}

// coefficients are those of a result's budget.
func coefficients(r Result) []float64 {
	c := make([]float64, len(r.Budget))
	for i, p := range r.Budget {
		c[i] = p.Coefficient
	}
	return c
}

// shares are a_i u_i Σ_j r_ij b_j u_j for every input i, and their sum.
func (m Measurement) shares(a, b []float64) (shares []float64, sum float64) {
	shares = make([]float64, len(a))
	for i := range a {
		for j := range b {
			shares[i] += a[i] * m.Inputs[i].U * m.r(i, j) * b[j] * m.Inputs[j].U
		}
		sum += shares[i]
	}
	return shares, sum
}

// r is the correlation coefficient of two inputs.
func (m Measurement) r(i, j int) float64 {
	switch {
	case len(m.R) > 0:
		return m.R[i][j]
	case i == j:
		return 1
	}
	return 0
}

// effective are the effective degrees of freedom, after Welch and Satterthwaite.
// The formula is for independent inputs, so those that are correlated with each
// other enter as one, with the least degrees of freedom among them: exact for the
// means of readings taken together.
func (m Measurement) effective(budget []Part) float64 {
	groups := m.groups()
	percents, least := make([]float64, len(budget)), make([]float64, len(budget))
	for i, p := range budget {
		g := groups[i]
		percents[g] += p.Percent
		if in := m.Inputs[i]; in.DoF > 0 && p.U > 0 {
			least[g] = math.Max(least[g], 1/in.DoF)
		}
	}
	sum := 0.0
	for g, p := range percents {
		sum += p * p * least[g]
	}
	return 100 * 100 / sum
}

// groups give every input the number of the first input that it is correlated
// with, directly or by way of others.
func (m Measurement) groups() []int {
	group := make([]int, len(m.Inputs))
	for i := range group {
		group[i] = i
		for j := range i {
			if m.r(i, j) != 0 && group[j] != group[i] {
				join(group[:i+1], group[i], group[j])
			}
		}
	}
	return group
}

// join makes one group of two, under the smaller number.
func join(group []int, a, b int) {
	for i, g := range group {
		if g == a || g == b {
			group[i] = min(a, b)
		}
	}
}

// checkCorrelation is nil when R is absent, or symmetric with a diagonal of 1 and
// no negative variances. Another size than the inputs' is a caller's mistake.
func (m Measurement) checkCorrelation() error {
	for _, row := range m.R {
		if len(m.R) != len(m.Inputs) || len(row) != len(m.Inputs) {
			panic("gum: a correlation matrix has a row and a column an input")
		}
	}
	if !symmetric(m.R) || !semidefinite(m.R) {
		return &quantity.Fault{Code: CodeCorrelation, Field: "correlation"}
	}
	return nil
}

// symmetric tells whether a matrix mirrors itself across a diagonal of ones.
func symmetric(r [][]float64) bool {
	for i, row := range r {
		for j := range i {
			if row[j] != r[j][i] {
				return false
			}
		}
		if row[i] != 1 {
			return false
		}
	}
	return true
}

// tiny is how far rounding may carry a variance below zero.
const tiny = 1e-10

// semidefinite tells whether a symmetric matrix of ones on the diagonal gives no
// combination a variance below zero: moved up by tiny, all pivots of its
// elimination are positive.
func semidefinite(r [][]float64) bool {
	left := make([][]float64, len(r))
	for i := range r {
		left[i] = slices.Clone(r[i])
		left[i][i] += tiny
	}
	for k := range left {
		pivot, row := left[k][k], left[k][k+1:]
		if !(pivot > 0) {
			return false
		}
		for i, e := range row {
			for j := range row {
				left[k+1+i][k+1+j] -= e * row[j] / pivot
			}
		}
	}
	return true
}
