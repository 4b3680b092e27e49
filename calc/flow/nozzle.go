package flow

import (
	"math"

	"jointwalk/calc/quantity"
)

// Coefficient is the flow coefficient Cf of an ideal nozzle (40 CFR 1065.642 with x = p2/p1):
//
//	Cf² = 2k/(k−1) · (1 − x^((k−1)/k)) · x^(2/k)/(1 − β⁴ x^(2/k))
//
// At a ratio x at or below the critical one the throat is choked: the ratio no longer matters, and Cf is that of the critical
// ratio (40 CFR 1065.640). A k that is not above 1, a beta outside [0, 1) or a ratio outside [0, 1] is a caller's mistake.
func Coefficient(k, beta, ratio float64) float64 {
	if !(ratio >= 0 && ratio <= 1) {
		panic("flow: a ratio of pressures is from 0 to 1")
	}
	x := max(ratio, Critical(k, beta))
	square := math.Pow(x, 2/k)
	fall := -math.Expm1((k - 1) / k * math.Log(x))
	return math.Sqrt(2 * k / (k - 1) * fall * square / (1 - fourth(beta)*square))
}

// Critical is the ratio p2/p1 at and below which a throat is choked: the x of
//
//	x^((1−k)/k) + (k−1)/2 · β⁴ x^(2/k) = (k+1)/2    (40 CFR 1065.640)
//
// which for β = 0 is (2/(k+1))^(k/(k−1)), 0.528 for air. p1 is the pressure of the gas as it moves in the bore before the
// throat. Caller's mistakes as Coefficient.
func Critical(k, beta float64) float64 {
	if !(k > 1) || math.IsInf(k, 0) || !(beta >= 0 && beta < 1) {
		panic("flow: a heat ratio is above 1 and a ratio of diameters from 0 to under 1")
	}
	low, high := math.Pow(2/(k+1), k/(k-1)), 1.0
	if beta == 0 {
		return low
	}
	for range 60 { // the left side falls with x; 60 halvings exhaust a float64
		x := (low + high) / 2
		if math.Pow(x, (1-k)/k)+(k-1)/2*fourth(beta)*math.Pow(x, 2/k) > (k+1)/2 {
			low = x
		} else {
			high = x
		}
	}
	return low
}

// CriticalTemperature is that in a choked throat, 2 T/(k+1), T being that of the gas at rest. A k that is not above 1 is a
// caller's mistake.
func CriticalTemperature(rest quantity.Temperature, k float64) quantity.Temperature {
	if !(k > 1) {
		panic("flow: a heat ratio is above 1")
	}
	return 2 * rest / quantity.Temperature(k+1)
}

func fourth(x float64) float64 { return x * x * x * x }
